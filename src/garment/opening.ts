/** How the opening of a garment goes through its tiers. Lengths in ticks. */
import { openingThrough } from './parts/closing.ts';
import { type HungTier, tierDropsOf } from './tier-drops.ts';

/** What becomes of a tier that the opening goes through: two ends that are finished, a seam left unsewn, or none. */
export const OPENING_WAYS = ['finished', 'unsewn', 'closed'] as const;
export type OpeningWay = (typeof OPENING_WAYS)[number];

/** A ring, a band with two ends, or a ring that is open above: as it is cut and sewn. */
export type SewnClosing = 'ring' | 'open' | 'partly';

/** What holds an opening closed. */
export const FASTENINGS = ['hooks', 'snaps', 'buttons', 'zip', 'lacing', 'ties'] as const;
export type Fastening = (typeof FASTENINGS)[number];

/** What the opening makes of a tier. */
export interface TierOpening {
  readonly closing: SewnClosing;
  /** how far down its finished depth it is open: 0 of a ring, all of it of an open band */
  readonly openTicks: number;
  /** turned in at each end; nothing where a seam is only left unsewn */
  readonly endTicks: number;
  /** true where a seam is left unsewn, false where the ends are finished or there are none */
  readonly unsewn: boolean;
}

interface OpenableTier extends HungTier {
  readonly closing: 'ring' | 'open';
  readonly endTicks: number;
  /** finished unless said */
  readonly openingWay?: OpeningWay;
}

/**
 * What an opening of a depth below the waist makes of each tier, by where it hangs: a ring that begins below it stays a
 * ring, one that ends above its foot becomes an open band, one between is open above and closed below (common practice;
 * geometry). A tier that is an open band by itself stays one, and 0 is no opening.
 */
export function openingsOf(openingTicks: number, tiers: readonly OpenableTier[]): Map<number, TierOpening> {
  const drops = openingTicks > 0 ? tierDropsOf(tiers) : new Map();
  return new Map(
    tiers.map((tier): [number, TierOpening] => {
      const { tierId, closing, depthTicks, endTicks, openingWay = 'finished' } = tier;
      const itself = { closing, openTicks: closing === 'open' ? depthTicks : 0, endTicks, unsewn: false };
      const startTicks = drops.get(tierId)?.startTicks;
      if (closing === 'open' || openingWay === 'closed' || startTicks === undefined) return [tierId, itself];
      const through = openingThrough(openingTicks, startTicks, depthTicks);
      if (through.how === 'ring') return [tierId, itself];
      const unsewn = openingWay === 'unsewn';
      return [
        tierId,
        {
          closing: through.how,
          openTicks: through.how === 'open' ? depthTicks : through.openTicks,
          endTicks: unsewn ? 0 : endTicks,
          unsewn,
        },
      ];
    }),
  );
}

/** A tier of a garment that somebody must get into: the length it is sewn onto, and what the opening makes of it. */
export interface PassedTier {
  readonly tierId: number;
  readonly baseTicks: number;
  readonly closing: SewnClosing;
  readonly openTicks: number;
}

/** The most that goes through a tier: its ring, and both sides of what is open of it; null where it is open all through. */
export function mouthOf({ closing, baseTicks, openTicks }: Omit<PassedTier, 'tierId'>): number | null {
  return closing === 'open' ? null : baseTicks + 2 * (closing === 'partly' ? openTicks : 0);
}

/**
 * Tiers that a girth, of hips or shoulders, cannot pass: what is sewn to a base cannot be wider than that base and the
 * two sides of its opening (geometry). Others may still be tight, since cloth does not open out quite flat.
 */
export function notPassing<T extends PassedTier>(
  tiers: readonly T[],
  overTicks: number,
): (T & { readonly mouthTicks: number })[] {
  return tiers.flatMap((tier) => {
    const mouthTicks = mouthOf(tier);
    return mouthTicks === null || mouthTicks >= overTicks ? [] : [{ ...tier, mouthTicks }];
  });
}
