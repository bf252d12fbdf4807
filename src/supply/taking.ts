import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';

/** What came of a supply at once, as far as it is there: an amount and what that cost, in minor units. */
export interface SupplyLotLeft {
  readonly id: number;
  readonly lot: string;
  /** the day it was opened, null while it is closed */
  readonly openedOn: string | null;
  readonly onHand: number;
  readonly costMinor: number;
  /** how much of it may be taken, where the rest is promised; without it all */
  readonly mayTake?: number;
}

/** So much that one lot gives, with the cost that goes with it; both above nought or nought. */
export interface SupplyDraw {
  readonly lotId: number;
  readonly amount: number;
  readonly costMinor: number;
}

/**
 * What a part of a lot cost, in minor units: its share of what is left of the cost, rounded once to the nearest; the last
 * of a lot takes all that is left, so that no cost is lost. Throws RangeError for more than there is.
 */
export function costOfPart(lot: Pick<SupplyLotLeft, 'onHand' | 'costMinor'>, amount: number): number {
  if (amount < 0 || amount > lot.onHand) throw new RangeError(`${amount} cannot be taken of ${lot.onHand}.`);
  if (amount === 0) return 0;
  return stored(divideRounded(exactly(lot.costMinor) * exactly(amount), exactly(lot.onHand), 'near'));
}

/** The lots in the order in which they are used up: those opened first, by day, then the closed ones as they came. */
export function inOrderOfUse<L extends SupplyLotLeft>(lots: readonly L[]): L[] {
  return lots.toSorted((a, b) => {
    if (a.openedOn !== b.openedOn) {
      if (a.openedOn === null) return 1;
      if (b.openedOn === null) return -1;
      return a.openedOn < b.openedOn ? -1 : 1;
    }
    return a.id - b.id;
  });
}

/**
 * Takes an amount off lots: off the named one first, where there is one, then in the order of use. `missing` is what they
 * do not have, or may not give. Amounts are whole numbers of the supply's unit.
 */
export function takeFromLots(
  lots: readonly SupplyLotLeft[],
  amount: number,
  namedLot = '',
): { readonly draws: readonly SupplyDraw[]; readonly missing: number } {
  const named = namedLot.trim().toLowerCase();
  const isNamed = ({ lot }: SupplyLotLeft) => named !== '' && lot.trim().toLowerCase() === named;
  const ordered = inOrderOfUse(lots);
  const first = [...ordered.filter(isNamed), ...ordered.filter((lot) => !isNamed(lot))];
  const draws: SupplyDraw[] = [];
  let missing = amount;
  for (const lot of first) {
    const taken = Math.min(lot.mayTake ?? lot.onHand, missing);
    if (taken <= 0) continue;
    draws.push({ lotId: lot.id, amount: taken, costMinor: costOfPart(lot, taken) });
    missing -= taken;
  }
  return { draws, missing };
}
