/** How dense a lye or a liquor is by the degrees of a hydrometer, as silicate and caustic soda are sold. */

import { type Reading, refused } from '../quantity/reading.ts';

const SCALES = [
  {
    names: /^b(?:é|e|aumé|aume)$/i,
    sign: '°Bé',
    most: 72,
    mgPerMl: (degrees: number) => 145_000 / (145 - degrees),
  },
  { names: /^tw(?:addell?)?$/i, sign: '°Tw', most: 200, mgPerMl: (degrees: number) => 1000 + 5 * degrees },
] as const;

/**
 * Reads what a hydrometer shows, in mg in a mL of the liquor, rounded to the whole: "36 °Bé" (for liquids heavier than
 * water: 145 ÷ (145 − °Bé)), "110 °Tw" (1 + °Tw ÷ 200; both from memory). From 0 to 72 °Bé and to 200 °Tw.
 */
export function readHydrometer(typed: string): Reading<number> {
  const [, number = '', name = ''] = /^(\d{1,3}(?:[.,]\d{1,2})?) ?°? ?(\p{L}+)$/u.exec(typed.trim()) ?? [];
  const scale = SCALES.find(({ names }) => names.test(name));
  if (!scale) return refused('Write the strength of the lye as 36 °Bé or 66 °Tw.');
  const degrees = Number(number.replace(',', '.'));
  if (degrees > scale.most) return refused(`Write ${scale.most} ${scale.sign} or less.`);
  const exact = scale.mgPerMl(degrees);
  const value = Math.round(exact);
  const echo = `${number} ${scale.sign} ≈ ${(value / 1000).toFixed(3)} g/mL`;
  return { ok: true, value, exact: value === exact, echo };
}
