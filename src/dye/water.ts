/** The water that baths are made with: its alkalinity, which acid is lost to, and its hardness, which soap and soda are. */

import { readFigure, tidy } from '../quantity/figure.ts';
import { divideRounded, exactly, showDecimal, stored } from '../quantity/figure-show.ts';
import { type Reading, refused } from '../quantity/reading.ts';
import type { BathConditions } from './bath-ph.ts';

/** In tenths of a milligram of calcium carbonate in a litre. */
export interface Water {
  readonly alkalinityTenths: number;
  /** null where nobody has said it */
  readonly hardnessTenths: number | null;
  readonly pHTenths: number | null;
}

/** The water with the day on which it was measured, such as 2026-11-25. */
export type DatedWater = Water & { readonly onDay: string };

/** 2000 mg/L, in tenths: far above any tap. */
export const MOST_IN_WATER_TENTHS = 20_000;
/** Water of most workrooms lies between none and this, in mg/L (common practice). */
export const HARD_WATER_MG = 300;

/** In hundredths of a mg/L of calcium carbonate: degrees from memory, mmol by its molar mass of 100.09 g/mol. */
const UNITS: readonly (readonly [name: RegExp, hundredths: bigint])[] = [
  [/^(?:mg ?(?:\/|per) ?l(?:it(?:re|er))?|ppm)(?: (?:as )?caco3)?$/, 100n],
  [/^°? ?(?:dh|gh|kh)$/, 1785n],
  [/^°? ?(?:fh|f)$/, 1000n],
  [/^°? ?(?:clark|e)$/, 1425n],
  [/^(?:gpg|grains?(?: ?(?:\/|per) ?(?:us )?gal(?:lon)?)?)$/, 1710n],
  [/^mmol ?(?:\/|per) ?l(?:it(?:re|er))?$/, 10_009n],
];

/**
 * Reads a hardness or an alkalinity in tenths of a mg/L of calcium carbonate: "120", "120 mg/L", "120 ppm", "7 °dH",
 * "12 °fH", "8 °Clark", "6 gpg", "1.2 mmol/L". Rounded once; `exact` says whether it had to be.
 */
export function readInWater(typed: string): Reading<number> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const [, number = '', name = ''] = /^([\d.,/ ]*)(.*)$/.exec(tidied.text) ?? [];
  const figure = readFigure(number.trim(), '120 or as 7 °dH');
  if (!figure.ok) return figure;
  const unit = name === '' ? 100n : UNITS.find(([names]) => names.test(name.trim().toLowerCase()))?.[1];
  if (unit === undefined) {
    return refused(`${name.trim()} is no unit of water: write mg/L, °dH, °fH, °Clark, gpg or mmol/L.`);
  }
  const [num, den] = [figure.figure.num * unit, figure.figure.den * 10n];
  if (num > BigInt(MOST_IN_WATER_TENTHS) * den) return refused('Write 2000 mg/L or less.');
  const value = stored(divideRounded(num, den, 'near'));
  const exact = num % den === 0n;
  const kept = sayInWater(value);
  const wrote = `${figure.figure.shown} ${name === '' ? 'mg/L' : name.trim()}`;
  return { ok: true, value, exact, echo: wrote === kept ? wrote : `${wrote} ${exact ? '=' : '≈'} ${kept}` };
}

/** Tenths of a mg/L as "120 mg/L". */
export function sayInWater(tenths: number): string {
  return `${showDecimal(exactly(tenths), 1)} mg/L`;
}

/** How the pH of a bath of this water is solved: by the pH of the tap, where that was measured. */
export function tapOf(water: Water | null): BathConditions {
  return water?.pHTenths == null ? {} : { tapPh: water.pHTenths / 10 };
}

/**
 * Soda ash that hard water takes out as chalk, in mg/L: 0.106 g for each 100 mg of hardness, by molar masses of 105.99
 * and 100.09 g/mol.
 */
export function sodaLostMg({ hardnessTenths }: Water): number {
  return ((hardnessTenths ?? 0) / 10) * (105.99 / 100.09);
}

/** Sequestrant that binds the hardness, in mg/L of EDTA disodium dihydrate: mole for mole, 372.24 to 100.09 g/mol. */
export function sequestrantMg({ hardnessTenths }: Water): number {
  return ((hardnessTenths ?? 0) / 10) * (372.24 / 100.09);
}
