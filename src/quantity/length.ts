import { divideRounded, exactly, showDecimal } from './figure-show.ts';
import { type Measure, type MeasureUnit, readMeasure } from './measure.ts';
import type { Reading } from './reading.ts';

export type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft' | 'yd';

/**
 * Ticks of 1/160 mm in each unit. The inch is 25.4 mm and the yard 0.9144 m exactly (agreement of 1 July 1959), so
 * that thirds of a yard, 1/32 in and 1 mm are all whole ticks.
 */
export const TICKS_PER: Readonly<Record<LengthUnit, number>> = {
  mm: 160,
  cm: 1_600,
  m: 160_000,
  in: 4_064,
  ft: 48_768,
  yd: 146_304,
};

/** 100 km, in ticks: more than any workroom holds, and far inside the exact integers. */
export const MOST_LENGTH_TICKS = 100_000 * TICKS_PER.m;

/**
 * Reads a length as the workroom writes it, in ticks from nought to 100 km.
 *
 * Takes whole numbers, decimals with a dot or comma, fractions and mixed numbers, in one unit or in several from the
 * larger to the smaller ("2 yd 18 in", `5' 6"`, "1 m 20"); a number alone takes `bareUnit`. Refuses what could mean two lengths.
 * The arithmetic is exact; the result is rounded once to the nearest tick, and `exact` says whether it had to be.
 */
export function readLength(typed: string, bareUnit: LengthUnit): Reading<number> {
  const read = readMeasure(typed, bareUnit, LENGTH);
  if (!read.ok) return read;
  const { value, exact } = read;
  return {
    ok: true,
    value,
    exact,
    echo: echo(read.typed, read.units, value, exact),
  };
}

/** A unit that is read, but that no field asks for and no page writes. */
type ReadUnit = LengthUnit | 'dm';

type Unit = MeasureUnit<ReadUnit>;

function metric(name: ReadUnit, ticks: number, names: readonly string[], more: Partial<Unit> = {}): Unit {
  return { unit: name, names: [name, ...names], system: 'metric', num: exactly(ticks), den: 1n, ...more };
}

function imperial(name: ReadUnit, ticks: number, names: readonly string[], unsaid?: Unit['unsaid']): Unit {
  return { ...metric(name, ticks, names), system: 'imperial', ...(unsaid && { unsaid }) };
}

// Countries that part thousands by a dot are metric. Up to 50 m, a long bolt (common practice), that reading is likely.
const LENGTH: Measure<ReadUnit> = {
  units: [
    metric('m', TICKS_PER.m, ['metre', 'metres', 'meter', 'meters', 'mtr', 'mtrs'], {
      unsaid: { unit: 'cm', from: 10n, below: 100n },
    }),
    imperial('yd', TICKS_PER.yd, ['yds', 'yard', 'yards'], { unit: 'in', from: 3n, below: 36n }),
    imperial('ft', TICKS_PER.ft, ['foot', 'feet', "'"], { unit: 'in', from: 1n, below: 12n }),
    metric('dm', TICKS_PER.m / 10, ['decimetre', 'decimetres', 'decimeter', 'decimeters']),
    imperial('in', TICKS_PER.in, ['ins', 'inch', 'inches', '"']),
    metric('cm', TICKS_PER.cm, ['cms', 'centimetre', 'centimetres', 'centimeter', 'centimeters'], {
      dotPartsUpTo: 5_000n,
    }),
    metric('mm', TICKS_PER.mm, ['mms', 'millimetre', 'millimetres', 'millimeter', 'millimeters'], {
      dotPartsUpTo: 50_000n,
    }),
  ],
  most: BigInt(MOST_LENGTH_TICKS),
  tooMuch: 'A length here can be 100 km at most.',
  negative: 'A length cannot be negative: write it without the minus.',
  twoUnits: '2 yd 18 in or 1 m 20 cm',
};

/** "2¾ yd = 2.5146 m"; below a metre in centimetres. What needs more than a tenth of a millimetre is marked ≈. */
function echo(typed: string, units: readonly ReadUnit[], lengthTicks: number, exact: boolean): string {
  const shownUnit = lengthTicks < TICKS_PER.m ? 'cm' : 'm';
  const tenths = divideRounded(exactly(lengthTicks), TENTH_MM_TICKS, 'near');
  const shown = `${showDecimal(tenths, shownUnit === 'cm' ? 2 : 4)} ${shownUnit}`;
  const alreadyMetric = units.length === 1 && (units[0] === 'm' || units[0] === shownUnit);
  if (alreadyMetric && exact) return typed;
  const same = exact && tenths * TENTH_MM_TICKS === exactly(lengthTicks);
  return `${typed} ${same ? '=' : '≈'} ${shown}`;
}

const TENTH_MM_TICKS = 16n;
