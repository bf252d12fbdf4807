import { sewingOf, type TierSewing } from '../../../src/garment/sewing.ts';
import { commonestShade, type JobWork, workOfJob } from '../../../src/garment/sewing-work.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { type ClothMass, carriedMass, massOfStrips, stripsArea } from '../../../src/garment/weight.ts';
import { ratesOf, type Sewing } from '../../setup/rates/store.ts';
import type { TierRecord } from '../garment/records.ts';
import { type SewnClothFacts, weighedStrips } from './facts.ts';
import { sewnTier } from './sheet.ts';

export interface TierAnswer {
  readonly tier: TierRecord;
  readonly worked: WorkedTier;
  readonly sewing: TierSewing;
  readonly areaTicks2: bigint;
  readonly mass: ClothMass;
  /** itself and all that is sewn on it */
  readonly carries: ClothMass;
  readonly threadShadeId: number;
  readonly jobs: readonly JobWork[];
}

export interface AnswerFacts {
  readonly cloths: ReadonlyMap<number, SewnClothFacts>;
  readonly sewing: Sewing;
  /** chosen shades of thread by tier */
  readonly threads: ReadonlyMap<number, number>;
}

/** What each tier takes besides its strips, from the tiers of a garment that could be worked out. */
export function answersOf(
  tiers: readonly { readonly tier: TierRecord; readonly worked: WorkedTier }[],
  facts: AnswerFacts,
): TierAnswer[] {
  const weighed = tiers.map((one) => ({ ...one, strips: weighedStrips(one.worked, facts.cloths) }));
  const masses = new Map(weighed.map(({ tier, strips }) => [tier.id, massOfStrips(strips)]));
  const carried = carriedMass(
    weighed.map(({ tier }) => ({
      tierId: tier.id,
      onTierId: tier.onTierId,
      ...(masses.get(tier.id) ?? NOTHING),
    })),
  );
  return weighed.map(({ tier, worked, strips }) => {
    const sewing = sewingOf(sewnTier(tier, worked));
    return {
      tier,
      worked,
      sewing,
      areaTicks2: stripsArea(strips),
      mass: masses.get(tier.id) ?? NOTHING,
      carries: carried.get(tier.id) ?? NOTHING,
      threadShadeId: facts.threads.get(tier.id) ?? commonestShade(worked.count.perShade),
      jobs: sewing.jobs.map(({ job, ticks }) =>
        workOfJob(job, ticks, ratesOf(facts.sewing, job), facts.sewing.wasteBp ?? 0),
      ),
    };
  });
}

const NOTHING: ClothMass = { massMg: 0, complete: true };
