import type { Wish } from '../../src/cut-plan/otherwise.ts';
import type { Cutting } from '../../src/cut-plan/plan.ts';
import type { PlanBound } from '../../src/cut-plan/planner.ts';
import { showLength, type Units } from '../../src/length-show.ts';
import type { Reader } from '../database/book.ts';
import { garmentPath, shortPath } from '../garments/paths.ts';
import { type Garment, readGarment } from '../garments/records.ts';
import { countOf } from '../garments/words.ts';
import { address, clothPath, queryText, shadePath } from '../shelf/address.ts';
import type { Chip } from '../shelf/chip.ts';
import { sayReasons } from '../short/reason-words.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page.ts';
import { mintKey } from '../web/request-key.ts';
import { showDay } from '../when.ts';
import { type CureView, shapeCure } from './cure-words.ts';
import { planPath } from './paths.ts';
import { hashOfJob, knownCures, knownOtherwise, knownPlan } from './plan/answers.ts';
import type { PlanDesk } from './plan/desk.ts';
import { dyeingCure, readDyeingFor } from './plan-dyeing.ts';
import { type PlanFigures, sayPrice, sayWish, shapeFigures } from './plan-figures.ts';
import { type HeldPlanView, shapeHeldPlan } from './plan-held-view.ts';
import { needAnchor, WISHES } from './plan-holding.ts';
import { readPlanNames } from './plan-names.ts';
import { type PlanNeed, readPlanNeeds } from './plan-need.ts';
import { type PlanPieceView, shapePieces } from './plan-view.ts';

/** The cut plans of a garment, one section for each cloth and shade. */
export interface PlanPageData {
  readonly garment: {
    readonly code: string;
    readonly name: string;
    readonly href: string;
    readonly due: string;
  };
  readonly shortHref: string;
  readonly listHref: string;
  /** where the page is drawn again while the planner works; '' where nothing is awaited */
  readonly awaited: string;
  readonly needs: readonly NeedView[];
  /** whether held plans are looked at as given up, to plan anew */
  readonly afresh: boolean;
}

export interface NeedView {
  readonly anchor: string;
  readonly chip: Chip;
  readonly cloth: { readonly name: string; readonly href: string };
  readonly wanted: number;
  readonly cut: number;
  readonly rule: string;
  /** the plan that is held; null where none is, or where it is planned anew */
  readonly held: HeldPlanView | null;
  readonly plans: readonly PlanView[];
  /** what is under way, or why nothing is, in a sentence; '' where all is known */
  readonly working: string;
  readonly stop: PlannerForm | null;
  readonly harder: (PlannerForm & { readonly seconds: readonly number[] }) | null;
  readonly reasons: readonly string[];
  readonly cures: readonly CureView[];
}

/** A form that asks something of the planner about a job. */
interface PlannerForm {
  readonly action: string;
  readonly requestKey: string;
  readonly job: string;
}

export interface PlanView {
  readonly wish: Wish | 'least length';
  readonly title: string;
  /** what it costs against the plan that takes least; '' for that plan itself */
  readonly price: string;
  readonly said: string;
  readonly stopped: string;
  readonly figures: PlanFigures;
  readonly pieces: readonly PlanPieceView[];
  readonly hold: HoldForm | null;
}

export interface HoldForm {
  readonly action: string;
  readonly requestKey: string;
  readonly fields: Readonly<Record<'cloth_id' | 'shade_id' | 'wish' | 'job' | 'again', string>>;
}

const RULES = {
  one: 'All from one lot',
  meet: 'From lots that may meet',
  any: 'From any lots',
} as const;
const SECONDS = [10, 30, 120];

/** The plans of a garment; what is not known yet is asked of the planner, and the page says so. */
export function planPage(reader: Reader, desk: PlanDesk, code: string, query: unknown, asker: Asker): Page {
  const garment = readGarment(reader, code);
  const afresh = queryText(query, 'again') === 'yes';
  const needs = garment.finishedAt === null ? readPlanNeeds(reader, garment, afresh) : [];
  const views = needs.map((need) => shapeNeed(reader, desk, garment, need, { afresh, asker }));
  const data: PlanPageData = {
    garment: {
      code,
      name: garment.name,
      href: garmentPath(code),
      due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    },
    shortHref: shortPath(code),
    listHref: '/cutting-table',
    awaited: needs.some((need) => isAwaited(reader, desk, need)) ? pathAsked(code, afresh) : '',
    needs: views,
    afresh,
  };
  return { view: 'cutting-table/plan', data, title: `Cut plan of ${code}`, room: 'cutting-table' };
}

