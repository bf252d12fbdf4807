import { ABOUT, divideRounded, exactly, type Rounding, showDecimal } from './figure-show.ts';
import { type Measure, type MeasureReading, readMeasure } from './measure.ts';
import { type Reading, refused } from './reading.ts';

export type VolumeUnit = 'ml' | 'l' | 'US gal' | 'imperial gal';

/** 100 000 litres, in millilitres. */
export const MOST_VOLUME_ML = 100_000_000;

/**
 * Reads a volume in whole millilitres, from nought to 100 000 litres: "10 L", "2,5 l", "750 ml", "1 L 500 ml". A
 * number alone takes `bareUnit`. A gallon is read where it says which: "2 US gal", "2 imperial gal"; gallons alone,
 * quarts and pints are refused, since two sizes of each are in use. Rounded once, to the nearest; `exact` says
 * whether it had to be.
 */
export function readVolume(typed: string, bareUnit: VolumeUnit): Reading<number> {
  const read = readIn(typed, bareUnit, VOLUME);
  return read.ok ? echoed(read, showVolume(read.value, 'near')) : read;
}

/** The same in whole microlitres: what is kept of a liquid that is measured out by the drop. */
export function readVolumeUl(typed: string, bareUnit: VolumeUnit): Reading<number> {
  const read = readIn(typed, bareUnit, VOLUME_UL);
  return read.ok ? echoed(read, showVolumeUl(read.value, 'near')) : read;
}

function readIn(
  typed: string,
  bareUnit: VolumeUnit,
  measure: Measure<VolumeUnit>,
): MeasureReading<VolumeUnit> {
  const named =
    typed.length <= 64 ? typed.replace(US_GALLON, ' usgal').replace(IMPERIAL_GALLON, ' impgal') : typed;
  if (named.length <= 64 && /(?<!us|imp)gal/i.test(named)) {
    return refused(
      'A gallon has two sizes: is it a US gallon (3.785 L) or an imperial one (4.546 L)? Write US gal or imperial gal.',
    );
  }
  if (named.length <= 64 && /quart|qt|pint|fl/i.test(named)) {
    return refused(
      'Quarts, pints and fluid ounces have more than one size: write litres or millilitres, US gal or imperial gal.',
    );
  }
  return readMeasure(named, bareUnit, measure);
}

type Read = Extract<MeasureReading<VolumeUnit>, { ok: true }>;

function echoed(read: Read, shown: string): Reading<number> {
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

/**
 * A volume in microlitres as a cylinder shows it: to a hundredth of a millilitre below 100 mL ("2.55 mL"), to a tenth below
 * a litre, from there as `showVolume`. "≈ " stands before what is not exactly the stored value.
 */
export function showVolumeUl(volumeUl: number, round: Rounding): string {
  const held = exactly(volumeUl);
  const size = held < 0n ? -held : held;
  const step = size < 100_000n ? 10n : size < 1_000_000n ? 100n : size < 100_000_000n ? 10_000n : 100_000n;
  const shown = divideRounded(held, step, round) * step;
  const text = size < 1_000_000n ? `${showDecimal(shown, 3)} mL` : `${showDecimal(shown, 6)} L`;
  return `${shown === held ? '' : ABOUT}${text}`;
}

/** "US gal", "gal (US)", "u.s. gallons", and the same for the imperial one. */
const US_GALLON = /\bu\.?s\.? ?gal(?:lons?)?\b\.?|\bgal(?:lons?)?\.? ?\(?u\.?s\.?\)?/i;
const IMPERIAL_GALLON =
  /\b(?:imp(?:erial)?\.?|u\.?k\.?) ?gal(?:lons?)?\b\.?|\bgal(?:lons?)?\.? ?\(?(?:imp(?:erial)?\.?|u\.?k\.?)\)?/i;

const VOLUME: Measure<VolumeUnit> = {
  units: [
    // 4.54609 L exactly, and 231 cubic inches of 25.4 mm exactly.
    { unit: 'imperial gal', names: ['impgal'], system: 'imperial', num: 454_609n, den: 100n },
    { unit: 'US gal', names: ['usgal'], system: 'imperial', num: 3_785_411_784n, den: 1_000_000n },
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

const VOLUME_UL: Measure<VolumeUnit> = {
  ...VOLUME,
  units: VOLUME.units.map((each) => ({ ...each, num: each.num * 1_000n })),
  most: VOLUME.most * 1_000n,
};
