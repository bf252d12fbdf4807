import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';

/**
 * What a flat length has over the finished one, to be taken in by gathers or pleats, in ticks (Conover, A Complete Course
 * in Dressmaking, vol. 5, 1922). Throws RangeError where the flat length is the shorter.
 */
export function surplus(flatTicks: number, finishedTicks: number): number {
  if (flatTicks < finishedTicks) throw new RangeError('the flat length is not shorter than the finished one');
  return flatTicks - finishedTicks;
}

/**
 * What each of so many pleats takes in, in ticks to the nearest: the surplus, less what is kept for an opening or ease,
 * shared alike (Conover, vol. 5). Throws RangeError for no pleats or more kept than there is.
 */
export function perPleat(surplusTicks: number, keptTicks: number, pleats: number): number {
  if (pleats < 1 || keptTicks > surplusTicks) throw new RangeError('pleats share what is over');
  return stored(divideRounded(exactly(surplusTicks - keptTicks), exactly(pleats), 'near'));
}
