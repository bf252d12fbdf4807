import { costOf, type PricePerLength } from '../quantity/money.ts';

/**
 * A bolt of a length, sold whole at a price. Ticks of 1/160 mm, minor units of the supplier's currency. Of a supply it is a
 * put-up of so much in its measure.
 */
export interface Bolt {
  readonly lengthTicks: number;
  readonly priceMinor: number;
  /** so many or more of them are charged at this price, all alike; without it any number */
  readonly fromCount?: number;
}

/** A price from some length on: the whole length is charged at the price of the last break that it reaches. */
export interface PriceBreak {
  readonly fromTicks: number;
  readonly price: PricePerLength;
}

/** Cloth sold off the bolt: in whole steps, such as an eighth of a yard or 10 cm, and no less than the least. */
export interface ByLength {
  readonly stepTicks: number;
  readonly leastTicks: number;
  /** rising by `fromTicks`; the first is from nought */
  readonly prices: readonly PriceBreak[];
}

/** How a supplier puts a cloth up: bolts of some lengths, by the length, or both. */
export interface PutUps {
  /** each length once, or once for each number from which its price is another */
  readonly bolts: readonly Bolt[];
  readonly byLength: ByLength | null;
}

/** How many of a bolt are charged at its price: from its own number to the one before the next break of its length. */
export function countsCharged(bolts: readonly Bolt[], { lengthTicks, fromCount = 1 }: Bolt) {
  const later = bolts.filter((bolt) => bolt.lengthTicks === lengthTicks && (bolt.fromCount ?? 1) > fromCount);
  const next = Math.min(...later.map((bolt) => bolt.fromCount ?? 1));
  return { least: fromCount, most: next - 1 };
}

/** Whether each bolt is taken in a number that is charged at its price, and each length at one price. */
export function isChargedRight(bolts: readonly Bolt[], counts: readonly number[]): boolean {
  const lengths = new Set<number>();
  return bolts.every((bolt, i) => {
    const count = counts[i] ?? 0;
    if (count === 0) return true;
    const { least, most } = countsCharged(bolts, bolt);
    const isOnce = !lengths.has(bolt.lengthTicks);
    lengths.add(bolt.lengthTicks);
    return isOnce && count >= least && count <= most;
  });
}

/** What a shop cuts for a length that is needed: the least, then whole steps, rounded up. In ticks. */
export function lengthSold(neededTicks: number, byLength: ByLength): number {
  const { stepTicks, leastTicks } = byLength;
  const atLeast = Math.max(neededTicks, leastTicks, 1);
  return Math.ceil(atLeast / stepTicks) * stepTicks;
}

/** The price that a length is charged at. Throws where no break begins at nought. */
export function priceAt(lengthTicks: number, { prices }: ByLength): PricePerLength {
  const reached = prices.findLast(({ fromTicks }) => fromTicks <= lengthTicks);
  if (!reached) throw new RangeError('The first price is for any length.');
  return reached.price;
}

/** What a cut length costs in minor units, rounded once; 0 for no length. */
export function costOfCut(lengthTicks: number, byLength: ByLength): number {
  return lengthTicks === 0 ? 0 : costOf(lengthTicks, priceAt(lengthTicks, byLength));
}
