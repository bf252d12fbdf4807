/** Carries what was learned on one cloth to another, by one swatch of each dye on it. */

import { curveWithColour } from '../curve-from-lab.ts';
import { kOverS } from '../kubelka-munk.ts';
import { deltaE00, meanLab } from '../lab.ts';
import { type DyedSwatch, type DyeModel, dyedLab, dyesIn } from './dye-model.ts';
import { learnFrom } from './learned.ts';
import { roughWithin, type ShadePredictor } from './predictor.ts';

/** A cloth takes up to e² times as much of a dye as another, or as little (our rule). */
const STRONGEST = 2;
const HALVINGS = 40;

/**
 * A predictor for another cloth: its own undyed colour, the dyes' curves from `learned`, each as strong as its swatches on this
 * cloth have it. `swatches` are of this cloth, one or more undyed; a dye that none of them has alone stays as
 * strong as it was and should not be used. What it predicts is a rough guess. Throws RangeError without an undyed swatch.
 */
export function carriedTo(learned: ShadePredictor, swatches: readonly DyedSwatch[]): ShadePredictor {
  const undyed = swatches.filter(({ amounts }) => dyesIn(amounts) === 0);
  if (undyed.length === 0) throw new RangeError('Another cloth needs an undyed swatch');
  const cloth = curveWithColour(meanLab(undyed.map(({ lab }) => lab)), learned.model.observer).map(kOverS);
  const bare: DyeModel = { ...learned.model, cloth };
  const perPercent = bare.perPercent.map((curve, dye) => {
    const alone = swatches.filter(({ amounts }) => (amounts[dye] ?? 0) > 0 && dyesIn(amounts) === 1);
    const times = alone.length === 0 ? 1 : strengthOf(bare, dye, alone);
    return curve.map((ratio) => ratio * times);
  });
  const model = { ...bare, perPercent };
  const { shadeOf } = learnFrom(model, swatches);
  return {
    model,
    mixtures: swatches.filter(({ amounts }) => dyesIn(amounts) > 1).length,
    isRough: true,
    shadeOf,
    withinOf: (amounts) => Math.max(roughWithin(swatches), learned.withinOf(amounts)),
  };
}

/** How many times as strong a dye is on this cloth: where its swatches are missed least, by golden sections. */
function strengthOf(model: DyeModel, dye: number, alone: readonly DyedSwatch[]): number {
  const missed = (log: number) => {
    const perPercent = model.perPercent.with(
      dye,
      (model.perPercent[dye] ?? []).map((ratio) => ratio * Math.exp(log)),
    );
    return alone.reduce((sum, { amounts, lab }) => {
      const expected = dyedLab({ ...model, perPercent }, amounts);
      return sum + deltaE00(lab, expected) ** 2;
    }, 0);
  };
  const golden = (Math.sqrt(5) - 1) / 2;
  let [from, to] = [-STRONGEST, STRONGEST];
  for (let step = 0; step < HALVINGS; step++) {
    const [one, other] = [to - golden * (to - from), from + golden * (to - from)];
    if (missed(one) < missed(other)) to = other;
    else from = one;
  }
  return Math.exp((from + to) / 2);
}
