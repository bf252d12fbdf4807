import { isNearGrey } from './difference-words.ts';
import { hueOf, type Lab } from './lab.ts';

/** Where the round of hues begins, in degrees of OKLCH (our rule): between violet and pink, so that pinks lie beside reds. */
const FIRST_HUE = 335;

/** Colours as they hang beside each other: by hue, then what has no hue, then what has no colour. */
export interface HueOrder<T> {
  /** pinks, reds, oranges, yellows, greens, blues, violets */
  readonly hues: readonly T[];
  /** whites, greys and blacks, the lightest first */
  readonly greys: readonly T[];
  /** those without a colour, in the order in which they came */
  readonly uncoloured: readonly T[];
}

/** Puts things in the order of their colours; `labOf` gives null where no colour is known. Things alike stay in their order. */
export function orderByHue<T>(things: readonly T[], labOf: (thing: T) => Lab | null): HueOrder<T> {
  const hues: Placed<T>[] = [];
  const greys: Placed<T>[] = [];
  const uncoloured: T[] = [];
  for (const thing of things) {
    const lab = labOf(thing);
    if (lab === null) uncoloured.push(thing);
    else if (isNearGrey(lab)) greys.push({ thing, turn: 0, l: lab.l });
    else hues.push({ thing, turn: (hueOf(lab) - FIRST_HUE + 360) % 360, l: lab.l });
  }
  return { hues: inOrder(hues), greys: inOrder(greys), uncoloured };
}

interface Placed<T> {
  readonly thing: T;
  /** degrees from the first hue on */
  readonly turn: number;
  readonly l: number;
}

function inOrder<T>(placed: readonly Placed<T>[]): T[] {
  return placed.toSorted((one, other) => one.turn - other.turn || other.l - one.l).map(({ thing }) => thing);
}
