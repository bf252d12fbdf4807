import culori from 'culori/require';
import { describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../src/colour/lab.ts';
import { labFromReflectances, reflectancesOf } from '../../../src/colour/reflectance.ts';
import { dealLots, type StepLength, type UndyedLot } from '../../../src/dye/deal-lots.ts';
import { dipMoves, exposures } from '../../../src/dye/dip.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import {
  bathOrder,
  type MeasuredDepth,
  neighbourDifferences,
  seriesSteps,
  seriesWarnings,
  whyNotTogether,
} from '../../../src/dye/series.ts';

function recipe(dyes: Readonly<Record<string, number>>, more: Partial<Recipe> = {}): Recipe {
  return {
    dyeClass: 'acid-levelling',
    method: '',
    dyes: Object.entries(dyes).map(([name, owfMilli]) => ({ name, owfMilli })),
    auxiliaries: [],
    liquorRatioMilli: 20_000,
    temperatureC: 98,
    holdMinutes: 45,
    marks: {},
    ...more,
  };
}

describe('the steps of a series', () => {
  const depths = [100, 200, 400, 800, 1600];

  it('of one recipe keep its proportions', () => {
    const steps = seriesSteps({ fibre: 'nylon', recipe: recipe({ Blue: 1500, Green: 500 }) }, null, depths);
    for (const [at, { recipe: made, movedBp }] of steps.entries()) {
      const depth = depths[at] ?? 0;
      expect(movedBp).toBe(0);
      expect(made.dyes).toEqual([
        { name: 'Blue', owfMilli: (depth * 3) / 4 },
        { name: 'Green', owfMilli: depth / 4 },
      ]);
    }
  });

  it('of two recipes move from the one to the other in equal steps, whatever their depths', () => {
    const steps = seriesSteps(
      { fibre: 'nylon', recipe: recipe({ Blue: 2000 }) },
      { fibre: 'nylon', recipe: recipe({ Gold: 150, Blue: 50 }) },
      depths,
    );
    // Gold is three quarters of the second recipe; its share goes 0, 3/16 (of 200, 37.5), 3/8, 9/16, 3/4.
    const gold = steps.map(
      ({ recipe: made }) => made.dyes.find(({ name }) => name === 'Gold')?.owfMilli ?? 0,
    );
    expect(gold).toEqual([0, 37, 150, 450, 1200]);
    for (const [at, { recipe: made }] of steps.entries())
      expect(made.dyes.reduce((sum, { owfMilli }) => sum + owfMilli, 0)).toBe(depths[at]);
  });

  it('are refused of two fibres, classes or groups', () => {
    const nylon = { fibre: 'nylon' as const, recipe: recipe({ Blue: 1 }) };
    expect(whyNotTogether(nylon, nylon)).toBe('');
    expect(whyNotTogether(nylon, { ...nylon, fibre: 'silk' })).toContain('for nylon and the other for silk');
    const basic = { ...nylon, recipe: recipe({ Blue: 1 }, { dyeClass: 'acid-milling' }) };
    expect(whyNotTogether(nylon, basic)).toContain('one bath takes one class');
    const other = { ...nylon, recipe: recipe({ Blue: 1 }, { method: 'hot' }) };
    expect(whyNotTogether(nylon, other)).toContain('they want other heats');
  });

  it('are dyed from pale to deep, and warned of near the label’s maximum', () => {
    expect(bathOrder([1600, 100, 400])).toEqual([1, 2, 0]);
    const ids = (most: number | null) => seriesWarnings(depths, most).map(({ id }) => id);
    expect(ids(null)).toEqual(['ratios-not-looks']);
    expect(ids(2000)).toEqual(['ratios-not-looks']);
    expect(ids(1999)).toContain('near-full');
  });
});

const D65_10 = { illuminant: 'D65', observer: '10' } as const;

