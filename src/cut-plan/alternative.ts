import type { PlanJob } from './job.ts';
import { type Cutting, differentLays } from './plan.ts';
import { type CutPlan, planCuts } from './planner.ts';
import type { Effort } from './solve.ts';
import { verifyPlan } from './verify.ts';

/** What may matter more than a little cloth: setting out anew less often, or keeping long lengths whole. */
export type Wish = 'fewest lays' | 'longest remnants';

/** Another plan for the same strips, and its price. */
export interface AlternativePlan {
  readonly plan: Cutting;
  /** What it is charged more than the plan that takes least, in square ticks; 0 or more. */
  readonly moreArea: number;
  readonly differentLays: number;
  /** What is left of every piece, cut or not, as far as it is useful; the longest first, in ticks. */
  readonly leftTicks: readonly number[];
}

/** What a wish may cost where nobody says otherwise: a tenth more cloth, in hundredths of a percent. */
export const MOST_MORE_BP = 1000;

const MOST_KEPT_WHOLE = 6;

/**
 * A plan that grants a wish and costs at most `mostMoreBp` (hundredths of a percent of what `least` is charged) more. It
 * leaves no more strips uncut and takes no more lots. Where none is found, it is `least` itself, at no price.
 */
export function planAlternative(
  job: PlanJob,
  least: CutPlan,
  wish: Wish,
  mostMoreBp: number,
  effort: Effort,
): AlternativePlan {
  const mostArea = least.chargedArea + Math.floor((least.chargedArea * mostMoreBp) / 10_000);
  const isAllowed = (plan: Cutting) =>
    plan.missingStrips <= least.missingStrips &&
    plan.lotIds.length <= least.lotIds.length &&
    plan.chargedArea <= mostArea &&
    verifyPlan(job, plan).length === 0;
  const found: Cutting[] = [least];
  const keep = (plan: Cutting) => {
    if (isAllowed(plan)) found.push(plan);
  };
  if (wish === 'fewest lays') {
    // A search that never thinks a plan good enough tries many; each of them may be slit more evenly.
    planCuts(job, { ...effort, onTried: keep });
    for (const coarse of coarserJobs(job)) planCuts(coarse, { ...effort, onTried: keep });
  } else {
    for (const spared of sparedJobs(job)) {
      const plan = planCuts(spared, effort);
      if (plan.missingStrips > least.missingStrips) break;
      keep(plan);
    }
  }
  const best = found.map((plan) => describe(job, plan, least)).sort(wish === 'fewest lays' ? byLays : byLeft);
  return best[0] as AlternativePlan;
}

function describe(job: PlanJob, plan: Cutting, least: CutPlan): AlternativePlan {
  return {
    plan,
    moreArea: Math.max(0, plan.chargedArea - least.chargedArea),
    differentLays: differentLays(plan.lays),
    leftTicks: leftOf(job, plan),
  };
}

function byLays(a: AlternativePlan, b: AlternativePlan): number {
  return (
    a.differentLays - b.differentLays ||
    a.plan.chargedArea - b.plan.chargedArea ||
    a.plan.lays.length - b.plan.lays.length
  );
}

function byLeft(a: AlternativePlan, b: AlternativePlan): number {
  for (let i = 0; i < Math.max(a.leftTicks.length, b.leftTicks.length); i += 1) {
    const more = (b.leftTicks[i] ?? 0) - (a.leftTicks[i] ?? 0);
    if (more !== 0) return more;
  }
  return a.plan.chargedArea - b.plan.chargedArea;
}

function leftOf(job: PlanJob, plan: Cutting): number[] {
  const left = job.pieces
    .filter(({ buying }) => buying === undefined)
    .flatMap((piece) =>
      Array.from({ length: piece.count }, (_, copy) => {
        const use = plan.pieces.find((one) => one.pieceId === piece.pieceId && one.copy === copy);
        return use === undefined ? piece.lengthTicks : use.leftTicks;
      }),
    );
  return left.filter((ticks) => ticks > 0 && ticks >= job.usefulTicks).sort((a, b) => b - a);
}

/** The job without its longest piece, without its two longest, and so on. */
function* sparedJobs(job: PlanJob): Generator<PlanJob> {
  let pieces = job.pieces;
  for (let n = 0; n < MOST_KEPT_WHOLE; n += 1) {
    const longest = Math.max(0, ...pieces.map(({ lengthTicks }) => lengthTicks));
    // Alike pieces keep their first copies, so that the plan's places stay those of the whole job.
    pieces = pieces.flatMap((piece) => {
      if (piece.lengthTicks !== longest) return [piece];
      return piece.count > 1 ? [{ ...piece, count: piece.count - 1 }] : [];
    });
    const spared = { ...job, pieces };
    if (pieces.length === 0) return;
    yield spared;
  }
}

/** The job with a shorter table, down to one strip a column: fewer heights make fewer lays that differ. */
function coarserJobs(job: PlanJob): PlanJob[] {
  return [
    { ...job, stacks: false },
    { ...job, tableTicks: Math.max(1, Math.floor(job.tableTicks / 3)) },
  ];
}
