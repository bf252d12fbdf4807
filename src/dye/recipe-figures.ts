import { readFigure, tidy } from '../quantity/figure.ts';
import { divideRounded, stored } from '../quantity/figure-show.ts';
import { type Reading, refused } from '../quantity/reading.ts';
import { isAbove, readScaled, showScaled } from '../quantity/scaled.ts';
import { isByMass, readOwf, showOwf } from './bench-figures.ts';
import { readHydrometer } from './specific-gravity.ts';

// The figures of a recipe that carry more than one meaning until their unit is written.

/** What an auxiliary is given per: mg in a litre of bath, or thousandths of a percent on weight of fabric. */
export interface AuxiliaryDose {
  readonly per: 'litre' | 'cloth';
  readonly amount: number;
}

/** The same as it is measured out: µL in a litre, or µL to a kilogram of cloth. */
export interface MeasuredDose {
  readonly per: 'litre' | 'cloth';
  readonly volumeUl: number;
}

/** 1000 g/L, in mg/L. */
export const MOST_MG_PER_LITRE = 1_000_000;

/** In °C; above this no plant for cloth works. */
export const MOST_TEMPERATURE_C = 140;

/**
 * Reads the amount of an auxiliary: "5 g/L" in mg per litre of bath, "2 %" or "2 % owf" in thousandths of a percent.
 * A number alone is refused, since both are in use. Rounded once; `exact` says whether it had to be.
 */
export function readAddition(typed: string): Reading<AuxiliaryDose> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  if (/%|owf$/i.test(tidied.text) || isByMass(tidied.text)) return asAddition('cloth', readOwf(typed));
  if (!/\/ ?l$| per l(?:itre)?$/i.test(tidied.text)) {
    return refused(
      'Say what the amount is for: write 5 g/L, by the litre of bath, or 2 %, on weight of fabric.',
    );
  }
  if (!/(?:^|[^mk])g ?(?:\/|per)/i.test(tidied.text)) {
    return refused('By the litre an amount is written in grams, such as 5 g/L or 0.5 g/L.');
  }
  return asAddition('litre', readGramsPerLitre(typed));
}

/**
 * Reads an amount as a hand measures it too: "20 mL/L", "200 mL to 1 kg of cloth"; of a lye whose strength a hydrometer
 * told also "70 mL/L at 38 °Bé", which is a mass then.
 */
export function readAdditionOrVolume(typed: string): Reading<AuxiliaryDose | MeasuredDose> {
  const tidied = tidy(typed);
  const lye = tidied.ok ? AT_DEGREES.exec(tidied.text) : null;
  if (lye) return readLye(lye[1] ?? '', lye[2] ?? '');
  const after = tidied.ok ? MEASURED.exec(tidied.text) : null;
  if (!after) return readAddition(typed);
  const per = /^l/i.test(after[1] ?? '') ? 'litre' : 'cloth';
  const reading = readScaled(typed, {
    per: 1000n,
    after: MEASURED,
    suchAs: '20 or as 2.5',
    signed: (number) => `${number} ${MEASURED_PER[per]}`,
    outside: (figure) =>
      isAbove(figure, MOST_UL_PER_LITRE, 1000n) ? `Write 1000 ${MEASURED_PER[per]} or less.` : undefined,
  });
  return reading.ok ? { ...reading, value: { per, volumeUl: reading.value } } : reading;
}

const AT_DEGREES = /^(.*?),?(?: at| of)? ?(\d+(?:[.,]\d+)? ?°? ?(?:b(?:é|e|aumé|aume)|tw(?:addell?)?))$/i;

function readLye(volume: string, degrees: string): Reading<AuxiliaryDose> {
  const density = readHydrometer(degrees);
  if (!density.ok) return density;
  const reading = readAdditionOrVolume(volume);
  if (!reading.ok) return reading;
  if (!('volumeUl' in reading.value)) {
    return refused('Degrees of a hydrometer go with a volume: write 70 mL/L at 38 °Bé.');
  }
  const value = doseOfVolume(reading.value, density.value);
  return { ok: true, value, exact: false, echo: `${volume} at ${density.echo} ≈ ${showAddition(value)}` };
}

const MEASURED = / ?ml ?(?:\/|per|to|on) ?(?:1 ?)?(l(?:it(?:re|er))?|kg)(?: of (?:bath|cloth|fabric))?$/i;
/** The units of a measured dose, in words. */
export const MEASURED_PER = { litre: 'mL/L', cloth: 'mL to 1 kg of cloth' } as const;
/** 1000 mL/L, in µL/L. */
const MOST_UL_PER_LITRE = 1_000_000;

