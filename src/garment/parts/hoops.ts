/** A cage of hoops: steels, casings and tapes from the girths that it is to have. Lengths in ticks. */

export interface Cage {
  /** from the waist down; the last is the hem */
  readonly girthsTicks: readonly number[];
  /** how far the ends of a steel lap; 0 for a connector */
  readonly lapTicks: number;
  /** taken off each end of a casing */
  readonly seamTicks: number;
  /** vertical tapes, and how far each runs down with its turns */
  readonly tapes: number;
  readonly tapeTicks: number;
}

export interface CutCage {
  readonly steels: readonly {
    readonly girthTicks: number;
    readonly steelTicks: number;
    readonly casingTicks: number;
  }[];
  readonly steelTicks: number;
  readonly casingTicks: number;
  readonly tapeTicks: number;
  /** joined by a connector each, where nothing laps */
  readonly connectors: number;
}

/** Steels of girth + lap, casings of girth + 2s, tapes by their number (usual: 10 cm of lap, naergilien.info, 2011). */
export function cutCage({ girthsTicks, lapTicks, seamTicks, tapes, tapeTicks }: Cage): CutCage {
  const steels = girthsTicks.map((girthTicks) => ({
    girthTicks,
    steelTicks: girthTicks + lapTicks,
    casingTicks: girthTicks + 2 * seamTicks,
  }));
  const sum = (of: 'steelTicks' | 'casingTicks') => steels.reduce((total, each) => total + each[of], 0);
  return {
    steels,
    steelTicks: sum('steelTicks'),
    casingTicks: sum('casingTicks'),
    tapeTicks: tapes * tapeTicks,
    connectors: lapTicks === 0 ? steels.length : 0,
  };
}

/**
 * Hoops on a straight line: the lowest as wide as the hem of the dress less an allowance, each above it less by the same
 * step, which is a share of the lowest (fuwa-fuwa-fashion, 2016: five steps). From the top down, to the nearest tick.
 * Throws RangeError for fewer than two steps or more hoops than steps.
 */
export function straightHoops(
  hemTicks: number,
  { lessTicks, steps, hoops }: { readonly lessTicks: number; readonly steps: number; readonly hoops: number },
): readonly number[] {
  if (steps < 2 || hoops < 1 || hoops >= steps)
    throw new RangeError('fewer hoops than steps, and two steps or more');
  const lowest = hemTicks - lessTicks;
  return Array.from({ length: hoops }, (_, at) => Math.round(lowest - ((hoops - 1 - at) * lowest) / steps));
}

/**
 * Strips across the cloth that are joined to one length for all casings: N·w − 2s·(N − 1) ≥ the sum of the casings, so
 * N = ⌈(sum − 2s) ÷ (w − 2s)⌉, 1 at the least (geometry). Throws RangeError where the joins take the whole width.
 */
export function casingStrips(casingTicks: number, usableWidthTicks: number, seamTicks: number): number {
  const adds = usableWidthTicks - 2 * seamTicks;
  if (adds <= 0) throw new RangeError('the joins take the whole width of the cloth');
  return Math.max(1, Math.ceil((casingTicks - 2 * seamTicks) / adds));
}