describe('what neighbours differ by', () => {
  const at = (depthOwfMilli: number, l: number): MeasuredDepth => ({
    depthOwfMilli,
    lab: { l, a: -5, b: -10 },
    viewing: D65_10,
  });
  const five = [at(100, 88), at(300, 78), at(600, 68), at(1000, 59), at(2000, 46)];

  it('is that of their swatches where both are measured', () => {
    const [only] = neighbourDifferences([100, 300], five.slice(0, 2), false);
    expect(only).toEqual({
      ok: true,
      how: 'measured',
      deltaE: deltaE00({ l: 88, a: -5, b: -10 }, { l: 78, a: -5, b: -10 }),
    });
  });

  it('is worked out between five measured depths, and lies between theirs', () => {
    const differences = neighbourDifferences([100, 200, 400, 800, 1600], five, true);
    expect(differences.map(({ ok }) => ok)).toEqual([true, true, true, true]);
    const whole = deltaE00({ l: 88, a: -5, b: -10 }, { l: 46, a: -5, b: -10 });
    for (const each of differences) {
      if (!each.ok) throw new Error(each.reason);
      expect(each.how).toBe('worked out');
      expect(each.deltaE).toBeGreaterThan(3);
      expect(each.deltaE).toBeLessThan(whole);
    }
  });

  it('follows Kubelka and Munk: a grey whose K/S doubles with its dye is found again', () => {
    // R of a grey with K/S of 0.5 × depth: worked by hand from K/S = (1 − R)² ÷ 2R.
    const grey = (depth: number) => {
      const ratio = 0.5 * (depth / 100);
      const r = 1 + ratio - Math.sqrt(ratio * ratio + 2 * ratio);
      return labFromReflectances([r, r, r]);
    };
    const measured = [100, 200, 400, 800, 1600].map((depth) => ({
      depthOwfMilli: depth,
      lab: grey(depth),
      viewing: D65_10,
    }));
    const [first] = neighbourDifferences([300, 600], measured, true);
    if (!first?.ok) throw new Error('it can be worked out');
    expect(first.deltaE).toBeCloseTo(deltaE00(grey(300), grey(600)), 6);
  });

  it('is predicted where a step was not dyed and its dyes are known, before it is worked out between swatches', () => {
    const between = { l: 80, a: -5, b: -10 };
    const [first, second] = neighbourDifferences([100, 200, 300], five, true, [null, between, null]);
    expect(first).toEqual({
      ok: true,
      how: 'predicted',
      deltaE: deltaE00({ l: 88, a: -5, b: -10 }, between),
    });
    expect(second).toMatchObject({ how: 'predicted' });
  });

  it('never compares swatches that were read for two observers', () => {
    const odd = { ...at(150, 70), viewing: { illuminant: 'D65', observer: '2' } as const };
    const [only] = neighbourDifferences([100, 150], [...five, odd], false);
    expect(only).toEqual({
      ok: false,
      reason: 'its swatch was read for D65, 2°, the others for D65, 10°',
    });
  });

  it('says why it cannot be told', () => {
    const reason = (depths: number[], measured: MeasuredDepth[], kept: boolean) => {
      const [first] = neighbourDifferences(depths, measured, kept);
      return first?.ok === false ? first.reason : '';
    };
    expect(reason([100, 150], five.slice(0, 4), true)).toContain('of 5 depths to work it out from 4 are');
    expect(reason([100, 150], five, false)).toContain('another proportion');
    expect(reason([50, 100], five, true)).toContain('beyond those that are');
  });

  it('takes X, Y and Z of a colour as a library does', () => {
    const toXyz = culori.converter('xyz65');
    const white = toXyz({ mode: 'lab65', l: 100, a: 0, b: 0 });
    for (const lab of [
      { l: 5, a: 2, b: -3 },
      { l: 34.4, a: -12.9, b: -21.3 },
      { l: 94, a: 0.2, b: 2 },
    ]) {
      const { x, y, z } = toXyz({ mode: 'lab65', ...lab });
      const parts = reflectancesOf(lab);
      [x / white.x, y / white.y, z / white.z].forEach((part, axis) => {
        expect(parts[axis]).toBeCloseTo(part, 6);
      });
      const back = labFromReflectances(parts);
      expect([back.l, back.a, back.b].map((each) => Math.round(each * 1e6) / 1e6)).toEqual([
        lab.l,
        lab.a,
        lab.b,
      ]);
    }
  });
});

