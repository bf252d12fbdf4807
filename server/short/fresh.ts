import type { PlanJob } from '../../src/cut-plan/job.ts';
import { USUAL_WAYS } from '../../src/cut-plan/stock.ts';
import { lengthToCut } from '../../src/fit.ts';
import type { StripDemand } from '../../src/need.ts';
import { knownPlan } from '../cutting-table/plan/answers.ts';
import type { Share } from './sharing.ts';

/** Strips that are short, of all shares together. */
export function missingOf<G>(shares: readonly Share<G>[]): StripDemand[] {
  return shares.flatMap(({ need, short }) =>
    need.demands.map((demand, i) => ({ ...demand, count: short.shortOf[i]?.count ?? 0 })),
  );
}

/**
 * What the planner is asked to learn how little fresh cloth gives some strips, in steps of the shop; null where the sum
 * of drops is exact, as for strips of one size, or where no length would do.
 */
export function freshJob(
  missing: readonly StripDemand[],
  widthTicks: number,
  stepTicks: number,
): PlanJob | null {
  const wanted = missing.filter(({ count }) => count > 0);
  const sizes = new Set(wanted.map(({ lengthTicks, depthTicks }) => `${lengthTicks} ${depthTicks}`));
  const handTicks = lengthToCut(wanted, widthTicks);
  if (sizes.size < 2 || handTicks === null) return null;
  const kinds = wanted.map(({ lengthTicks, depthTicks, direction, count }, kindId) => ({
    kindId,
    lengthTicks,
    depthTicks,
    direction,
    count,
    lots: 'any' as const,
    group: 1,
  }));
  const lengthTicks = Math.ceil(handTicks / stepTicks) * stepTicks;
  const bolt = { pieceId: 0, lotId: 0, widthTicks, lengthTicks, flaws: [], count: 1 };
  const pieces = [{ ...bolt, buying: { stepTicks, leastTicks: 0 } }];
  return { kinds, pieces, meets: [], ...USUAL_WAYS, usefulTicks: 0, stacks: true, seed: 1 };
}

/** The length of fresh cloth for some strips: as planned where that is known and less, else drop by drop. */
export function freshLength(
  missing: readonly StripDemand[],
  widthTicks: number,
  stepTicks: number,
): { readonly ticks: number | null; readonly isPlanned: boolean; readonly job: PlanJob | null } {
  const handTicks = lengthToCut(missing, widthTicks);
  const job = freshJob(missing, widthTicks, stepTicks);
  const plan = job ? knownPlan(job)?.plan : null;
  if (handTicks !== null && plan && plan.missingStrips === 0 && plan.chargedTicks <= handTicks) {
    return { ticks: plan.chargedTicks, isPlanned: true, job };
  }
  return { ticks: handTicks, isPlanned: false, job };
}
