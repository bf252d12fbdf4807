import { describe, expect, it } from 'vitest';
import { colourArcs, colourRuns } from '../../../../src/garment/drawing/colour-runs.ts';

describe('the order of a band’s strips', () => {
  const order = [
    { shadeId: 1, strips: 2 },
    { shadeId: 2, strips: 1 },
  ];

  it('starts so many strips into the repeat, and runs of one shade that meet are one', () => {
    expect(colourRuns(order, 7, 0).map(({ shadeId, strips }) => [shadeId, strips])).toEqual([
      [1, 2],
      [2, 1],
      [1, 2],
      [2, 1],
      [1, 1],
    ]);
    expect(colourRuns(order, 4, 1).map(({ shadeId, strips }) => [shadeId, strips])).toEqual([
      [1, 1],
      [2, 1],
      [1, 2],
    ]);
    expect(colourRuns([{ shadeId: 1, strips: 3 }], 200, 2)).toEqual([{ shadeId: 1, strips: 200 }]);
  });
});

describe('the strips in sight', () => {
  const blocks = [
    { shadeId: 1, strips: 2 },
    { shadeId: 2, strips: 1 },
  ];

  it('are the half of the band that faces the viewer, in their order, each a run of one shade', () => {
    // Of 12 strips the first six are seen: 1 1 2 1 1 2, each a sixth of the half.
    const runs = colourArcs(blocks, 12, 0, 120);
    expect(runs.map(({ shadeId }) => shadeId)).toEqual([1, 2, 1, 2]);
    const sixths = runs.map(({ toAngle }) => Math.round((toAngle * 6) / Math.PI));
    expect(sixths).toEqual([2, 3, 5, 6]);
  });

  it('end at the edge where the middle of a strip lies on it', () => {
    // Of 3 strips one and a half are seen.
    const runs = colourArcs([blocks[1] ?? { shadeId: 0, strips: 1 }, { shadeId: 3, strips: 1 }], 3, 0, 120);
    expect(runs.map(({ toAngle }) => toAngle / Math.PI)).toEqual([expect.closeTo(2 / 3, 9), 1]);
  });

  it('are sampled beyond what can be seen, and still cover the half', () => {
    const runs = colourArcs(blocks, 10_000, 0, 50);
    expect(runs.length).toBeLessThanOrEqual(50);
    expect(runs[0]?.fromAngle).toBe(0);
    expect(runs.at(-1)?.toAngle).toBeCloseTo(Math.PI, 9);
    expect(new Set(runs.map(({ shadeId }) => shadeId))).toEqual(new Set([1, 2]));
  });
});