describe('lots dealt to steps', () => {
  const lot = (lotId: number, ...pieces: number[]): UndyedLot => ({
    lotId,
    pieces: pieces.map((freeTicks, at) => ({ pieceId: lotId * 10 + at, freeTicks })),
  });
  const step = (lengthTicks: number, leastTicks = 1): StepLength => ({ lengthTicks, leastTicks });

  it('give each step one lot, though the longest first would not', () => {
    // 8 + 4 and 7 + 5 fit 12 and 12; 8 with 5 would leave 7 + 4 for 12 and fit nowhere else.
    const dealt = dealLots([step(8), step(7), step(5), step(4)], [lot(1, 12), lot(2, 12)], false);
    expect(dealt.every(({ lengths }) => lengths.length === 1)).toBe(true);
    const sums = [1, 2].map((lotId) =>
      dealt
        .flatMap(({ lengths }) => lengths)
        .reduce((sum, each) => (each.lotId === lotId ? sum + each.lengthTicks : sum), 0),
    );
    expect(sums).toEqual([12, 12]);
  });

  it('mix lots only where that is asked for, and say so', () => {
    const steps = [step(8), step(8)];
    const lots = [lot(1, 10), lot(2, 7)];
    expect(dealLots(steps, lots, false).map(({ lengths }) => lengths.length)).toEqual([1, 0]);
    const mixed = dealLots(steps, lots, true);
    expect(mixed[1]).toMatchObject({ mixed: true });
    expect(mixed[1]?.lengths.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0)).toBe(8);
    expect(dealLots([step(18)], lots, true)[0]?.lengths).toEqual([]);
  });

  it('part a length only into what can be cut in one', () => {
    expect(
      dealLots([step(9, 3)], [lot(1, 7, 3)], false)[0]?.lengths.map(({ lengthTicks }) => lengthTicks),
    ).toEqual([6, 3]);
    expect(dealLots([step(9, 5)], [lot(1, 7, 3)], false)[0]?.lengths).toEqual([]);
  });

  it('are as good as every way of giving steps to lots, and never take more than there is', () => {
    let seed = 7;
    const random = (most: number) => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
      return seed % most;
    };
    for (let round = 0; round < 60; round += 1) {
      const steps = Array.from({ length: 2 + random(4) }, () => step(1 + random(9)));
      const lots = Array.from({ length: 1 + random(3) }, (_, at) => lot(at + 1, 1 + random(14)));
      const dealt = dealLots(steps, lots, false);
      // One piece a lot: a set of steps fits where their sum does.
      let most = 0;
      for (let way = 0; way < (lots.length + 1) ** steps.length; way += 1) {
        const given = steps.map((_, at) => Math.floor(way / (lots.length + 1) ** at) % (lots.length + 1));
        const fits = lots.every(({ pieces }, of) => {
          const sum = steps.reduce(
            (all, { lengthTicks }, at) => (given[at] === of ? all + lengthTicks : all),
            0,
          );
          return sum <= (pieces[0]?.freeTicks ?? 0);
        });
        if (fits) most = Math.max(most, given.filter((of) => of < lots.length).length);
      }
      expect(dealt.filter(({ lengths }) => lengths.length > 0)).toHaveLength(most);
      for (const { lotId, pieces } of lots) {
        const taken = dealt
          .flatMap(({ lengths }) => lengths)
          .reduce((sum, each) => (each.lotId === lotId ? sum + each.lengthTicks : sum), 0);
        expect(taken).toBeLessThanOrEqual(pieces[0]?.freeTicks ?? 0);
      }
    }
  });
});

describe('a gradient in one length', () => {
  it('gives bands times as 1 : 4 : 9, so that depths go as 1 : 2 : 3', () => {
    // Uptake by the square root of time: worked out.
    expect(exposures(3, 9)).toEqual([1, 4, 9]);
    expect(exposures(6, 36)).toEqual([1, 4, 9, 16, 25, 36]);
    expect(() => exposures(2, 9)).toThrow(RangeError);
    expect(() => exposures(6, 0)).toThrow(RangeError);
  });

  it.each(['lower-in', 'lift-out'] as const)('%s keeps each band under for just its time', (way) => {
    const bands = 6;
    const moves = dipMoves(way, { bands, deepestMinutes: 36, bandTicks: 100 });
    expect(moves.at(-1)).toMatchObject({ bandsUnder: 0, underTicks: 0 });
    const under = Array.from({ length: bands }, (_, fromDeep) =>
      moves.slice(0, -1).reduce((sum, move, at) => {
        const lasts = (moves[at + 1]?.atMinutes ?? 0) - move.atMinutes;
        return move.bandsUnder > fromDeep ? sum + lasts : sum;
      }, 0),
    );
    expect(under.toReversed()).toEqual(exposures(bands, 36));
  });
});
