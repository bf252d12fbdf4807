import { readFigure, tidy } from './figure.ts';
import { ABOUT, divideRounded, exactly, MINUS, type Rounding, showDecimal, stored } from './figure-show.ts';
import { type Measure, type MeasureUnit, readMeasure } from './measure.ts';
import { type Reading, refused } from './reading.ts';

export type MassUnit = 'mg' | 'g' | 'kg' | 'oz' | 'lb';
export type MassPerAreaUnit = 'g/m²' | 'oz/yd²' | 'momme';

/** 10 000 kg, in milligrams. */
export const MOST_MASS_MG = 10_000_000_000;

/** 10 kg/m², in milligrams per square metre: far above any cloth. */
export const MOST_MASS_PER_AREA_MG_M2 = 10_000_000;

/** The avoirdupois pound is 0.45359237 kg exactly (agreement of 1 July 1959); the ounce is a sixteenth of it. */
const POUND_MG = { num: 45_359_237n, den: 100n };
const OUNCE_MG = { num: POUND_MG.num, den: POUND_MG.den * 16n };

/** The square yard, 0.9144 m × 0.9144 m, in square metres. */
const SQUARE_YARD_M2 = { num: 9_144n ** 2n, den: 10_000n ** 2n };

/**
 * Reads a mass in milligrams, from nought to 10 000 kg: "450 g", "1,2 kg", "2 lb 4 oz". A number alone takes
 * `bareUnit`. Rounded once to the nearest milligram; `exact` says whether it had to be.
 */
export function readMass(typed: string, bareUnit: MassUnit): Reading<number> {
  const read = readMeasure(typed, bareUnit, MASS);
  if (!read.ok) return read;
  const shown = showMass(read.value, 'metric', 'near');
  if (read.typed === shown) return { ok: true, value: read.value, exact: read.exact, echo: shown };
  const same = read.exact && !shown.startsWith(ABOUT);
  const echo = `${read.typed} ${same ? '=' : '≈'} ${shown.replace(ABOUT, '')}`;
  return { ok: true, value: read.value, exact: read.exact, echo };
}

/**
 * Reads a mass per area in whole milligrams per square metre, from nought to 10 kg/m²: "8.5 g/m²", "30 gsm",
 * "0.25 oz/yd²", "8 momme". A number alone takes `bareUnit`; ounces alone are refused, since cloth is also sold by
 * ounces to the running yard. Rounded once, to the nearest; `exact` says whether it had to be.
 */
export function readMassPerArea(typed: string, bareUnit: MassPerAreaUnit): Reading<number> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  if (tidied.text.startsWith('-'))
    return refused('A mass per area cannot be negative: write it without the minus.');
  const [, number = '', name = ''] = /^([\d.,/ -]*)(.*)$/u.exec(tidied.text) ?? [];
  if (number === '') return refused(`${name} has no number before it: write the number first.`);
  const figure = readFigure(number.trim());
  if (!figure.ok) return figure;
  const unit = name === '' ? bareUnit : MASS_PER_AREA_NAMES.get(name.replace(/[ .]/g, '').toLowerCase());
  if (unit === undefined && name.toLowerCase() === 'mm') {
    return refused(
      `${name} can mean momme or millimetres: write momme, or write the mass per area in g/m² or oz/yd².`,
    );
  }
  if (unit === undefined) return refused(`${name} is not a mass per area: write g/m², oz/yd² or momme.`);
  const size = MASS_PER_AREA_MG_M2[unit];
  const [num, den] = [figure.figure.num * size.num, figure.figure.den * size.den];
  if (num > BigInt(MOST_MASS_PER_AREA_MG_M2) * den)
    return refused('A mass per area here can be 10 000 g/m² at most.');
  const value = stored(divideRounded(num, den, 'near'));
  const exact = num % den === 0n;
  const wrote = `${figure.figure.shown} ${unit}`;
  const shown = `${showDecimal(exactly(value), 3)} g/m²`;
  return {
    ok: true,
    value,
    exact,
    echo: wrote === shown ? wrote : `${wrote} ${exact ? '=' : '≈'} ${shown}`,
  };
}

/**
 * A mass as scales show it: "0.125 g", "12.35 g", "450.5 g", "1.234 kg", or "0.25 oz", "2 lb 4.5 oz".
 *
 * Steps: 1 mg below 1 g, 10 mg below 100 g, 0.1 g below 1 kg, then 1 g; 0.01 oz below a pound, then 0.1 oz. "≈ "
 * stands before a value that is not exactly the stored one, a true minus before a negative one.
 */
export function showMass(massMg: number, system: 'metric' | 'imperial', round: Rounding): string {
  const held = exactly(massMg);
  const size = held < 0n ? -held : held;
  if (system === 'imperial') return ounces(held, size, round);
  const step = size < 1_000n ? 1n : size < 100_000n ? 10n : size < 1_000_000n ? 100n : 1_000n;
  const shown = divideRounded(held, step, round) * step;
  const text = size < 1_000_000n ? `${showDecimal(shown, 3)} g` : `${showDecimal(shown, 6)} kg`;
  return `${shown === held ? '' : ABOUT}${text}`;
}

/**
 * A mass as it is put on a balance of this step, from micrograms: as `showMass`, but never finer than the balance shows.
 * What the balance cannot show at all is written out: see `showTrace`.
 */
