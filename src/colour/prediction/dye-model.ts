/**
 * What colour a cloth gets from its dyes. K/S of the cloth and of what each dye has put on it add up band by band; of a dye goes
 * on the less, the fuller the fibre is of it and of the others.
 */

import type { Observer } from '../colour-reading.ts';
import { reflectanceWith } from '../kubelka-munk.ts';
import type { Lab } from '../lab.ts';
import { BANDS, type Curve, labInLight } from '../spectrum.ts';

/** A swatch of the cloth: what it was dyed with, and its colour as it was read. */
export interface DyedSwatch {
  /** of each dye of the set in its order, in % on weight of fabric; undyed where all are 0 */
  readonly amounts: readonly number[];
  /** D65, for the observer of the whole set */
  readonly lab: Lab;
  /** 19 of 20 such readings lie within this, in units of CIEDE2000 */
  readonly uncertainty: number;
}

export interface DyeModel {
  /** whose colours it was fitted to and predicts */
  readonly observer: Observer;
  /** K/S of the undyed cloth by band */
  readonly cloth: Curve;
  /** of each dye, K/S by band of each % that is on the fibre */
  readonly perPercent: readonly Curve[];
  /** of each dye, how much 1 % of it hinders what follows: u = c ÷ (1 + c × fullness) where it is alone */
  readonly fullness: readonly number[];
  /** how much of that it hinders another dye; 0 where each goes on as if alone, 1 where all want the same places */
  readonly crowding: number;
}

/** How many dyes a swatch has. */
export function dyesIn(amounts: readonly number[]): number {
  return amounts.filter((amount) => amount > 0).length;
}

/** What of each dye is on the fibre, in % that count, from what went into the bath. */
export function takenUp({ fullness, crowding }: Uptake, amounts: readonly number[]): number[] {
  const hindered = amounts.map((amount, dye) => amount * (fullness[dye] ?? 0));
  const all = hindered.reduce((sum, each) => sum + each, 0);
  return amounts.map((amount, dye) => {
    const own = hindered[dye] ?? 0;
    return amount / (1 + own + crowding * (all - own));
  });
}

export type Uptake = Pick<DyeModel, 'fullness' | 'crowding'>;

/** The reflectance of a cloth that was dyed with so much of each dye, as the model has it. */
export function dyedCurve(model: DyeModel, amounts: readonly number[]): Curve {
  const taken = takenUp(model, amounts);
  return Array.from({ length: BANDS }, (_, band) => {
    let ratio = model.cloth[band] as number;
    for (let dye = 0; dye < taken.length; dye++)
      ratio += (taken[dye] as number) * (model.perPercent[dye]?.[band] as number);
    return reflectanceWith(ratio);
  });
}

/** The colour of such a cloth in daylight (D65), for the model's observer. */
export function dyedLab(model: DyeModel, amounts: readonly number[]): Lab {
  return labInLight(dyedCurve(model, amounts), 'daylight', model.observer);
}
