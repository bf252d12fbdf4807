/** Four deliveries in five: our rule of how sure the buffer is. */
const SURE_BP = 8000;

/**
 * Days to keep for a supplier's being late, from how many days each of its deliveries was: as many as four in five of them needed, by
 * the nearest rank (the value at place ⌈0.8 n⌉ of the sorted ones). Of up to four deliveries it is the latest. Early
 * counts as 0. Null without a delivery.
 */
export function bufferDays(lateDays: readonly number[]): number | null {
  if (lateDays.length === 0) return null;
  return nearestRank(
    lateDays.map((days) => Math.max(0, days)),
    SURE_BP,
  );
}

/** The value below which, itself included, so many hundredths of a percent of the values lie. @throws {RangeError} none */
export function nearestRank(values: readonly number[], shareBp: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const found = sorted[Math.max(1, Math.ceil((shareBp * sorted.length) / 10_000)) - 1];
  if (found === undefined) throw new RangeError('a rank of no values');
  return found;
}