/** The dose that a volume of a liquid is, by its density; rounded once, as doses are kept. */
export function doseOfVolume({ per, volumeUl }: MeasuredDose, densityMgPerMl: number): AuxiliaryDose {
  // A microlitre to a kilogram is a millionth; a thousandth of a percent is 10 mg to the kilogram.
  const massMg = (volumeUl * densityMgPerMl) / 1000;
  return { per, amount: Math.round(per === 'litre' ? massMg : massMg / 10) };
}

/** An amount as it is written in a recipe: "5 g/L", "2 % owf". */
export function showAddition({ per, amount }: AuxiliaryDose): string {
  return per === 'litre' ? showGramsPerLitre(amount) : showOwf(amount);
}

/**
 * Reads a temperature in whole °C from 1 to 140: "60", "60 °C", "140 °F". Rounded once to the nearest degree; `exact`
 * says whether it had to be.
 */
export function readTemperature(typed: string): Reading<number> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const [, number = '', unit = 'c'] = /^(.*?)(?: ?[°o]? ?([cf])| ?°)?$/i.exec(tidied.text) ?? [];
  const read = readFigure(number.trim(), '60 or as 60.5');
  if (!read.ok) return read;
  const { num, den, shown } = read.figure;
  const fahrenheit = unit.toLowerCase() === 'f';
  const [above, below] = fahrenheit ? [(num - 32n * den) * 5n, den * 9n] : [num, den];
  if (above < below) return refused('Write a temperature of 1 °C or more.');
  if (above > BigInt(MOST_TEMPERATURE_C) * below) {
    return refused(`Write ${MOST_TEMPERATURE_C} °C or less.`);
  }
  const value = stored(divideRounded(above, below, 'near'));
  const exact = above % below === 0n;
  const wrote = `${shown} °${fahrenheit ? 'F' : 'C'}`;
  const kept = `${value} °C`;
  return { ok: true, value, exact, echo: wrote === kept ? wrote : `${wrote} ${exact ? '=' : '≈'} ${kept}` };
}

/** Reads a pH in tenths, from nought to 14: "5", "5.5", "pH 5". Rounded once; `exact` says whether it had to be. */
export function readPh(typed: string): Reading<number> {
  return readScaled(typed.replace(/^\s*ph\b/i, ''), {
    per: 10n,
    after: /$/,
    suchAs: '5 or as 5.5',
    signed: (number) => `pH ${number}`,
    outside: (figure) => (isAbove(figure, 140, 10n) ? 'pH runs from 0 to 14.' : undefined),
  });
}

/**
 * Reads how fast a bath is heated or cooled, in thousandths of °C a minute from 0.1 to 10 °C: "1", "1.5 °C/min".
 * Rounded once; `exact` says whether it had to be.
 */
export function readRamp(typed: string): Reading<number> {
  return readScaled(typed, {
    per: 1000n,
    after: / ?(?:°? ?c)? ?(?:\/|per|a)? ?(?:min(?:ute)?)?$/i,
    suchAs: '1 or as 1.5',
    signed: (number) => `${number} °C a minute`,
    outside: (figure) => {
      const outside = figure.num * 10n < figure.den || isAbove(figure, 10_000, 1000n);
      return outside ? 'A bath is heated or cooled by 0.1 to 10 °C a minute.' : undefined;
    },
  });
}

/** Thousandths of °C a minute as "1.5 °C a minute". */
export function showRamp(rateMilli: number): string {
  return `${showScaled(rateMilli, 1000n)} °C a minute`;
}

/** Tenths of a pH as "5.5". */
export function showPh(tenths: number): string {
  return showScaled(tenths, 10n);
}

function readGramsPerLitre(typed: string): Reading<number> {
  return readScaled(typed, {
    per: 1000n,
    after: / ?g ?(?:\/ ?l|per l(?:itre)?)$/i,
    suchAs: '1/2 or as 0.5',
    signed: (number) => `${number} g/L`,
    outside: (figure) =>
      isAbove(figure, MOST_MG_PER_LITRE, 1000n)
        ? `Write ${showGramsPerLitre(MOST_MG_PER_LITRE)} or less.`
        : undefined,
  });
}

function showGramsPerLitre(mgPerLitre: number): string {
  return `${showScaled(mgPerLitre, 1000n)} g/L`;
}

function asAddition(per: AuxiliaryDose['per'], reading: Reading<number>): Reading<AuxiliaryDose> {
  return reading.ok ? { ...reading, value: { per, amount: reading.value } } : reading;
}
