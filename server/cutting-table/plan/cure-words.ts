import type { Cure } from '../../../src/cut-plan/cures.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import type { CutPlan } from '../../../src/cut-plan/planner.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { countOf, listed, wordFor } from '../../kit/words.ts';
import type { WayOn } from '../../refusal.ts';

/** What would cure a short plan, with the effect that was worked out by planning it so. */
export interface CureView {
  readonly what: string;
  readonly effect: string;
  /** strips still uncut then */
  readonly shortStrips: number;
  readonly link: WayOn | null;
}

/** What the words and the ways on need to name. */
export interface CureContext {
  readonly job: PlanJob;
  readonly short: CutPlan;
  readonly units: Units;
  tier(kindId: number): string;
  readonly hrefs: { readonly garment: string; readonly order: string; readonly straddle: string };
}

export function shapeCure(cure: Cure, context: CureContext): CureView {
  const { units } = context;
  const effect = sayCureEffect(cure.plan, context);
  const shortStrips = cure.plan.missingStrips;
  const of = (what: string, link: WayOn | null = null): CureView => ({ what, effect, shortStrips, link });
  switch (cure.kind) {
    case 'lots may meet':
      return of('Let strips come from any lots', { text: 'Lots in the tiers', href: context.hrefs.garment });
    case 'past flaws':
      return of('Let lays straddle flaws, strips beside them', {
        text: 'Plans that straddle flaws',
        href: context.hrefs.straddle,
      });
    case 'either way round':
      return of('Let strips lie either way round: mind nap and stretch', {
        text: 'Directions in the tiers',
        href: context.hrefs.garment,
      });
    case 'shorter strips': {
      const strips = cure.kinds.map(
        ({ kindId, lengthTicks }) => `${context.tier(kindId)} ${showSize(lengthTicks, units, 'down')} long`,
      );
      return of(`Shorter strips, and more of them to sew: ${listed(strips)}`, {
        text: 'Strip lengths in the tiers',
        href: context.hrefs.garment,
      });
    }
    case 'buy':
      return of(`Buy ${showLength(cure.buyTicks, units, 'up')}, in one lot and one piece`, {
        text: 'Order',
        href: context.hrefs.order,
      });
  }
}

/** "All 24 strips can be cut then." or "5 strips short instead of 12." */
export function sayCureEffect(plan: CutPlan, { job, short }: Pick<CureContext, 'job' | 'short'>): string {
  const wanted = job.kinds.reduce((sum, { count }) => sum + count, 0);
  if (plan.missingStrips === 0) return `${sayAllStrips(wanted)} can be cut then.`;
  return `${countOf(plan.missingStrips, 'strip', 'strips')} short then instead of ${short.missingStrips}.`;
}

/** "All 24 strips", "The only strip" */
export function sayAllStrips(wanted: number): string {
  return wordFor(wanted, 'The only strip', `All ${wanted} strips`);
}