function pathAsked(code: string, afresh: boolean): string {
  return address(planPath(code), { again: afresh ? 'yes' : '' });
}

function isAwaited(reader: Reader, desk: PlanDesk, { line, job }: PlanNeed): boolean {
  const dyeing = knownPlan(job)?.plan.missingStrips ? readDyeingFor(reader, line, job) : null;
  return desk.isAwaited(job) || (dyeing !== null && desk.isAwaited(dyeing.job));
}

interface Asked {
  readonly afresh: boolean;
  readonly asker: Asker;
}

function shapeNeed(reader: Reader, desk: PlanDesk, garment: Garment, need: PlanNeed, asked: Asked): NeedView {
  const { line, share, held, job } = need;
  const { units } = asked.asker;
  const isHeld = held !== null && !asked.afresh;
  const wantsPlan = job.kinds.length > 0 && job.pieces.length > 0;
  const asks = !isHeld && wantsPlan;
  if (asks) askAll(reader, desk, need, units);
  const known = knownPlan(job);
  const anchor = needAnchor(share.need);
  const action = planPath(garment.code);
  const ids = { action: `${action}/stopped`, requestKey: mintKey(), job: hashOfJob(job) };
  return {
    anchor,
    chip: { colour: line.shade.colour, name: line.shade.name, href: shadePath(line.shade.id) },
    cloth: { name: line.cloth.name, href: clothPath(line.cloth.id) },
    wanted: share.short.wantedStrips,
    cut: share.short.cutStrips,
    rule: RULES[share.need.lots],
    held: isHeld ? shapeHeldPlan(reader, garment, held, units) : null,
    plans: asks ? shapePlans(reader, garment, need, asked) : [],
    working: asks ? sayWorking(desk, need) : '',
    stop: asks && desk.isAwaited(job) ? ids : null,
    harder:
      asks && !desk.isAwaited(job) && (known?.plan.bound.gapBp ?? 1) > 0
        ? { ...ids, action: `${action}/harder`, seconds: SECONDS }
        : null,
    reasons: sayReasons(share, line.lots, units),
    cures: asks ? shapeCures(reader, garment, need, units) : [],
  };
}

/** First the plan; once it is known, what it could be otherwise, and what would cure it where it is short. */
function askAll(reader: Reader, desk: PlanDesk, { line, share, job }: PlanNeed, units: Units): void {
  desk.askPlan(job);
  const plan = knownPlan(job)?.plan;
  if (!plan) return;
  if (plan.lays.length > 0)
    for (const wish of WISHES) if (wish !== 'least length') desk.askOtherwise(job, wish);
  if (plan.missingStrips === 0) return;
  const widthTicks = line.cloth.usableWidthTicks;
  const mostTicks = share.short.oneLotTicks;
  const stepTicks = units.stepTicks;
  const bolt = { pieceId: 0, lotId: 0, widthTicks, stepTicks, leastTicks: stepTicks };
  desk.askCures(job, mostTicks === null ? null : { ...bolt, mostTicks: mostTicks + stepTicks });
  const dyeing = readDyeingFor(reader, line, job);
  if (dyeing) desk.askPlan(dyeing.job);
}

function sayWorking(desk: PlanDesk, need: PlanNeed): string {
  const { job } = need;
  const standing = desk.standing(job);
  const known = knownPlan(job);
  if (standing.is === 'stopped' && !known) return `${standing.why} ${byHand(need)}`;
  if (standing.is === 'asked') {
    const others = desk.asked - 1;
    const after =
      others > 0
        ? ` ${countOf(others, 'other question is', 'other questions are')} being worked on too.`
        : '';
    const seconds =
      standing.seconds === null ? '' : `, for ${countOf(standing.seconds, 'second', 'seconds')}`;
    return known
      ? `The planner is trying harder${seconds}.${after}`
      : `The planner is working${seconds}. ${byHand(need)}${after} This page may be closed: the plan is found here later.`;
  }
  return desk.isAwaited(job)
    ? 'The plan is found; other plans and what would cure it are being worked out.'
    : '';
}

