/** One way to get what is short of a shade. Money in minor units of the workroom's currency, lengths in ticks. */
export interface WayToGet {
  /** of all that has a price; what has none is in `unknown` */
  readonly totalMinor: number;
  readonly unknown: readonly string[];
  /** the day it is ready to be cut, as "2026-11-25"; null where that is not known */
  readonly readyOn: string | null;
  /** whether it gives every strip that is wanted */
  readonly isWhole: boolean;
}

/** What can be said of ways beside each other, by their places. */
export interface BestWays {
  /** costs no more than any other whole way, whatever their unknown parts cost; null where that cannot be told */
  readonly cheapest: number | null;
  /** ready before every other whole way whose day is known; null where none is */
  readonly soonest: number | null;
}

/**
 * The cheapest and the soonest of ways that give all that is wanted. A way with a part that has no price costs at least
 * its total, so it is never called the cheapest; another is, only where it costs no more than that total. Of ways that
 * are alike the first counts.
 */
export function bestWays(ways: readonly WayToGet[]): BestWays {
  const whole = ways.flatMap((way, place) => (way.isWhole ? [{ way, place }] : []));
  const [first] = [...whole].sort(
    (a, b) =>
      a.way.totalMinor - b.way.totalMinor ||
      Number(a.way.unknown.length > 0) - Number(b.way.unknown.length > 0) ||
      a.place - b.place,
  );
  const dated = whole.flatMap(({ way, place }) => (way.readyOn === null ? [] : [{ on: way.readyOn, place }]));
  const [next] = dated.sort((a, b) => a.on.localeCompare(b.on) || a.place - b.place);
  return {
    cheapest: first && first.way.unknown.length === 0 ? first.place : null,
    soonest: next?.place ?? null,
  };
}
