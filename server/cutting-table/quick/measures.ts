import { TICKS_PER } from '../../../src/quantity/length.ts';

/** Ticks as millimetres, for scripts. */
export function mm(ticks: number): number {
  return ticks / TICKS_PER.mm;
}

/** Square ticks as square metres, to a square millimetre. */
export function m2(area: number): number {
  return Math.round((area / TICKS_PER.m ** 2) * 1e6) / 1e6;
}
