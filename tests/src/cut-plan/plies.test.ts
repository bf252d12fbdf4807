import { describe, expect, it } from 'vitest';
import { foldLay, type LayOfPiece, type PlyRules, strokesOf } from '../../../src/cut-plan/folds.ts';
import { secondsOf, stackLays as stack, USUAL_TABLE_RATES } from '../../../src/cut-plan/plies.ts';
import { cm } from '../../lengths.ts';

const FLAT = { foldLimit: 0, foldLineInStrips: true, foldAllowanceTicks: 0 };
const stackLays = (lays: readonly LayOfPiece[], plyLimit: number, rules: Partial<PlyRules> = {}) =>
  stack(lays, { ...FLAT, plyLimit, ...rules }, USUAL_TABLE_RATES);

interface Options {
  readonly behind?: number;
  readonly across?: string;
  readonly width?: string;
  readonly height?: string;
}

const lay = (columns: number, options: Options = {}): LayOfPiece => {
  const { behind = 1, across = '49', width = '147', height = String(32 * behind) } = options;
  const strips = columns * behind;
  return {
    widthTicks: cm(width),
    heightTicks: cm(height),
    runs: [{ leftTicks: 0, acrossTicks: cm(across), alongTicks: cm('32'), columns, stack: behind, strips }],
  };
};

// Strokes counted by hand on a sketch of each lay (common practice: one stroke for each straight cut through all plies).
describe('strokes of the knife', () => {
  it('end the cut length, slit it and cut stacks across', () => {
    // Three columns fill the width: the end and two slits.
    expect(strokesOf(lay(3)).strokes).toBe(3);
    // On 150 cm a third slit takes off the rest.
    expect(strokesOf(lay(3, { width: '150' })).strokes).toBe(4);
    // Two behind each other: one more, across.
    expect(strokesOf(lay(3, { behind: 2 })).strokes).toBe(4);
    // And another where the lay is longer than they are.
    expect(strokesOf(lay(3, { behind: 2, height: '70' })).strokes).toBe(5);
    expect(strokesOf(lay(1, { width: '49' })).strokes).toBe(1);
  });
});

describe('plies', () => {
  it('stack equal lays that follow each other up to the limit', () => {
    const lays = [lay(3), lay(3), lay(3), lay(2), lay(3), lay(3)];
    const stacks = (limit: number) => stackLays(lays, limit).map(({ lays: places }) => places);
    expect(stacks(1)).toEqual([[0], [1], [2], [3], [4], [5]]);
    expect(stacks(2)).toEqual([[0, 1], [2], [3], [4, 5]]);
    expect(stacks(4)).toEqual([[0, 1, 2], [3], [4, 5]]);
    // Ten lays of three columns at four plies: stacks of 4, 4 and 2, three strokes each: 9 strokes instead of 30.
    const ten = stackLays(
      Array.from({ length: 10 }, () => lay(3)),
      4,
    );
    expect(ten.map(({ lays: places }) => places.length)).toEqual([4, 4, 2]);
    expect(ten.reduce((sum, { strokes }) => sum + strokes, 0)).toBe(9);
  });

  it('do not stack cloth of other widths, nor lays that are slit otherwise or begin behind a flaw', () => {
    expect(stackLays([lay(3), lay(3, { width: '150' })], 4)).toHaveLength(2);
    expect(stackLays([lay(3), lay(3, { height: '40' })], 4)).toHaveLength(2);
    expect(stackLays([lay(3), { ...lay(3), leadTicks: cm('5') }, lay(3)], 4)).toMatchObject([
      { lays: [0] },
      { lays: [1, 2] },
    ]);
    expect(() => stackLays([lay(3)], 0)).toThrow(RangeError);
  });
});

// Added up with a pencil: 40 s to pull, 20 to fold, 45 to pin, 15 a stroke, 10 for each metre cut (our rule).
describe('what a stack takes', () => {
  const three = (count: number) => Array.from({ length: count }, () => lay(3));

  it('is its lengths, folds and pins, and the strokes through all of it', () => {
    // Flat: the end over 1.47 m and two slits of 0.32 m, 2.11 m: 40 + 3 × 15 + 21.1.
    expect(secondsOf(stackLays(three(1), 1))).toBeCloseTo(106.1, 9);
    // Two on each other: one length more and the pins.
    expect(secondsOf(stackLays(three(2), 2))).toBeCloseTo(106.1 + 40 + 45, 9);
    // Folded once: the end over 0.735 m and one slit, 1.055 m; 40 + 20 + 45 + 30 + 10.55 is no less than flat.
    const folds = { foldLimit: 1 };
    expect(stackLays(three(1), 2, folds)).toMatchObject([{ plies: 1, folded: null, atAStroke: 1 }]);
    // Of three lengths in six plies: 3 × 60 + 45 + 30 + 10.55; flat, 3 × 40 + 45 + 66.1, is less.
    expect(stackLays(three(3), 6, folds)).toMatchObject([{ plies: 3, folded: null }]);
    // Eight columns of 18 cm: nine strokes flat, over 4.03 m, take 40 + 135 + 40.3; twice folded four, over 1.3275 m.
    const [eight] = stackLays([lay(8, { across: '18' })], 4, { foldLimit: 2 });
    expect(eight).toMatchObject({ plies: 4, folded: { folds: 2 }, strokes: 4, atAStroke: 4 });
    expect(eight?.seconds).toBeCloseTo(40 + 40 + 45 + 4 * 15 + 13.275, 9);
  });

  it('is the least of all ways to stack and fold, tried one by one', () => {
    const rules: PlyRules = { plyLimit: 6, foldLimit: 2, foldLineInStrips: true, foldAllowanceTicks: 0 };
    const costs = (one: LayOfPiece) =>
      [0, 1, 2].flatMap((folds) => {
        const cut = folds === 0 ? strokesOf(one) : foldLay(one, folds, rules);
        if (cut === null) return [];
        return [1, 2, 3, 4, 5, 6].flatMap((lengths) => {
          const plies = lengths * 2 ** folds;
          if (plies > rules.plyLimit) return [];
          const pins = plies > 1 ? 45 : 0;
          const knife = cut.strokes * 15 + (cut.strokesTicks / 160_000) * 10;
          return [{ lengths, seconds: lengths * (40 + 20 * folds) + pins + knife }];
        });
      });
    const least = (ways: ReturnType<typeof costs>, count: number): number =>
      count === 0
        ? 0
        : Math.min(
            ...ways
              .filter(({ lengths }) => lengths <= count)
              .map(({ lengths, seconds }) => seconds + least(ways, count - lengths)),
          );
    for (const one of [lay(1, { across: '147' }), lay(3), lay(4, { across: '36' }), lay(8, { across: '18' })])
      for (let count = 1; count <= 7; count += 1) {
        const stacks = stack(
          Array.from({ length: count }, () => one),
          rules,
          USUAL_TABLE_RATES,
        );
        expect(secondsOf(stacks)).toBeCloseTo(least(costs(one), count), 6);
        expect(stacks.flatMap(({ lays }) => lays)).toEqual(Array.from({ length: count }, (_, i) => i));
        expect(Math.max(...stacks.map(({ plies }) => plies))).toBeLessThanOrEqual(6);
      }
  });
});
