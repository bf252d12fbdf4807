import { ABOUT, divideRounded, exactly, type Rounding, showDecimal } from './figure-show.ts';
import { type Measure, readMeasure } from './measure.ts';
import { type Reading, refused } from './reading.ts';

export type VolumeUnit = 'ml' | 'l';

/** 100 000 litres, in millilitres. */
export const MOST_VOLUME_ML = 100_000_000;

/**
 * Reads a volume in whole millilitres, from nought to 100 000 litres: "10 L", "2,5 l", "750 ml", "1 L 500 ml". A
 * number alone takes `bareUnit`. Gallons, quarts and pints are refused, since two sizes of each are in use. Rounded
 * once, to the nearest; `exact` says whether it had to be.
 */
export function readVolume(typed: string, bareUnit: VolumeUnit): Reading<number> {
  if (typed.length <= 64 && /gal|quart|qt|pint|fl/i.test(typed)) {
    return refused(
      'Gallons, quarts, pints and fluid ounces have more than one size: write litres or millilitres.',
    );
  }
  const read = readMeasure(typed, bareUnit, VOLUME);
  if (!read.ok) return read;
  const shown = showVolume(read.value, 'near');
  const wrote = read.typed.replace(/ l\b/g, ' L').replace(/ ml\b/g, ' mL');
  if (wrote === shown) return { ok: true, value: read.value, exact: read.exact, echo: shown };
  const same = read.exact && !shown.startsWith(ABOUT);
  const echo = `${wrote} ${same ? '=' : '≈'} ${shown.replace(ABOUT, '')}`;
  return { ok: true, value: read.value, exact: read.exact, echo };
}

/**
 * A volume as vessels show it: "750 mL" below a litre, then litres to 10 mL, from 100 L to 0.1 L: "2.5 L", "120.5 L".
 * "≈ " stands before a value that is not exactly the stored one, a true minus before a negative one.
 */
export function showVolume(volumeMl: number, round: Rounding): string {
  const held = exactly(volumeMl);
  const size = held < 0n ? -held : held;
  if (size < 1_000n) return `${showDecimal(held, 0)} mL`;
  const step = size < 100_000n ? 10n : 100n;
  const shown = divideRounded(held, step, round) * step;
  return `${shown === held ? '' : ABOUT}${showDecimal(shown, 3)} L`;
}

const VOLUME: Measure<VolumeUnit> = {
  units: [
    { unit: 'l', names: ['l', 'litre', 'litres', 'liter', 'liters'], system: 'metric', num: 1_000n, den: 1n },
    {
      unit: 'ml',
      names: ['ml', 'mls', 'millilitre', 'millilitres', 'milliliter', 'milliliters'],
      system: 'metric',
      num: 1n,
      den: 1n,
    },
  ],
  most: BigInt(MOST_VOLUME_ML),
  tooMuch: 'A volume here can be 100 000 L at most.',
  negative: 'A volume cannot be negative: write it without the minus.',
  twoUnits: '1 L 500 mL',
};
