import { describe, expect, it } from 'vitest';
import { deltaE00, type Lab } from '../../../../src/colour/lab.ts';
import { predictorFor } from '../../../../src/colour/prediction/predictor.ts';
import { shadeAgain } from '../../../../src/colour/prediction/shade-again.ts';
import { BOOTH, dyeWorld, EXACT, PHONE, swatchesOf, UPTAKE_LAWS } from './dye-worlds.ts';
import { quantile, tryIn } from './trials.ts';

const world = dyeWorld(47, 'power');
const predictor = predictorFor(swatchesOf(world, EXACT, 12), world.dyes, '2');
const TRIAL = [0.5, 0, 0.4, 0];
const DEEPEST = [4, 4, 4, 4];
const again = (wanted: Lab, trial: Lab, uncertainty: number, dyes = [0, 2]) =>
  shadeAgain(predictor, TRIAL, { wanted, trial, uncertainty }, dyes, DEEPEST);

describe('shading again', () => {
  const trial = world.shadeOf(TRIAL);
  const wanted = world.shadeOf([0.7, 0, 0.4, 0]);

  it('moves the dye that is short, in a world that the model does not know', () => {
    const next = again(wanted, trial, 0);
    expect(next?.share).toBe(1);
    expect(next?.amounts[0]).toBeGreaterThan(0.6);
    expect(deltaE00(world.shadeOf(next?.amounts ?? []), wanted)).toBeLessThan(deltaE00(trial, wanted) / 3);
  });

  it('does not mind an error that target and trial share', () => {
    const shifted = ({ l, a, b }: Lab): Lab => ({ l: l + 3, a: a - 2, b: b + 4 });
    const [plain, both] = [again(wanted, trial, 0), again(shifted(wanted), shifted(trial), 0)];
    expect(both?.amounts[0]).toBeCloseTo(plain?.amounts[0] ?? 0, 1);
    expect(both?.amounts[2]).toBeCloseTo(plain?.amounts[2] ?? 0, 1);
  });

  it('corrects less, the less sure the difference is: (d² − e²) ÷ d²', () => {
    const seen = deltaE00(trial, wanted);
    const next = again(wanted, trial, seen);
    // Of errors within 1 for 19 of 20 the mean square is 3 ÷ 7.815, the 95 % point of chi-square with three degrees (tables).
    expect(next?.share).toBeCloseTo(1 - 3 / 7.815, 6);
    expect((next?.amounts[0] ?? 0) - 0.5).toBeLessThan((again(wanted, trial, 0)?.amounts[0] ?? 0) - 0.5);
    expect(next?.amounts[0]).toBeGreaterThan(0.5);
  });

  it('is not done where the difference is no larger than errors are', () => {
    const seen = deltaE00(trial, wanted);
    expect(again(wanted, trial, seen * 1.7)).toBeNull();
    expect(again(trial, trial, 0)).toBeNull();
  });

  it('says how much stays where the dyes of the trial cannot go there, and takes one more where it is given', () => {
    const redder = world.shadeOf([0.5, 0.3, 0.4, 0]);
    const without = again(redder, trial, 0);
    const withIt = again(redder, trial, 0, [0, 1, 2]);
    expect(without?.rest).toBeGreaterThan(1);
    expect(withIt?.rest).toBeLessThan(0.2);
    expect(withIt?.amounts[1]).toBeGreaterThan(0.15);
  });
});

describe.each(UPTAKE_LAWS)('one correction from a pair in one photo, in a world of %s', (law) => {
  it.each([
    ['a booth', BOOTH],
    ['a phone', PHONE],
  ])('brings dyeings nearer on the whole, where swatches were read with %s', (_, noise) => {
    const found = [11, 23, 83].map((seed) =>
      tryIn(dyeWorld(seed, law), noise, { mixtures: 12, recipes: 0, targets: 8 }),
    );
    const [first, second] = [found.flatMap((each) => each.first), found.flatMap((each) => each.second)];
    expect(quantile(second, 0.75)).toBeLessThan(quantile(first, 0.75));
    expect(quantile(second, 0.5)).toBeLessThan(1.5);
  });
});
