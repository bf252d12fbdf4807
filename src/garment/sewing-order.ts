import type { Hangs } from './hanging.ts';
import type { LowerEdge, UpperEdge } from './seams-and-edges.ts';

/** What of a tier its order of work follows from. */
export interface TierToSew {
  readonly tierId: number;
  readonly hangs: Hangs;
  /** On the form and its foundation layer, in ticks from the waist. */
  readonly dropTicks: number | null;
  /** The tier that it edges or lies on. */
  readonly onTierId: number | null;
  /** On a face, in ticks above the lower edge. */
  readonly heightTicks: number | null;
  readonly hemFirst: boolean;
  readonly upperEdge: UpperEdge;
  readonly lowerEdge: LowerEdge;
  /** Whether it is longer flat than what it is sewn on. */
  readonly gathered: boolean;
  /** Whether there is anything to join: more than one strip, or a ring. */
  readonly joined: boolean;
  /** Whether the garment's opening goes through it. */
  readonly opened?: boolean;
}

export type SewingStep =
  | { readonly kind: 'cut' | 'join' | 'opening' | 'lower edge' | 'upper edge' | 'gather' | 'hang' }
  /** Another tier, ready by then, is sewn on this one while it is flat. */
  | { readonly kind: 'sew on'; readonly tierId: number };

/** A tier and the steps that make it, in order. */
export interface TierWork {
  readonly tierId: number;
  readonly steps: readonly SewingStep[];
}

/**
 * The order in which the tiers of a garment are made: what is sewn on a tier is ready before it and goes on while that
 * tier still lies flat, its edge first and then its face from below; then it is gathered. What hangs from the form or
 * its foundation layer goes on from the lowest upwards, so that the upper ones do not lie in the way. Strips are
 * hemmed before they are joined where the tier says so. (Order: common practice.) Tiers of a loop, and what hangs on
 * them or on no tier of the list, are left out.
 */
export function sewingOrder(tiers: readonly TierToSew[]): TierWork[] {
  const roots = tiers.filter(({ hangs }) => hangs === 'form' || hangs === 'foundation');
  const lowestFirst = [...roots].sort((a, b) => (b.dropTicks ?? 0) - (a.dropTicks ?? 0));
  // The foundation layer lies under the form's own tiers.
  const ordered = [
    ...lowestFirst.filter(({ hangs }) => hangs === 'foundation'),
    ...lowestFirst.filter(({ hangs }) => hangs === 'form'),
  ];
  return ordered.flatMap((tier) => workOn(tier, tiers));
}

function workOn(tier: TierToSew, tiers: readonly TierToSew[]): TierWork[] {
  const mine = tiers.filter(({ onTierId }) => onTierId === tier.tierId);
  const sewnOn = [
    ...mine.filter(({ hangs }) => hangs === 'edge'),
    ...mine
      .filter(({ hangs }) => hangs === 'face')
      .sort((a, b) => (a.heightTicks ?? 0) - (b.heightTicks ?? 0)),
  ];
  return [
    ...sewnOn.flatMap((other) => workOn(other, tiers)),
    { tierId: tier.tierId, steps: stepsOf(tier, sewnOn) },
  ];
}

function stepsOf(tier: TierToSew, sewnOn: readonly TierToSew[]): SewingStep[] {
  const join: SewingStep[] = [
    ...(tier.joined ? [{ kind: 'join' } as const] : []),
    ...(tier.opened ? [{ kind: 'opening' } as const] : []),
  ];
  const lower: SewingStep[] = tier.lowerEdge === 'raw' ? [] : [{ kind: 'lower edge' }];
  const upper: SewingStep[] =
    tier.upperEdge === 'raw' || tier.upperEdge === 'seam' ? [] : [{ kind: 'upper edge' }];
  return [
    { kind: 'cut' },
    ...(tier.hemFirst ? [...lower, ...upper, ...join] : [...join, ...lower, ...upper]),
    ...sewnOn.map(({ tierId }): SewingStep => ({ kind: 'sew on', tierId })),
    ...(tier.gathered ? [{ kind: 'gather' } as const] : []),
    ...(tier.onTierId === null ? [{ kind: 'hang' } as const] : []),
  ];
}
