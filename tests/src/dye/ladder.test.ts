import { describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../src/colour/lab.ts';
import { equalLooks, equalRatios, isHalving, jugHalving, readLadder } from '../../../src/dye/ladder.ts';

describe('a ladder of depths', () => {
  // Worked out: D1 × (Dn ÷ D1)^((i − 1) ÷ (n − 1)).
  it.each([
    [2000, 100, 5, [2, 0.946, 0.447, 0.211, 0.1]],
    [2000, 100, 6, [2, 1.099, 0.603, 0.331, 0.182, 0.1]],
    [4000, 125, 6, [4, 2, 1, 0.5, 0.25, 0.125]],
  ])('from %d to %d thousandths in %d steps has equal ratios', (first, last, steps, percents) => {
    const depths = equalRatios(first, last, steps);
    depths.forEach((depth, at) => {
      expect(Math.abs(depth / 1000 - (percents[at] ?? 0))).toBeLessThanOrEqual(0.001);
    });
    expect(depths).toHaveLength(percents.length);
  });

  it('is refused without a depth, or with one step', () => {
    expect(() => equalRatios(0, 100, 5)).toThrow(RangeError);
    expect(() => equalRatios(100, 200, 1)).toThrow(RangeError);
    expect(() => equalRatios(100, 200, 13)).toThrow(RangeError);
  });

  it.each([
    ['0.1/0.2/0.4/0.8/1.6', [100, 200, 400, 800, 1600]],
    ['2, 1 0.5 %'.replace(',', ''), [2000, 1000, 500]],
    ['0.1 % / 0.2 % owf', [100, 200]],
  ])('is read as it is written: %s', (typed, depths) => {
    expect(readLadder(typed)).toMatchObject({ ok: true, value: depths });
  });

  it.each([
    ['1', /2 to 12 depths/],
    ['0.1/0.2/0.2', /in order/],
    ['0.1/0.4/0.2', /in order/],
    ['0/1', /above 0/],
    ['1/30', /20 % owf or less/],
    ['1/much', /much/],
  ])('says why %s is none', (typed, reason) => {
    const reading = readLadder(typed);
    expect(reading.ok ? '' : reading.reason).toMatch(reason);
  });
});

describe('the jug-halving ladder', () => {
  // A hand-dye tutorial disc, textfiles 8117: jug at 400 mL, half into each vessel, filled up again.
  it('gives four vessels 1, ½, ¼ and ⅛ of the strength, and the last two differ', () => {
    expect(jugHalving(4).map(({ denominator }) => 1 / denominator)).toEqual([1, 1 / 2, 1 / 4, 1 / 8]);
    // Poured by hand: half a jug goes out, the rest is filled up with water.
    const poured: number[] = [];
    let dye = 400;
    for (let vessel = 0; vessel < 4; vessel += 1) {
      poured.push(dye / 2 / 200);
      dye /= 2;
    }
    expect(poured).toEqual([1, 1 / 2, 1 / 4, 1 / 8]);
    // The trap: the leftover half as well makes the last vessel as strong as the one before, in all its dye.
    expect((poured[3] ?? 0) + dye / 200).toBe(poured[2]);
  });

  it('is offered for depths that halve', () => {
    expect(isHalving([1600, 800, 400, 200, 100])).toBe(true);
    expect(isHalving([125, 250, 500])).toBe(true);
    expect(isHalving([2000, 946, 447])).toBe(false);
  });
});

describe('depths that look equally far apart', () => {
  // A grey whose lightness falls fast at first: by hand, half of the fall is done at the depth where L* is the mean.
  const shadeAt = (depth: number) => ({ l: 95 - 20 * Math.log10(1 + depth / 20), a: 0, b: 0 });

  it('differ alike from each to the next, to the rounding of a depth', () => {
    const depths = equalLooks(100, 1600, 5, shadeAt);
    expect([depths[0], depths.at(-1)]).toEqual([100, 1600]);
    const apart = depths.slice(1).map((depth, at) => deltaE00(shadeAt(depths[at] ?? 0), shadeAt(depth)));
    expect(Math.max(...apart) - Math.min(...apart)).toBeLessThan(0.05);
    const ratios = equalRatios(100, 1600, 5);
    const apartByRatio = ratios
      .slice(1)
      .map((depth, at) => deltaE00(shadeAt(ratios[at] ?? 0), shadeAt(depth)));
    expect(Math.max(...apartByRatio) - Math.min(...apartByRatio)).toBeGreaterThan(0.5);
  });

  it('go from deep to pale too', () => {
    expect(equalLooks(1600, 100, 5, shadeAt)).toEqual(equalLooks(100, 1600, 5, shadeAt).toReversed());
  });

  it('are the ratios where nothing can be told apart', () => {
    expect(equalLooks(100, 400, 3, () => ({ l: 50, a: 0, b: 0 }))).toEqual([100, 200, 400]);
  });
});