export function showWeighed(massUg: number, balanceMg: number): string {
  const held = exactly(massUg);
  const ordinary = held < 1_000_000n ? 1n : held < 100_000_000n ? 10n : held < 1_000_000_000n ? 100n : 1_000n;
  const ofBalance = exactly(balanceMg);
  const step = (ofBalance > ordinary ? ofBalance : ordinary) * 1000n;
  const shown = divideRounded(held, step, 'near') * step;
  if (shown === 0n && held > 0n) return showTrace(massUg);
  const text = shown < 1_000_000_000n ? `${showDecimal(shown, 6)} g` : `${showDecimal(shown, 9)} kg`;
  return `${shown === held ? '' : ABOUT}${text}`;
}

/** A mass that nobody weighs, such as what a stock solution holds, to four figures: "0.0004 g", "≈ 0.05748 g". */
export function showTrace(massUg: number): string {
  const held = exactly(massUg);
  const step = 10n ** BigInt(Math.max(0, String(held).length - 4));
  const shown = divideRounded(held, step, 'near') * step;
  return `${shown === held ? '' : ABOUT}${showDecimal(shown, 6)} g`;
}

function ounces(held: bigint, size: bigint, round: Rounding): string {
  // Counted in hundredths of an ounce, so that what is shown can be compared exactly with what is held.
  const step = size * OUNCE_MG.den < 16n * OUNCE_MG.num ? 1n : 10n;
  const shown = divideRounded(held * OUNCE_MG.den * 100n, OUNCE_MG.num * step, round) * step;
  const same = shown * OUNCE_MG.num === held * OUNCE_MG.den * 100n;
  const hundredths = shown < 0n ? -shown : shown;
  const [pounds, rest] = [hundredths / 1_600n, hundredths % 1_600n];
  const parts = [];
  if (pounds > 0n) parts.push(`${pounds} lb`);
  if (rest > 0n || pounds === 0n) parts.push(`${showDecimal(rest, 2)} oz`);
  return `${same ? '' : ABOUT}${shown < 0n ? MINUS : ''}${parts.join(' ')}`;
}

/** A mass per area: g/m² and momme to a tenth, oz/yd² to a hundredth, ≈ where that is not exactly the stored value. */
export function showMassPerArea(massPerAreaMgM2: number, unit: MassPerAreaUnit, round: Rounding): string {
  const held = exactly(massPerAreaMgM2);
  const size = MASS_PER_AREA_MG_M2[unit];
  const places = unit === 'oz/yd²' ? 2 : 1;
  const scale = 10n ** BigInt(places);
  const shown = divideRounded(held * size.den * scale, size.num, round);
  const same = shown * size.num === held * size.den * scale;
  return `${same ? '' : ABOUT}${showDecimal(shown, places)} ${unit}`;
}

function unit(
  name: MassUnit,
  system: 'metric' | 'imperial',
  size: { num: bigint; den: bigint },
  names: readonly string[],
): MeasureUnit<MassUnit> {
  return { unit: name, names: [name, ...names], system, ...size };
}

const MASS: Measure<MassUnit> = {
  units: [
    unit('kg', 'metric', { num: 1_000_000n, den: 1n }, ['kgs', 'kilo', 'kilos', 'kilogram', 'kilograms']),
    unit('lb', 'imperial', POUND_MG, ['lbs', 'pound', 'pounds']),
    unit('oz', 'imperial', OUNCE_MG, ['ozs', 'ounce', 'ounces']),
    unit('g', 'metric', { num: 1_000n, den: 1n }, ['gm', 'gms', 'gram', 'grams', 'gramme', 'grammes']),
    unit('mg', 'metric', { num: 1n, den: 1n }, ['milligram', 'milligrams']),
  ],
  most: BigInt(MOST_MASS_MG),
  tooMuch: 'A mass here can be 10 000 kg at most.',
  negative: 'A mass cannot be negative: write it without the minus.',
  twoUnits: '2 lb 4 oz or 1 kg 500 g',
};

/**
 * Milligrams per square metre in each unit, as exact fractions. A momme is a pound in a piece 45 in × 100 yd, which is
 * 125 square yards; computed from the pound and the yard it is 4.33994 g/m² (tables print 4.340).
 */
const MASS_PER_AREA_MG_M2: Readonly<Record<MassPerAreaUnit, { num: bigint; den: bigint }>> = {
  'g/m²': { num: 1_000n, den: 1n },
  'oz/yd²': {
    num: OUNCE_MG.num * SQUARE_YARD_M2.den,
    den: OUNCE_MG.den * SQUARE_YARD_M2.num,
  },
  momme: {
    num: POUND_MG.num * SQUARE_YARD_M2.den,
    den: POUND_MG.den * 125n * SQUARE_YARD_M2.num,
  },
};

const MASS_PER_AREA_NAMES: ReadonlyMap<string, MassPerAreaUnit> = new Map([
  ...(['g/m2', 'gm2', 'gsm', 'g/sqm'] as const).map((name) => [name, 'g/m²'] as const),
  ...(['oz/yd2', 'oz/sqyd', 'osy'] as const).map((name) => [name, 'oz/yd²'] as const),
  ...(['momme', 'mommes'] as const).map((name) => [name, 'momme'] as const),
]);