function byHand({ share }: PlanNeed): string {
  return `By the hand rule ${countOf(share.short.shortStrips, 'strip is', 'strips are')} short.`;
}

function shapePlans(reader: Reader, garment: Garment, need: PlanNeed, { afresh, asker }: Asked): PlanView[] {
  const { job } = need;
  const known = knownPlan(job);
  if (!known) return [];
  const { plan, stopped } = known;
  const view = (wish: PlanView['wish'], cutting: Cutting, price: string): PlanView => ({
    wish,
    title: sayWish(wish),
    price,
    said: sayPlan(
      cutting,
      job.kinds.reduce((sum, { count }) => sum + count, 0),
      asker.units,
    ),
    stopped: wish === 'least length' ? stopped : '',
    figures: shapeFigures(cutting, plan.bound as PlanBound, job, asker.units),
    pieces: shapeCuts(reader, garment, need, cutting, asker.units),
    hold:
      cutting.lays.length === 0
        ? null
        : {
            action: planPath(garment.code),
            requestKey: mintKey(),
            fields: {
              cloth_id: String(need.share.need.clothId),
              shade_id: String(need.share.need.shadeId),
              wish,
              job: hashOfJob(job),
              again: afresh ? 'yes' : 'no',
            },
          },
  });
  const others = WISHES.flatMap((wish) => {
    if (wish === 'least length') return [];
    const other = knownOtherwise(job, wish);
    // A wish that changes nothing is granted by the first plan already.
    if (!other || JSON.stringify(other.plan.lays) === JSON.stringify(plan.lays)) return [];
    return [view(wish, other.plan, sayPrice(wish, other, plan, asker.units))];
  });
  return [view('least length', plan, ''), ...others];
}

function sayPlan(plan: Cutting, wanted: number, units: Units): string {
  const pieces = countOf(plan.pieces.length, 'piece', 'pieces');
  const charged = showLength(plan.chargedTicks, units, 'up');
  if (plan.lays.length === 0) return 'No strip can be cut from what there is.';
  const some = wanted - plan.missingStrips;
  return plan.missingStrips === 0
    ? `All ${countOf(wanted, 'strip', 'strips')} can be cut, from ${pieces}: ${charged}.`
    : `${some} of ${countOf(wanted, 'strip', 'strips')} can be cut, from ${pieces}: ${charged}. ${plan.missingStrips} are short.`;
}

function shapeCuts(
  reader: Reader,
  garment: Garment,
  need: PlanNeed,
  plan: Cutting,
  units: Units,
): PlanPieceView[] {
  const { demands } = need.share.need;
  const ids = plan.pieces.map(({ pieceId }) => pieceId);
  const names = readPlanNames(reader, garment, { shadeId: need.line.shade.id, pieceIds: ids, units });
  const lays = plan.lays.map((lay) => ({ lay, state: '' as const }));
  return shapePieces(
    lays,
    { ...names, tier: (kindId) => names.tierNamed(demands[kindId]?.tierId ?? 0) },
    (pieceId) => {
      const use = plan.pieces.find((one) => one.pieceId === pieceId);
      if (!use || use.leftTicks === 0) return 'nothing';
      const left = showLength(use.leftTicks, units, 'down');
      return use.chargedTicks > use.usedTicks ? `${left}, too short to keep` : left;
    },
  );
}

function shapeCures(reader: Reader, garment: Garment, need: PlanNeed, units: Units): CureView[] {
  const { job, line, share } = need;
  const short = knownPlan(job)?.plan;
  if (!short || short.missingStrips === 0) return [];
  const tierName = (kindId: number) => {
    const tierId = share.need.demands[kindId]?.tierId;
    return garment.tiers.find(({ id }) => id === tierId)?.name ?? 'a tier';
  };
  const hrefs = { garment: garmentPath(garment.code), order: '/orders/new?from=short' };
  const context = { job, short, units, tier: tierName, hrefs };
  const dyeing = readDyeingFor(reader, line, job);
  const dyed = dyeing ? dyeingCure(dyeing, line, context, units) : null;
  const cures = (knownCures(job) ?? []).map((cure) => shapeCure(cure, context));
  // Buying costs most and stands last.
  const at = cures.findIndex(({ what }) => what.startsWith('Buy '));
  if (dyed) cures.splice(at < 0 ? cures.length : at, 0, dyed);
  return cures;
}
