import { describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../../src/colour/lab.ts';
import { predictorFor, ROUGH_WITHIN } from '../../../../src/colour/prediction/predictor.ts';
import {
  BOOTH,
  dyeWorld,
  EXACT,
  type Noise,
  PHONE,
  someMixture,
  swatchesOf,
  UPTAKE_LAWS,
} from './dye-worlds.ts';
import { quantile, type Trials, tryIn } from './trials.ts';

const SEEDS = [11, 23, 47, 61, 83];

describe.each(UPTAKE_LAWS)('dyes that go on by a law of %s, which is not the model’s', (law) => {
  const asked = { mixtures: 12, recipes: 30, targets: 0 };
  const tried = new Map<Noise, Trials[]>();
  const trials = (noise: Noise) => {
    const found = tried.get(noise) ?? SEEDS.map((seed) => tryIn(dyeWorld(seed, law), noise, asked));
    tried.set(noise, found);
    return found;
  };

  it('are predicted within 1.5 by the median from exact colours and 12 mixtures, and bands cover 9 of 10', () => {
    const found = trials(EXACT);
    expect(
      quantile(
        found.flatMap(({ forward }) => forward),
        0.5,
      ),
    ).toBeLessThanOrEqual(1.5);
    expect(shareOf(found.flatMap(({ covered }) => covered))).toBeGreaterThanOrEqual(0.9);
  });

  it.each([
    ['a booth', BOOTH],
    ['a phone', PHONE],
  ])('are covered by their bands 9 times of 10 where colours are read with %s', (_, noise) => {
    expect(shareOf(trials(noise).flatMap(({ covered }) => covered))).toBeGreaterThanOrEqual(0.9);
  });

  it('are predicted better from mixtures than without', () => {
    const without = SEEDS.map((seed) => tryIn(dyeWorld(seed, law), BOOTH, { ...asked, mixtures: 0 }));
    const error = (of: readonly Trials[]) =>
      quantile(
        of.flatMap(({ forward }) => forward),
        0.5,
      );
    expect(error(trials(BOOTH))).toBeLessThan(error(without));
  });
});

describe('dyes whose swatches were read for the observer of 10°', () => {
  it('are predicted for that observer as well as for the other', () => {
    const found = SEEDS.map((seed) =>
      tryIn(dyeWorld(seed, 'exhaustion', 4, '10'), EXACT, { mixtures: 12, recipes: 30, targets: 0 }),
    );
    expect(
      quantile(
        found.flatMap(({ forward }) => forward),
        0.5,
      ),
    ).toBeLessThanOrEqual(1.5);
    expect(shareOf(found.flatMap(({ covered }) => covered))).toBeGreaterThanOrEqual(0.9);
  });
});

describe('a band', () => {
  it('is of mixtures that were left out: it is far wider than what is left over of those that were learned from', () => {
    const world = dyeWorld(23, 'power');
    const swatches = swatchesOf(world, BOOTH, 12);
    const predictor = predictorFor(swatches, world.dyes, '2');
    const mixtures = swatches.filter(({ amounts }) => amounts.filter((amount) => amount > 0).length > 1);
    const shown = mixtures.map(({ amounts, lab }) => deltaE00(predictor.shadeOf(amounts), lab));
    const bands = mixtures.map(({ amounts }) => predictor.withinOf(amounts));
    expect(quantile(bands, 0.5)).toBeGreaterThan(2 * quantile(shown, 0.9));
  });

  it('is wider for a recipe unlike any that was recorded', () => {
    const world = dyeWorld(23, 'power');
    const swatches = swatchesOf(world, EXACT, 12);
    const predictor = predictorFor(swatches, world.dyes, '2');
    const known = swatches.at(-1)?.amounts ?? [];
    expect(predictor.withinOf([3, 3, 3, 3])).toBeGreaterThan(predictor.withinOf(known));
  });

  it.each([0, 1, 7])('of %d mixtures is a rough guess, no narrower than 6', (mixtures) => {
    const world = dyeWorld(11, 'places');
    const predictor = predictorFor(swatchesOf(world, EXACT, mixtures), world.dyes, '2');
    expect(predictor).toMatchObject({ mixtures, isRough: true });
    expect(predictor.withinOf(someMixture(world))).toBeGreaterThanOrEqual(ROUGH_WITHIN);
  });

  it('of 8 mixtures is no rough guess', () => {
    const world = dyeWorld(11, 'places');
    const predictor = predictorFor(swatchesOf(world, EXACT, 8), world.dyes, '2');
    expect(predictor).toMatchObject({ mixtures: 8, isRough: false });
    expect(predictor.withinOf(someMixture(world))).toBeLessThan(ROUGH_WITHIN);
  });
});

describe('a predictor', () => {
  it('knows the undyed cloth, and single dyes as they were read', () => {
    const world = dyeWorld(47, 'exhaustion');
    const predictor = predictorFor(swatchesOf(world, EXACT, 12), world.dyes, '2');
    expect(deltaE00(predictor.shadeOf([0, 0, 0, 0]), world.shadeOf([0, 0, 0, 0]))).toBeLessThan(0.3);
    expect(deltaE00(predictor.shadeOf([1, 0, 0, 0]), world.shadeOf([1, 0, 0, 0]))).toBeLessThan(1);
  });

  it('darkens with every dye that is added', () => {
    const world = dyeWorld(47, 'exhaustion');
    const { shadeOf } = predictorFor(swatchesOf(world, BOOTH, 12), world.dyes, '2');
    const lightness = [0.1, 0.3, 1, 3].map((amount) => shadeOf([amount, 0, amount, 0]).l);
    expect(lightness).toEqual(lightness.toSorted((a, b) => b - a));
  });

  it('is the same for the same swatches', () => {
    const world = dyeWorld(61, 'power');
    const swatches = swatchesOf(world, PHONE, 9);
    const [one, other] = [predictorFor(swatches, 4, '2'), predictorFor(swatches, 4, '2')];
    expect(one.shadeOf([0.3, 0, 1.1, 0])).toEqual(other.shadeOf([0.3, 0, 1.1, 0]));
    expect(one.withinOf([0.3, 0, 1.1, 0])).toBe(other.withinOf([0.3, 0, 1.1, 0]));
  });

  it('is refused without an undyed swatch, and without one of each dye alone', () => {
    const swatches = swatchesOf(dyeWorld(61, 'power'), EXACT, 9);
    const isUndyed = ({ amounts }: (typeof swatches)[number]) => amounts.every((amount) => amount === 0);
    expect(() =>
      predictorFor(
        swatches.filter((each) => !isUndyed(each)),
        4,
        '2',
      ),
    ).toThrow(/undyed/);
    const without = swatches.filter(({ amounts }) => (amounts[2] ?? 0) === 0);
    expect(() => predictorFor(without, 4, '2')).toThrow(/alone/);
  });

  it('stays a number where a swatch was written down all wrong', () => {
    const swatches = swatchesOf(dyeWorld(61, 'power'), EXACT, 9);
    const wrong = swatches.map((each, at) => (at === 4 ? { ...each, lab: { l: 0, a: 0, b: 0 } } : each));
    const { shadeOf, withinOf } = predictorFor(
      [...wrong, { amounts: [20, 20, 0, 0], lab: { l: 98, a: 90, b: -90 }, uncertainty: 0 }],
      4,
      '2',
    );
    for (const value of [...Object.values(shadeOf([1, 1, 0, 0])), withinOf([1, 1, 0, 0])])
      expect(Number.isFinite(value)).toBe(true);
  });
});

function shareOf(covered: readonly boolean[]): number {
  return covered.filter(Boolean).length / covered.length;
}
