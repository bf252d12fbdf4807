/**
 * How full a vessel may be, and how a bath is shared over several vessels so that all come out alike.
 */

import { apportion } from '../quantity/money.ts';
import type { Bath, BathLine } from './bath.ts';

/** Water that a kilogram of cloth pushes up, in mL (common practice). */
export const DISPLACED_ML_PER_KG = 700;
/** From here a bath boils and throws liquor up. */
const BOIL_FROM_C = 95;
/** More baths than this for one shade is a reason to take a larger vessel. */
export const MOST_BATHS = 60;

/**
 * How much liquor and cloth an open vessel may hold, in whole mL: two thirds of it at the boil (from 95 °C),
 * three quarters below, displaced cloth included (common practice).
 */
export function fillMl(vesselMl: number, temperatureC: number): number {
  return temperatureC >= BOIL_FROM_C ? Math.floor((vesselMl * 2) / 3) : Math.floor((vesselMl * 3) / 4);
}

/**
 * A bath shared by weights, such as the masses of cloth that go into each vessel. Each mass and volume is shared
 * by largest remainder, so nothing is lost or made by rounding. Throws RangeError when there are no weights.
 */
export function shareBath(bath: Bath, weights: readonly number[]): readonly Bath[] {
  const masses = apportion(bath.massMg, weights);
  const waters = apportion(bath.freshWaterUl, weights);
  const lines = bath.lines.map((line) => shareLine(line, weights));
  return masses.map((massMg, at): Bath => {
    const own = lines.flatMap((shares) => shares[at] ?? []);
    const freshWaterUl = waters[at] ?? 0;
    const volumeUl = own.reduce((sum, line) => sum + (line.volumeUl ?? 0), freshWaterUl);
    return { massMg, volumeUl, freshWaterUl, lines: own };
  });
}

/** One line of a bath shared alike, by largest remainder. Throws RangeError when there are no weights. */
export function shareLine(line: BathLine, weights: readonly number[]): readonly BathLine[] {
  const shares = apportion(line.massMg, weights);
  const micrograms = line.massUg === undefined ? undefined : apportion(line.massUg, weights);
  const volumes = line.volumeUl === undefined ? undefined : apportion(line.volumeUl, weights);
  return shares.map((massMg, at) => ({
    ...line,
    massMg,
    ...(micrograms && { massUg: micrograms[at] ?? 0 }),
    ...(volumes && { volumeUl: volumes[at] ?? 0 }),
  }));
}
