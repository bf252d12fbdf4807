import { type AlternativePlan, MOST_MORE_BP } from '../../../src/cut-plan/alternative.ts';
import { type Cure, clothToBuyFor } from '../../../src/cut-plan/cures.ts';
import { comparePlans } from '../../../src/cut-plan/plan.ts';
import { withBoundOf } from '../../../src/cut-plan/plan-bound.ts';
import type { CutPlan } from '../../../src/cut-plan/planner.ts';
import type { PlanAndWhy, Planner } from '../../cut-plans/planner.ts';
import { Refusal } from '../../refusal.ts';
import type { QuickAsked } from './form.ts';

/** The plan that is shown, the one that takes least, and what else was worked out. */
export interface QuickAnswer extends PlanAndWhy {
  readonly least: CutPlan;
  readonly alternative: (AlternativePlan & { readonly wish: NonNullable<QuickAsked['wish']> }) | null;
  readonly cures: readonly Cure[];
}

/** Has a quick plan made, then another where a wish was made, and its cures found where it is short. */
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
          () => planner.alternative(request, { kind: 'alternative', wish, ...task }),
          `A plan with the ${wish}`,
        )
      : null;
  const wished = found === null ? first : withBoundOf(found.plan, first);
  // Looking for the wish may come upon a plan that takes less than any before.
  const least = comparePlans(wished, first) < 0 ? wished : first;
  const wantsCures = asked.cures && least.missingStrips > 0 && !signal.aborted;
  const cures = wantsCures
    ? await orSay(
        () =>
          planner.cures(request, { kind: 'cures', short: least, bolt: clothToBuyFor(job, shopStepTicks) }),
        'Ways to fix it',
      )
    : null;
  return {
    plan: wished,
    stopped: said.join(' '),
    least,
    alternative: found === null || wish === null ? null : { ...found, wish },
    cures: cures ?? [],
  };
}
