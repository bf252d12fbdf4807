/**
 * What the swatches of a cloth tell beyond the model: dyes never mix just as a law of mixing says, so a prediction is moved as
 * recorded dyeings near it are off (kriging of what the model leaves over in L*, a* and b*).
 */

import type { Lab } from '../lab.ts';
import { solveFor, takeApart } from '../linear.ts';
import { type DyedSwatch, type DyeModel, dyedLab, dyesIn } from './dye-model.ts';
import { DEVIATIONS_WITHIN } from './fit.ts';

/** How far a model is off, how far apart in ln(1 + amount ÷ 0.1 %) that is still alike, and what is of one swatch alone. */
const OFF = 2;
const ALIKE = 2;
const PALE = 0.1;
const ALONE = 0.5;
const ALONE_UNDYED = 0.05;

export interface Learned {
  /** the colour that model and swatches together expect of amounts in %: D65, for the model's observer */
  shadeOf(amounts: readonly number[]): Lab;
  /** how unlike what was recorded a recipe is: the less is known near it, the more; only for comparing with others */
  strangenessOf(amounts: readonly number[]): number;
}

/** Learns from swatches how far a model is off. */
export function learnFrom(model: DyeModel, swatches: readonly DyedSwatch[]): Learned {
  const n = swatches.length;
  const places = swatches.map(({ amounts }) => placeOf(amounts));
  const matrix = new Float64Array(n * n);
  places.forEach((place, row) => {
    matrix.set(likenesses(places.slice(0, row), place), row * n);
    const { amounts, lab, uncertainty } = swatches[row] as DyedSwatch;
    const alone = dyesIn(amounts) === 0 ? ALONE_UNDYED : ALONE;
    matrix[row * n + row] = OFF ** 2 + alone ** 2 + inLab(lab, uncertainty / DEVIATIONS_WITHIN) ** 2;
  });
  takeApart(matrix);
  const left = swatches.map(({ amounts, lab }) => {
    const expected = dyedLab(model, amounts);
    return { l: lab.l - expected.l, a: lab.a - expected.a, b: lab.b - expected.b };
  });
  const pull = (axis: keyof Lab) =>
    solveFor(
      matrix,
      Float64Array.from(left, (each) => each[axis]),
    );
  const [pullL, pullA, pullB] = [pull('l'), pull('a'), pull('b')];
  return {
    shadeOf(amounts) {
      const { l, a, b } = dyedLab(model, amounts);
      const near = likenesses(places, placeOf(amounts));
      const lightness = l + dot(pullL, near);
      return { l: Math.min(100, Math.max(0, lightness)), a: a + dot(pullA, near), b: b + dot(pullB, near) };
    },
    strangenessOf(amounts) {
      const near = likenesses(places, placeOf(amounts));
      const unknown = OFF ** 2 - dot(solveFor(matrix, near), near);
      return Math.sqrt(Math.max(0, unknown) + ALONE ** 2);
    },
  };
}

function placeOf(amounts: readonly number[]): Float64Array {
  return Float64Array.from(amounts, (amount) => Math.log(1 + amount / PALE));
}

function likenesses(places: readonly Float64Array[], here: Float64Array): Float64Array {
  return Float64Array.from(places, (place) => {
    let squared = 0;
    for (let dye = 0; dye < here.length; dye++)
      squared += ((place[dye] as number) - (here[dye] as number)) ** 2;
    return OFF ** 2 * Math.exp(-squared / (2 * ALIKE ** 2));
  });
}

/** About how far a difference of CIEDE2000 goes in L*, a* and b*: farther, the stronger the colour (its S_C, from Sharma, Wu and Dalal). */
function inLab({ a, b }: Lab, difference: number): number {
  return difference * (1 + 0.02 * Math.hypot(a, b));
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < one.length; at++) sum += (one[at] as number) * (other[at] as number);
  return sum;
}
