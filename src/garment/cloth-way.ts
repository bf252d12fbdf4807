import type { Direction } from './band.ts';
import { lengthInRepeats } from './parts/pattern-repeat.ts';

/** How strips may lie on a cloth that has a way, or a pattern; other cloths are in no such map. */
export interface ClothWay {
  /** nap, pile or a pattern with an up and a down: no strip is turned */
  readonly oneWay: boolean;
  /** along the cloth, in ticks; null where it has no pattern */
  readonly repeatTicks: number | null;
}

export type ClothWays = ReadonlyMap<number, ClothWay>;
export const NO_WAYS: ClothWays = new Map();

/** A strip with the side that is taken along the cloth, or may be; lengths in ticks. */
interface LyingStrip {
  readonly depthTicks: number;
  readonly lengthTicks: number;
  readonly direction: Direction;
}

/**
 * A strip as it is cut out of a cloth: on one with a way or a pattern it lies across where it fits, and never either way (what
 * is lost is the turning, no cloth: geometry). Of a pattern it takes whole repeats along the cloth, ⌈h ÷ R⌉ × R
 * (Encyclopaedia of Curtains as read at merrick-day.com), so that each begins at the same place of it.
 */
export function layOnCloth(
  strip: LyingStrip,
  way: ClothWay | undefined,
  usableWidthTicks: number,
): LyingStrip {
  if (way === undefined) return strip;
  const isAcross = strip.direction === 'across' || strip.lengthTicks <= usableWidthTicks;
  const direction = strip.direction === 'either' ? (isAcross ? 'across' : 'along') : strip.direction;
  if (way.repeatTicks === null) return { ...strip, direction };
  const whole = (ticks: number) => lengthInRepeats(ticks, way.repeatTicks ?? 1);
  return direction === 'across'
    ? { direction, depthTicks: whole(strip.depthTicks), lengthTicks: strip.lengthTicks }
    : { direction, depthTicks: strip.depthTicks, lengthTicks: whole(strip.lengthTicks) };
}
