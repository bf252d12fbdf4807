import { type ClothToBuy, withOtherLots } from '../../../src/cut-plan/cures.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { knownCures, knownPlan } from '../../cut-plans/answers.ts';
import type { PlanDesk } from '../../cut-plans/desk.ts';
import type { Reader } from '../../database/book.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { tierNamesOf } from '../../garments/tier/view.ts';
import { garmentPath } from '../../kit/paths.ts';
import { type SellingOf, soldLength } from '../../short/selling.ts';
import { type CureContext, type CureView, sayCureEffect, shapeCure } from './cure-words.ts';
import { type DyeableJob, dyeingCure, readDyeingFor } from './dyeing.ts';
import { WISHES } from './holding.ts';
import type { PlanNeed } from './need.ts';

/** First the plan; once it is known, what it could be otherwise, and what would cure it where it is short. */
export function askPlanAndCures(desk: PlanDesk, need: CurableNeed, sellingOf: SellingOf): void {
  const { job } = need;
  desk.askPlan(job);
  const plan = knownPlan(job)?.plan;
  if (!plan) return;
  if (plan.lays.length > 0)
    for (const wish of WISHES) if (wish !== 'least length') desk.askAlternative(job, wish);
  if (plan.missingStrips === 0) return;
  desk.askCures(job, boltFor(need, sellingOf).bolt);
  for (const other of curingJobs(need)) desk.askPlan(other);
}

/** Cloth that could be bought for a need, as it is sold; null where no length would do. */
function boltFor({ line, share }: PlanNeed, sellingOf: SellingOf): { bolt: ClothToBuy | null; said: string } {
  const { cloth, shade } = line;
  const neededTicks = share.short.oneLotTicks;
  const selling = sellingOf({ clothId: cloth.id, shadeId: shade.id }, neededTicks);
  const { stepTicks, leastTicks, said } = selling;
  if (neededTicks === null) return { bolt: null, said };
  const mostTicks = soldLength(neededTicks, selling) + stepTicks;
  const widthTicks = cloth.usableWidthTicks;
  return { bolt: { pieceId: 0, lotId: 0, widthTicks, stepTicks, leastTicks, mostTicks }, said };
}

/** A need with what else there is that might cure its plan; null where there is none, and where no plan is short. */
export interface CurableNeed extends PlanNeed {
  /** undyed cloth beside */
  readonly dyeing: DyeableJob | null;
  /** the job with lots beside that do not match what is cut */
  readonly mixed: PlanJob | null;
}

export function readCurable(reader: Reader, need: PlanNeed): CurableNeed {
  if (!knownPlan(need.job)?.plan.missingStrips) return { ...need, dyeing: null, mixed: null };
  return {
    ...need,
    dyeing: readDyeingFor(reader, need.line, need.job),
    mixed: withOtherLots(need.job, need.share.free),
  };
}

/** Other jobs whose plans tell what would cure a short one. */
export function curingJobs({ dyeing, mixed }: CurableNeed): PlanJob[] {
  return [...(dyeing ? [dyeing.job] : []), ...(mixed ? [mixed] : [])];
}

interface CureAsked {
  readonly units: Units;
  readonly sellingOf: SellingOf;
  /** whether strips of its cloth may be turned: one with a way or a pattern lets none be */
  readonly turns: boolean;
  /** the plans with lays that straddle flaws */
  readonly straddleHref: string;
}

/** What would cure a short plan, each worked out by planning it so: what costs least first, buying last. */
export function shapeCures(
  garment: Garment,
  need: CurableNeed,
  { units, sellingOf, turns, straddleHref }: CureAsked,
): CureView[] {
  const { job, line, share, dyeing } = need;
  const short = knownPlan(job)?.plan;
  if (!short || short.missingStrips === 0) return [];
  const nameOf = tierNamesOf(garment);
  const tierName = (kindId: number) => nameOf(share.need.demands[kindId]?.tierId ?? 0);
  const hrefs = {
    garment: garmentPath(garment.code),
    order: '/orders/new?from=short',
    straddle: straddleHref,
  };
  const { bolt, said } = boltFor(need, sellingOf);
  const context = { job, short, units, tier: tierName, hrefs };
  const known = (knownCures(job, bolt) ?? [])
    .filter(({ kind }) => turns || kind !== 'either way round')
    .map((cure) => shapeCure(cure, context));
  const mixed = mixedCure(need, context);
  const dyed = dyeing ? dyeingCure(dyeing, line, context, units) : null;
  const fresh = share.short.cutStrips > 0 && share.need.lots !== 'any';
  const apart = (cure: CureView): CureView =>
    fresh ? { ...cure, effect: `${cure.effect} What is cut already is of another lot.` } : cure;
  // Buying costs most and stands last.
  const bought = known.filter(({ what }) => what.startsWith('Buy '));
  return [
    ...(mixed ? [mixed] : []),
    ...known.filter((cure) => !bought.includes(cure)),
    ...(dyed ? [apart(dyed)] : []),
    ...bought.map(apart).map((cure) => ({ ...cure, effect: `${cure.effect} ${said}` })),
  ];
}

/** Free cloth of lots that do not match what is cut, where it would help. */
function mixedCure({ mixed }: CurableNeed, context: CureContext): CureView | null {
  const plan = mixed ? knownPlan(mixed)?.plan : null;
  if (!plan || plan.missingStrips >= context.short.missingStrips) return null;
  return {
    what: 'Let strips come from any lots, beside what is cut already',
    effect: sayCureEffect(plan, context),
    shortStrips: plan.missingStrips,
    link: { text: 'Lots in the tiers', href: context.hrefs.garment },
  };
}
