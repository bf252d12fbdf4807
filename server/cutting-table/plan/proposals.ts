import type { Wish } from '../../../src/cut-plan/alternative.ts';
import type { LayOfPiece } from '../../../src/cut-plan/folds.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import type { Cutting } from '../../../src/cut-plan/plan.ts';
import { isShortProved, type PlanBound } from '../../../src/cut-plan/plan-bound.ts';
import { flawsSeenFrom } from '../../../src/cut-plan/stock.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { hashOfJob, knownAlternative, knownPlan } from '../../cut-plans/answers.ts';
import type { Reader } from '../../database/book.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { readShapedRows } from '../../garments/garment/worked.ts';
import { planPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { countOf } from '../../kit/words.ts';
import type { Asker } from '../../web/house.ts';
import { keepsSpare } from '../lay/held-lays.ts';
import { readTableWays, sayTableMinutes, tableMinutes } from '../lay/table-ways.ts';
import { sayAllStrips } from './cure-words.ts';
import { type PlanFigures, sayWish, sayWishPrice, shapePlanFigures } from './figures.ts';
import { WISHES } from './holding.ts';
import { readPlanNames } from './names.ts';
import type { PlanNeed } from './need.ts';
import { type PlanPieceView, type ShownLay, shapePlanPieces } from './view.ts';

export interface PlanView {
  readonly wish: Wish | 'least length';
  readonly title: string;
  /** what it was made for, in a sentence */
  readonly wished: string;
  /** what it costs against the plan that takes least; '' for that plan itself */
  readonly price: string;
  readonly said: string;
  readonly stopped: string;
  readonly figures: PlanFigures;
  /** what its lays take at the table, stacked and folded as takes least */
  readonly table: string;
  readonly pieces: readonly PlanPieceView[];
  readonly hold: HoldForm | null;
}

export interface HoldForm {
  readonly action: string;
  readonly requestKey: string;
  readonly fields: Readonly<Record<'cloth_id' | 'shade_id' | 'wish' | 'job' | 'again' | 'flaws', string>>;
}

interface Asked {
  readonly afresh: boolean;
  readonly asker: Asker;
}

/** The plan that takes least, then those that grant a wish in another way; none where no plan is known yet. */
export function shapePlans(
  reader: Reader,
  garment: Garment,
  need: PlanNeed,
  { afresh, asker }: Asked,
): PlanView[] {
  const { job } = need;
  const known = knownPlan(job);
  if (!known) return [];
  const { plan, stopped } = known;
  const { clothId } = need.share.need;
  const ways = readTableWays(reader, [clothId])(clothId);
  const view = (wish: PlanView['wish'], cutting: Cutting, price: string): PlanView => ({
    wish,
    title: sayWish(wish),
    wished: sayWished(wish, job, asker.units),
    price,
    said: sayPlan(
      cutting,
      plan.bound,
      job.kinds.reduce((sum, { count }) => sum + count, 0),
      asker.units,
    ),
    stopped: wish === 'least length' ? stopped : '',
    figures: shapePlanFigures(cutting, plan.bound, job, asker.units),
    table:
      cutting.lays.length === 0
        ? ''
        : sayTableMinutes(tableMinutes(laysOfPieces(reader, cutting, need, garment), ways)),
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
              flaws: job.flaws,
            },
          },
  });
  const others = WISHES.flatMap((wish) => {
    if (wish === 'least length') return [];
    const other = knownAlternative(job, wish);
    // A wish that changes nothing is granted by the first plan already.
    if (!other || JSON.stringify(other.plan.lays) === JSON.stringify(plan.lays)) return [];
    return [view(wish, other.plan, sayWishPrice(wish, other, plan, asker.units))];
  });
  return [view('least length', plan, ''), ...others];
}

/** The first plan finishes pieces and remnants, as it says; what a wish costs stands beside it. */
function sayWished(wish: PlanView['wish'], { usefulTicks }: PlanJob, units: Units): string {
  const finishing =
    usefulTicks > 0
      ? `; short pieces are used up before longer ones are begun, where that takes less than ${showLength(usefulTicks, units, 'near')} more from a piece`
      : '';
  return `Planned for: ${sayWish(wish).toLowerCase()}${wish === 'least length' ? finishing : ''}.`;
}

function sayPlan(plan: Cutting, bound: PlanBound, wanted: number, units: Units): string {
  const pieces = countOf(plan.pieces.length, 'piece', 'pieces');
  const charged = showLength(plan.chargedTicks, units, 'up');
  if (plan.lays.length === 0) {
    return isShortProved(plan, bound)
      ? 'No strip can be cut from what there is.'
      : 'No way was found to cut a strip from what there is; not proved.';
  }
  const some = wanted - plan.missingStrips;
  return plan.missingStrips === 0
    ? `${sayAllStrips(wanted)} can be cut, from ${pieces}: ${charged}.`
    : `${some} of ${countOf(wanted, 'strip', 'strips')} can be cut, from ${pieces}: ${charged}. ${countOf(plan.missingStrips, 'is', 'are')} short.`;
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
  const { usefulTicks } = need.job;
  return shapePlanPieces(
    laysToShow(plan, need.job),
    { ...names, usefulTicks, tier: (kindId) => names.tierNamed(demands[kindId]?.tierId ?? 0) },
    (pieceId) => {
      const use = plan.pieces.find((one) => one.pieceId === pieceId);
      if (!use) return 'nothing';
      if (use.leftTicks > 0) return showLength(use.leftTicks, units, 'down');
      // An end that is too short to be useful is charged to the plan.
      const endTicks = use.chargedTicks - use.usedTicks;
      return endTicks > 0 ? `${showLength(endTicks, units, 'down')}, too short to be kept` : 'nothing';
    },
  );
}

/** The lays of a plan as they come to the table. */
function laysOfPieces(
  reader: Reader,
  plan: Cutting,
  { job, share }: PlanNeed,
  garment: Garment,
): LayOfPiece[] {
  const shaped = readShapedRows(reader, garment);
  return laysToShow(plan, job).map(({ lay, leadTicks }) => {
    const { heightTicks, columns } = lay;
    const runs = columns.map((run) => ({
      ...run,
      depthTicks: run.turned ? run.acrossTicks : run.alongTicks,
    }));
    const widthTicks = plan.pieces.find(({ pieceId }) => pieceId === lay.pieceId)?.widthTicks ?? 0;
    return {
      heightTicks,
      runs,
      widthTicks,
      leadTicks,
      isShaped: columns.some(({ kindId }) => shaped.has(share.need.demands[kindId]?.tierId ?? 0)),
      keepsSpare: keepsSpare({ heightTicks, runs }, widthTicks, job.usefulTicks),
    };
  });
}

/** The lays of a plan with the flaws of their pieces; what lies between two of them is cut off before the later one. */
function laysToShow(plan: Cutting, job: PlanJob): ShownLay[] {
  const ends = new Map<number, number>();
  return plan.lays.map((lay) => {
    const { pieceId, fromTicks, heightTicks } = lay;
    const leadTicks = fromTicks - (ends.get(pieceId) ?? 0);
    ends.set(pieceId, fromTicks + heightTicks);
    const flaws = job.pieces.find((piece) => piece.pieceId === pieceId)?.flaws ?? [];
    return { lay, state: '', leadTicks, flaws: flawsSeenFrom(flaws, fromTicks) };
  });
}
