import { describe, expect, it } from 'vitest';
import { sideAt, sideBetween, sideOf } from '../../../server/garments/silhouette.ts';
import { stripRuns } from '../../../server/garments/strip-runs.ts';
import { inch } from '../../lengths.ts';

/** 28 in at the waist and 120 in at a drop of 40 in. */
const CONE = [
  { dropTicks: 0, girthTicks: inch(28) },
  { dropTicks: inch(40), girthTicks: inch(120) },
];

describe('a form from the side', () => {
  // A round cone of slant 40 in whose radius grows by 92 ÷ 2π = 14.64 in falls by √(40² − 14.64²) = 37.22 in.
  it('falls 37.22 in over a slant of 40 in from 28 in round to 120 in', () => {
    const [waist, hem] = sideOf(CONE);
    expect(waist).toEqual({ dropTicks: 0, halfWidthTicks: inch(28) / (2 * Math.PI), downTicks: 0 });
    expect((hem?.downTicks ?? 0) / inch(1)).toBeCloseTo(37.22, 2);
    expect((hem?.halfWidthTicks ?? 0) * 2 * Math.PI).toBeCloseTo(inch(120), 3);
  });

  it('grows evenly between two girths and goes on below the last: 51, 74, 97 and 143 in', () => {
    const side = sideOf(CONE);
    const round = [10, 20, 30, 50].map(
      (drop) => (sideAt(side, inch(drop)).halfWidthTicks * 2 * Math.PI) / inch(1),
    );
    [51, 74, 97, 143].forEach((girth, place) => {
      expect(round[place]).toBeCloseTo(girth, 6);
    });
  });

  it('is level where the girth grows by more than the slant allows, and keeps its bends', () => {
    const side = sideOf([...CONE, { dropTicks: inch(41), girthTicks: inch(240) }]);
    expect(side[2]?.downTicks).toBe(side[1]?.downTicks);
    const drops = sideBetween(side, inch(30), inch(41)).map(({ dropTicks }) => dropTicks / inch(1));
    expect(drops).toEqual([30, 40, 41]);
  });
});

describe('the strips in sight', () => {
  const blocks = [
    { shadeId: 1, strips: 2 },
    { shadeId: 2, strips: 1 },
  ];

  it('are the half of the band that faces the viewer, in their order, each a run of one shade', () => {
    // Of 12 strips the first six are seen: 1 1 2 1 1 2, each a sixth of the half.
    const runs = stripRuns(blocks, 12, 0, 120);
    expect(runs.map(({ shadeId }) => shadeId)).toEqual([1, 2, 1, 2]);
    const sixths = runs.map(({ toAngle }) => Math.round((toAngle * 6) / Math.PI));
    expect(sixths).toEqual([2, 3, 5, 6]);
  });

  it('end at the edge where the middle of a strip lies on it', () => {
    // Of 3 strips one and a half are seen.
    const runs = stripRuns([blocks[1] ?? { shadeId: 0, strips: 1 }, { shadeId: 3, strips: 1 }], 3, 0, 120);
    expect(runs.map(({ toAngle }) => toAngle / Math.PI)).toEqual([expect.closeTo(2 / 3, 9), 1]);
  });

  it('are sampled beyond what can be seen, and still cover the half', () => {
    const runs = stripRuns(blocks, 10_000, 0, 50);
    expect(runs.length).toBeLessThanOrEqual(50);
    expect(runs[0]?.fromAngle).toBe(0);
    expect(runs.at(-1)?.toAngle).toBeCloseTo(Math.PI, 9);
    expect(new Set(runs.map(({ shadeId }) => shadeId))).toEqual(new Set([1, 2]));
  });
});
