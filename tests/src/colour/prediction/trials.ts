import { deltaE00, type Lab } from '../../../../src/colour/lab.ts';
import { firstRecipes } from '../../../../src/colour/prediction/first-recipes.ts';
import { predictorFor } from '../../../../src/colour/prediction/predictor.ts';
import { shadeAgain } from '../../../../src/colour/prediction/shade-again.ts';
import { BOOTH, type DyeWorld, type Noise, readSwatch, someMixture, swatchesOf } from './dye-worlds.ts';

/** What was come to in one world, in units of CIEDE2000. */
export interface Trials {
  /** how far predicted shades lay from what the recipes really give */
  readonly forward: readonly number[];
  /** of each such recipe, whether it was read within its band when it was dyed */
  readonly covered: readonly boolean[];
  readonly bands: readonly number[];
  /** how far the first dyeing by a proposed recipe came out from what was wanted, and the second after a correction */
  readonly first: readonly number[];
  readonly second: readonly number[];
}

const DEEPEST = 4;
/** Of a pair in one photo 19 of 20 differences are right within this: a phone's is as good as a booth's. */
const PAIR_WITHIN = 1;

/**
 * Learns from swatches of a world, then predicts `recipes` mixtures that it never saw, and looks for recipes of `targets` shades,
 * which are dyed, seen beside the target in one photo, and dyed again.
 */
export function tryIn(
  world: DyeWorld,
  noise: Noise,
  {
    mixtures,
    recipes,
    targets,
  }: { readonly mixtures: number; readonly recipes: number; readonly targets: number },
): Trials {
  const predictor = predictorFor(swatchesOf(world, noise, mixtures), world.dyes, world.observer);
  const all = Array.from({ length: world.dyes }, (_, dye) => dye);
  const deepest = all.map(() => DEEPEST);
  const dyed = Array.from({ length: recipes }, () => {
    const amounts = someMixture(world);
    const predicted = predictor.shadeOf(amounts);
    const band = predictor.withinOf(amounts);
    return {
      off: deltaE00(predicted, world.shadeOf(amounts)),
      covered: deltaE00(predicted, readSwatch(world, amounts, noise)) <= band,
      band,
    };
  });
  const exactly = { reading: 0, repeats: noise.repeats };
  const tried = Array.from({ length: targets }, () => {
    const wanted = world.shadeOf(someMixture(world));
    const hand = { usable: all, deepest, pricePerPercent: all.map(() => null) };
    const amounts = firstRecipes(predictor, { lab: wanted, uncertainty: 0 }, hand, 1)[0]?.amounts ?? [];
    const trial = readSwatch(world, amounts, exactly);
    const seen = {
      wanted,
      trial: seenBeside(world, trial, noise),
      uncertainty: noise.reading > 0 ? PAIR_WITHIN : 0,
    };
    const used = all.filter((dye) => (amounts[dye] ?? 0) > 0);
    const next = shadeAgain(predictor, amounts, seen, used, deepest)?.amounts;
    const again = next ? readSwatch(world, next, exactly) : trial;
    return { first: deltaE00(wanted, trial), second: deltaE00(wanted, again) };
  });
  return {
    forward: dyed.map(({ off }) => off),
    covered: dyed.map(({ covered }) => covered),
    bands: dyed.map(({ band }) => band),
    first: tried.map(({ first }) => first),
    second: tried.map(({ second }) => second),
  };
}

/** The trial as a photo shows it beside its target, the target being right. */
function seenBeside({ random }: DyeWorld, { l, a, b }: Lab, noise: Noise): Lab {
  const off = () => (noise.reading > 0 ? (random() - 0.5) * BOOTH.reading : 0);
  return { l: l + off(), a: a + off(), b: b + off() };
}

/** The value below which a share of some numbers lie. */
export function quantile(numbers: readonly number[], share: number): number {
  const sorted = numbers.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}
