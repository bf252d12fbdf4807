/** A dip-dyed gradient within one length: which part of it is in the bath for how long. Times in minutes. */

/** Exposures of one gradient: 6 to 8 make it look unbroken (our rule); fewer show as bands. */
export const LEAST_BANDS = 3;
export const MOST_BANDS = 12;

export type DipWay = 'lower-in' | 'lift-out';

export interface DipMove {
  /** minutes after the first band is wet */
  readonly atMinutes: number;
  /** how many bands are under from then on, counted from the deep end */
  readonly bandsUnder: number;
  /** the length that hangs in the bath from then on, in ticks */
  readonly underTicks: number;
}

/** Minutes that each band is in the bath, the palest first: t × (i ÷ n)², rounded to half a minute, at least half. */
export function exposures(bands: number, deepestMinutes: number): number[] {
  if (!(Number.isInteger(bands) && bands >= LEAST_BANDS && bands <= MOST_BANDS && deepestMinutes > 0))
    throw new RangeError(`A gradient has ${LEAST_BANDS} to ${MOST_BANDS} bands and some minutes`);
  return Array.from({ length: bands }, (_, at) =>
    Math.max(0.5, Math.round(deepestMinutes * ((at + 1) / bands) ** 2 * 2) / 2),
  );
}

/**
 * The moves of the cloth, in order. Uptake goes by the square root of time early on (from memory), so that equal steps of
 * depth want times as 1 : 4 : 9; the bath's exhaustion caps that. Lowered in, the deep end goes first and the pale end
 * last; lifted out, all goes in at once and the pale end comes out first. All is out at the end.
 */
export function dipMoves(
  way: DipWay,
  { bands, deepestMinutes, bandTicks }: { bands: number; deepestMinutes: number; bandTicks: number },
): DipMove[] {
  const minutes = exposures(bands, deepestMinutes);
  const move = (atMinutes: number, bandsUnder: number): DipMove => ({
    atMinutes,
    bandsUnder,
    underTicks: bandsUnder * bandTicks,
  });
  const total = minutes.at(-1) ?? 0;
  if (way === 'lower-in') {
    const lowered = minutes.toReversed().map((minute, at) => move(total - minute, at + 1));
    return [...lowered, move(total, 0)];
  }
  return [move(0, bands), ...minutes.map((minute, at) => move(minute, bands - at - 1))];
}
