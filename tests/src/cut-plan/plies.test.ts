import { describe, expect, it } from 'vitest';
import { stackLays, strokesOf } from '../../../src/cut-plan/plies.ts';
import { cm } from '../../lengths.ts';

const lay = (columns: number, options: { stack?: number; width?: string; height?: string } = {}) => {
  const { stack = 1, width = '147', height = String(32 * stack) } = options;
  const strips = columns * stack;
  return {
    widthTicks: cm(width),
    heightTicks: cm(height),
    runs: [{ leftTicks: 0, acrossTicks: cm('49'), alongTicks: cm('32'), columns, stack, strips }],
  };
};

// Strokes counted by hand on a sketch of each lay (common practice: one stroke for each straight cut through all plies).
describe('strokes of the knife', () => {
  it('end the drop, slit it and cut stacks across', () => {
    // Three columns fill the width: the end and two slits.
    expect(strokesOf(lay(3))).toBe(3);
    // On 150 cm a third slit takes off the rest.
    expect(strokesOf(lay(3, { width: '150' }))).toBe(4);
    // Two behind each other: one more, across.
    expect(strokesOf(lay(3, { stack: 2 }))).toBe(4);
    // And another where the lay is longer than they are.
    expect(strokesOf(lay(3, { stack: 2, height: '70' }))).toBe(5);
    expect(strokesOf(lay(1, { width: '49' }))).toBe(1);
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
