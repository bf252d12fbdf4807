import { isProvedBest } from '../../../src/cut-plan/plan-bound.ts';
import type { CuttingWays } from '../../../src/cut-plan/stock.ts';
import { hashOfJob, knownPlan } from '../../cut-plans/answers.ts';
import type { PlanDesk } from '../../cut-plans/desk.ts';
import type { Reader } from '../../database/book.ts';
import { bandsOf, type Garment, readGarment } from '../../garments/garment/records.ts';
import { readClothWays } from '../../garments/garment/worked.ts';
import { address, queryText } from '../../kit/address.ts';
import { clothPath, planPath, shadePath, shortPath, togetherPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { countOf } from '../../kit/words.ts';
import { readLotEvidence } from '../../shelf/lot/store.ts';
import { sayTogether } from '../../shelf/together/how-sure.ts';
import { sayReasons } from '../../short/reason-words.ts';
import { readSelling, type SellingOf } from '../../short/selling.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type LayAtTable, readGarmentAtTable } from '../lay/held-lays.ts';
import { shapeGarmentHead } from '../tier/head.ts';
import { askPlanAndCures, type CurableNeed, curingJobs, readCurable, shapeCures } from './cures.ts';
import { saySearchLonger } from './figures.ts';
import { shapeHeldPlan } from './held-view.ts';
import { shapeHoldAll } from './hold-all.ts';
import { needAnchor } from './holding.ts';
import { type PlanNeed, readPlanNeeds } from './need.ts';
import { shapePlans } from './proposals.ts';

const RULES = {
  one: 'All from one lot',
  meet: 'From matching lots',
  any: 'From any lots',
} as const;
const SECONDS = [10, 30, 120];

/** The plans of a garment; what is not known yet is asked of the planner, and the page says so. */
export function cutPlanPage(
  reader: Reader,
  desk: PlanDesk,
  code: string,
  query: unknown,
  asker: Asker & { readonly today: string },
  refusedCount: Typed = {},
) {
  const garment = readGarment(reader, code);
  const afresh = queryText(query, 'again') === 'yes';
  const flaws = queryText(query, 'flaws') === 'skip' ? 'skip' : 'straddle';
  const open = garment.finishedAt === null ? readPlanNeeds(reader, garment, afresh, flaws) : [];
  const needs = open.map((need) => readCurable(reader, need));
  const clothIds = needs.map(({ line }) => line.cloth.id);
  const sellingOf = readSelling(reader, asker.today, clothIds, asker.units);
  const isHeld = !afresh && needs.some(({ held }) => held !== null);
  const heldLays = isHeld
    ? readGarmentAtTable(reader, code, asker.units).plans.flatMap(({ lays }) => lays)
    : [];
  const asked = { afresh, flaws, asker, sellingOf, heldLays, refusedCount } as const;
  const views = needs.map((need) => shapeNeed(reader, desk, garment, need, asked));
  const awaited = needs.some((need) => isAwaited(desk, need)) ? pathAsked(code, asked) : '';
  const data = {
    garment: shapeGarmentHead(garment),
    shortHref: shortPath(code),
    listHref: '/cutting-table',
    /** where the page is drawn again while the planner works; '' where nothing is awaited */
    awaited,
    needs: views.filter(({ done }) => !done),
    /** needs of which all strips are cut */
    cut: views
      .filter(({ done }) => done)
      .map(({ chip, cloth, wanted }) => ({ chip, cloth: cloth.name, strips: wanted })),
    /** whether held plans are looked at as given up, to plan anew */
    afresh,
    /** how lays go about flaws, and the other way; null where no cloth to plan has any */
    flaws: shapeFlawChoice(code, needs, asked),
    /** holds the first plan of each cloth and shade at once; null where there are not several */
    holdAll: shapeHoldAll(code, views, awaited !== ''),
  };
  return {
    view: 'cutting-table/plan/plan',
    data,
    title: `Cut plan of ${code}`,
    room: 'cutting-table',
  } satisfies Page;
}

function pathAsked(code: string, { afresh, flaws }: Pick<Asked, 'afresh' | 'flaws'>): string {
  return address(planPath(code), { again: afresh ? 'yes' : '', flaws: flaws === 'skip' ? 'skip' : '' });
}

/** The choice is offered where a plan is made from a flawed piece, or where it was made already. */
function shapeFlawChoice(code: string, needs: readonly PlanNeed[], asked: Asked) {
  const { flaws, afresh } = asked;
  const planned = needs.filter(({ held, job }) => (afresh || held === null) && job.kinds.length > 0);
  const isFlawed = planned.some(({ job }) => job.pieces.some((piece) => piece.flaws.length > 0));
  if (flaws === 'straddle' && !isFlawed) return null;
  return flaws === 'straddle'
    ? {
        said: 'A lay may straddle a flaw, its strips beside it.',
        other: { text: 'Skip flaws instead', href: pathAsked(code, { afresh, flaws: 'skip' }) },
      }
    : {
        said: 'No lay straddles a flaw: cloth is skipped to behind it.',
        other: { text: 'Let lays straddle flaws', href: pathAsked(code, { afresh, flaws: 'straddle' }) },
      };
}

function isAwaited(desk: PlanDesk, need: CurableNeed): boolean {
  return desk.isAwaited(need.job) || curingJobs(need).some((job) => desk.isAwaited(job));
}

interface Asked {
  readonly afresh: boolean;
  readonly flaws: CuttingWays['flaws'];
  readonly asker: Asker;
  readonly sellingOf: SellingOf;
  readonly heldLays: readonly LayAtTable[];
  readonly refusedCount: Typed;
}

function sayTogetherOf(reader: Reader, { line }: CurableNeed, garment: Garment): string {
  const evidence = readLotEvidence(
    reader,
    line.lots.map(({ id }) => id),
  );
  return sayTogether(evidence, line.lots, bandsOf(garment));
}

/** A form that asks something of the planner about a job. */
function shapeNeed(reader: Reader, desk: PlanDesk, garment: Garment, need: CurableNeed, asked: Asked) {
  const { line, share, held, job } = need;
  const { sellingOf } = asked;
  const { units } = asked.asker;
  const straddleHref = pathAsked(garment.code, { afresh: asked.afresh, flaws: 'straddle' });
  const isHeld = held !== null && !asked.afresh;
  const wantsPlan = job.kinds.length > 0;
  const asks = !isHeld && wantsPlan;
  if (asks) askPlanAndCures(desk, need, sellingOf);
  const known = knownPlan(job);
  const anchor = needAnchor(share.need);
  const action = planPath(garment.code);
  const ids = { action: `${action}/stopped`, requestKey: mintKey(), job: hashOfJob(job) };
  return {
    anchor,
    /** whether all its strips are cut */
    done: share.short.cutStrips === share.short.wantedStrips,
    chip: { colour: line.shade.colour, name: line.shade.name, href: shadePath(line.shade.id) },
    cloth: { name: line.cloth.name, href: clothPath(line.cloth.id) },
    wanted: share.short.wantedStrips,
    cut: share.short.cutStrips,
    rule: RULES[share.need.lots],
    /** whether the lots may be sewn together, and how sure that is; '' where that is not asked */
    together: share.need.lots === 'any' ? '' : sayTogetherOf(reader, need, garment),
    togetherHref: togetherPath({ clothId: line.cloth.id, shadeId: line.shade.id }, garment.code),
    /** the plan that is held; null where none is, or where it is planned anew */
    held: isHeld ? shapeHeldPlan(reader, garment, held, asked.heldLays, units, asked.refusedCount) : null,
    plans: asks ? shapePlans(reader, garment, need, asked) : [],
    /** what is under way, or why nothing is, in a sentence; '' where all is known */
    working: asks ? sayWorking(desk, need) : '',
    stop: asks && desk.isAwaited(job) ? ids : null,
    harder:
      asks && !desk.isAwaited(job) && !(known && isProvedBest(known.plan))
        ? { ...ids, action: `${action}/harder`, seconds: SECONDS }
        : null,
    /** said before cloth is bought where it is not proved that strips cannot be cut; else '' */
    searchLonger: asks && known ? saySearchLonger(known.plan, known.plan.bound) : '',
    reasons: sayReasons(share, line.lots, units),
    cures: asks
      ? shapeCures(garment, need, {
          units,
          sellingOf,
          turns: readClothWays(reader, [line.cloth.id]).size === 0,
          straddleHref,
        })
      : [],
  };
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
  return desk.isAwaited(job) ? 'The plan is found; other plans and ways to fix it are being worked out.' : '';
}

function byHand({ share }: PlanNeed): string {
  const { shortStrips } = share.short;
  const found = shortStrips === 0 ? 'nothing short' : `${countOf(shortStrips, 'strip', 'strips')} short`;
  return `Quick estimate: ${found}.`;
}
