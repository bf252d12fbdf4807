import type { Buying, PlanJob } from '../../src/cut-plan/job.ts';
import { USUAL_WAYS } from '../../src/cut-plan/stock.ts';
import { lengthToCut } from '../../src/fit/strips.ts';
import type { StripDemand } from '../../src/garment/need.ts';
import { knownPlan } from '../cut-plans/answers.ts';
import { type Selling, soldLength } from './selling.ts';

/**
 * What the planner is asked to learn how little fresh cloth gives some strips, as it is sold; null where the sum of
 * drops is exact, as for strips of one size, or where no length would do.
 */
function freshJob(
  missing: readonly StripDemand[],
  widthTicks: number,
  { stepTicks, leastTicks }: Buying,
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
  const lengthTicks = Math.ceil(Math.max(handTicks, leastTicks) / stepTicks) * stepTicks;
  const bolt = { pieceId: 0, lotId: 0, widthTicks, lengthTicks, flaws: [], count: 1 };
  const pieces = [{ ...bolt, buying: { stepTicks, leastTicks } }];
  return { kinds, pieces, meets: [], ...USUAL_WAYS, usefulTicks: 0, stacks: true, seed: 1 };
}

/** Fresh cloth for some strips: what is needed, and what is got, which is as much or more. In ticks. */
export interface Fresh {
  /** null where a strip is longer than the usable width */
  readonly ticks: number | null;
  readonly neededTicks: number | null;
  readonly isPlanned: boolean;
  /** what the planner is asked for it; null where nothing need be asked */
  readonly job: PlanJob | null;
  readonly selling: Selling;
}

/** The length of fresh cloth for some strips: as planned where that is known and less, else drop by drop. */
export function freshLength(
  missing: readonly StripDemand[],
  widthTicks: number,
  sellingFor: (neededTicks: number | null) => Selling,
): Fresh {
  const handTicks = lengthToCut(missing, widthTicks);
  const selling = sellingFor(handTicks);
  const job = freshJob(missing, widthTicks, selling);
  const plan = job ? knownPlan(job)?.plan : null;
  const soldTicks = handTicks === null ? null : soldLength(handTicks, selling);
  if (soldTicks !== null && plan && plan.missingStrips === 0 && plan.chargedTicks <= soldTicks) {
    return { ticks: plan.chargedTicks, neededTicks: plan.usedTicks, isPlanned: true, job, selling };
  }
  return { ticks: soldTicks, neededTicks: handTicks, isPlanned: false, job, selling };
}
