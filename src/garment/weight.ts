import { ABOUT, divideRounded, exactly, showDecimal, stored } from '../quantity/figure-show.ts';
import { TICKS_PER } from '../quantity/length.ts';
import { showMass } from '../quantity/mass.ts';

/** Strips of one size and cloth; the mass per area is null where nobody has measured it. */
export interface WeighedStrips {
  readonly depthTicks: number;
  readonly lengthTicks: number;
  readonly count: number;
  readonly massPerAreaMgM2: number | null;
}

/** What cloth weighs as it is cut. `complete` is false where some of it has no measured mass per area. */
export interface ClothMass {
  readonly massMg: number;
  readonly complete: boolean;
}

const M2 = BigInt(TICKS_PER.m) ** 2n;
const CM2 = BigInt(TICKS_PER.cm) ** 2n;
const YD2 = BigInt(TICKS_PER.yd) ** 2n;

/** The mass of cut cloth: Σ cut area × mass per area in milligrams, exact and rounded once, to the nearest. */
export function massOfStrips(strips: readonly WeighedStrips[]): ClothMass {
  let sum = 0n;
  let complete = true;
  for (const { massPerAreaMgM2, ...strip } of strips) {
    if (massPerAreaMgM2 === null) complete = false;
    else sum += stripsArea([strip]) * exactly(massPerAreaMgM2);
  }
  return { massMg: stored(divideRounded(sum, M2, 'near')), complete };
}

/** A mass of cloth as it is told: to a tenth of a gram below a kilogram, since no mass per area is known better. */
export function showClothMass(massMg: number, system: 'metric' | 'imperial'): string {
  const tenths = stored(divideRounded(exactly(massMg), 100n, 'near')) * 100;
  return system === 'metric' && massMg < 1_000_000
    ? showMass(tenths, system, 'near')
    : showMass(massMg, system, 'near').replace(ABOUT, '');
}

/** The cut area of strips, in square ticks. */
export function stripsArea(
  strips: readonly { readonly depthTicks: number; readonly lengthTicks: number; readonly count: number }[],
): bigint {
  return strips.reduce(
    (sum, { depthTicks, lengthTicks, count }) =>
      sum + exactly(depthTicks) * exactly(lengthTicks) * exactly(count),
    0n,
  );
}

/** An area in square metres to the square centimetre, or in square yards to a thousandth; rounded up. */
export function showArea(areaTicks2: bigint, system: 'metric' | 'imperial'): string {
  if (system === 'metric') return `${showDecimal(divideRounded(areaTicks2, CM2, 'up'), 4)} m²`;
  return `${showDecimal(divideRounded(areaTicks2 * 1000n, YD2, 'up'), 3)} yd²`;
}

/** A tier in the chain by which it hangs; `onTierId` is null where the form or its foundation layer carries it. */
export interface HangingMass {
  readonly tierId: number;
  readonly onTierId: number | null;
  readonly massMg: number;
  readonly complete: boolean;
}

/**
 * What each tier carries: itself and all that is sewn on it, down the chain. A tier whose carrier is not among those
 * given counts for itself alone.
 */
export function carriedMass(tiers: readonly HangingMass[]): Map<number, ClothMass> {
  const byId = new Map(tiers.map((tier) => [tier.tierId, tier]));
  const carried = new Map<number, ClothMass>();
  for (const tier of tiers) {
    const seen = new Set<number>();
    let at: HangingMass | undefined = tier;
    while (at !== undefined && !seen.has(at.tierId)) {
      seen.add(at.tierId);
      const before: ClothMass = carried.get(at.tierId) ?? { massMg: 0, complete: true };
      carried.set(at.tierId, {
        massMg: before.massMg + tier.massMg,
        complete: before.complete && tier.complete,
      });
      at = at.onTierId === null ? undefined : byId.get(at.onTierId);
    }
  }
  return carried;
}

/** Masses added up, in milligrams; complete where all of them are. */
export function sumOfMasses(masses: readonly ClothMass[]): ClothMass {
  return {
    massMg: masses.reduce((sum, { massMg }) => sum + massMg, 0),
    complete: masses.every(({ complete }) => complete),
  };
}
