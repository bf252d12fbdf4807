import type { ClothToBuy, Cure } from '../../../src/cut-plan/cures.ts';
import { MOST_PIECES, MOST_TICKS, type PlanJob } from '../../../src/cut-plan/job.ts';
import { MOST_MORE_BP, type Otherwise } from '../../../src/cut-plan/otherwise.ts';
import { type Cutting, comparePlans } from '../../../src/cut-plan/plan.ts';
import { gapAbove } from '../../../src/cut-plan/plan-bound.ts';
import type { CutPlan } from '../../../src/cut-plan/planner.ts';
import type { PlanAndWhy, Planner } from '../../cut-plans/planner.ts';
import { Refusal } from '../../refusal.ts';
import type { QuickAsked } from './form.ts';

/** The plan that is shown, the one that takes least, and what else was worked out. */
export interface QuickAnswer extends PlanAndWhy {
  readonly least: CutPlan;
  readonly otherwise: (Otherwise & { readonly wish: NonNullable<QuickAsked['wish']> }) | null;
  readonly cures: readonly Cure[];
}

/** Has a quick plan made, then otherwise where a wish was made, and its cures found where it is short. */
export async function askQuick(
  planner: Planner,
  asked: QuickAsked,
  shopStepTicks: number,
  signal: AbortSignal,
): Promise<QuickAnswer> {
  const { job, wish } = asked;
  const { plan: first, stopped } = await planner.plan({ job, seconds: asked.seconds, signal });
  const request = { job, seconds: null, signal };
  const said = stopped === '' ? [] : [stopped];
  const orSay = async <T>(work: () => Promise<T>, what: string): Promise<T | null> => {
    try {
      return await work();
    } catch (error) {
      // The plan itself is known, and is shown without what took too long.
      if (!(error instanceof Refusal)) throw error;
      said.push(`${what} was not worked out: ${error.message}`);
      return null;
    }
  };
  const task = { least: first, mostMoreBp: MOST_MORE_BP };
  const found =
    wish !== null && first.lays.length > 0 && !signal.aborted
      ? await orSay(
          () => planner.otherwise(request, { kind: 'otherwise', wish, ...task }),
          `A plan with the ${wish}`,
        )
      : null;
  const wished = found === null ? first : withBoundOf(found.plan, first);
  // Looking for the wish may come upon a plan that takes less than any before.
  const least = comparePlans(wished, first) < 0 ? wished : first;
  const wantsCures = asked.cures && least.missingStrips > 0 && !signal.aborted;
  const cures = wantsCures
    ? await orSay(
        () => planner.cures(request, { kind: 'cures', short: least, bolt: boltFor(job, shopStepTicks) }),
        'Ways to fix it',
      )
    : null;
  return {
    plan: wished,
    stopped: said.join(' '),
    least,
    otherwise: found === null || wish === null ? null : { ...found, wish },
    cures: cures ?? [],
  };
}

/** The bound of the plan that takes least holds for every plan with as few strips uncut and as few lots. */
function withBoundOf(plan: Cutting, { bound }: CutPlan): CutPlan {
  return { ...plan, bound: { ...bound, gapBp: gapAbove(plan.chargedArea, bound.chargedArea) } };
}

/**
 * Cloth as wide as the widest piece, in a lot of its own, bought by the step that shops cut to: as much as all
 * strips take one kind a lay. Null where the plan takes no more pieces, or no width takes every strip.
 */
function boltFor({ kinds, pieces }: PlanJob, stepTicks: number): ClothToBuy | null {
  const widthTicks = Math.max(0, ...pieces.map((piece) => piece.widthTicks));
  const lengths = kinds.map(({ lengthTicks, depthTicks, direction, count }) => {
    const [across, along] = direction === 'along' ? [depthTicks, lengthTicks] : [lengthTicks, depthTicks];
    const beside = Math.floor(widthTicks / across);
    return beside > 0 ? Math.ceil(count / beside) * along : 0;
  });
  const mostTicks = lengths.reduce((sum, ticks) => sum + ticks, 0) + stepTicks;
  if (pieces.length >= MOST_PIECES || mostTicks > MOST_TICKS) return null;
  const pieceId = Math.max(-1, ...pieces.map((piece) => piece.pieceId)) + 1;
  const lotId = Math.max(-1, ...pieces.map((piece) => piece.lotId)) + 1;
  return { pieceId, lotId, widthTicks, stepTicks, leastTicks: stepTicks, mostTicks };
}
