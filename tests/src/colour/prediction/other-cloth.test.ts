import { describe, expect, it } from 'vitest';
import { kOverS, reflectanceWith } from '../../../../src/colour/kubelka-munk.ts';
import { deltaE00 } from '../../../../src/colour/lab.ts';
import { carriedTo } from '../../../../src/colour/prediction/other-cloth.ts';
import { predictorFor } from '../../../../src/colour/prediction/predictor.ts';
import { labInLight } from '../../../../src/colour/spectrum.ts';
import { type DyeWorld, dyeWorld, EXACT, someMixture, swatchesOf } from './dye-worlds.ts';
import { quantile } from './trials.ts';

/** The same dyes on a yellower cloth that takes each of them more or less: 1.4, 0.7, 1.2 and 0.9 times. */
function onAnotherCloth(world: DyeWorld) {
  const bare = world.curveOf([0, 0, 0, 0]);
  const times = [1.4, 0.7, 1.2, 0.9];
  return (amounts: readonly number[]) => {
    const dyed = world.curveOf(amounts.map((amount, dye) => amount * (times[dye] ?? 1)));
    const curve = dyed.map((reflectance, band) =>
      reflectanceWith(kOverS(reflectance) - kOverS(bare[band] ?? 1) + 0.02 + 0.1 * Math.exp(-band / 6)),
    );
    return labInLight(curve, 'daylight', '2');
  };
}

describe('another cloth', () => {
  const errors = (withSwatches: boolean) =>
    [11, 23, 47].flatMap((seed) => {
      const world = dyeWorld(seed, 'exhaustion');
      const shadeOf = onAnotherCloth(world);
      const learned = predictorFor(swatchesOf(world, EXACT, 12), world.dyes, '2');
      const none = [0, 0, 0, 0];
      const dyed = [none, ...(withSwatches ? none.map((_, dye) => none.with(dye, 1)) : [])];
      const carried = carriedTo(
        learned,
        dyed.map((amounts) => ({ amounts, lab: shadeOf(amounts), uncertainty: 0 })),
      );
      return Array.from({ length: 20 }, () => {
        const amounts = someMixture(world);
        return deltaE00(carried.shadeOf(amounts), shadeOf(amounts));
      });
    });

  it('is predicted well from one swatch of 1 % of each dye, and badly from its undyed colour alone', () => {
    const [withThem, without] = [errors(true), errors(false)];
    expect(quantile(withThem, 0.5)).toBeLessThan(2);
    expect(quantile(without, 0.5)).toBeGreaterThan(1.5 * quantile(withThem, 0.5));
  });

  it('is always a rough guess', () => {
    const world = dyeWorld(11, 'power');
    const swatches = swatchesOf(world, EXACT, 12);
    const carried = carriedTo(predictorFor(swatches, 4, '2'), swatches.slice(0, 1));
    expect(carried).toMatchObject({ isRough: true, mixtures: 0 });
    expect(carried.withinOf([1, 1, 0, 0])).toBeGreaterThanOrEqual(6);
  });

  it('is refused without an undyed swatch', () => {
    const world = dyeWorld(11, 'power');
    const swatches = swatchesOf(world, EXACT, 9);
    expect(() => carriedTo(predictorFor(swatches, 4, '2'), [])).toThrow(/undyed/);
  });
});
