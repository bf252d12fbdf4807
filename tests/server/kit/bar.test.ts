import { describe, expect, it } from 'vitest';
import { BAR_WIDTH, shapeBar } from '../../../server/kit/bar.ts';

describe('a bar', () => {
  it('lays its stretches end to end on the scale of the list', () => {
    const { said, stretches } = shapeBar(
      'B',
      [
        ['solid', 30],
        ['hatched', 10],
        ['dotted', 20],
      ],
      120,
    );
    expect(said).toBe('B');
    expect(stretches).toEqual([
      { x: 0, width: 100, fill: 'solid' },
      { x: 100, width: 33.33, fill: 'hatched' },
      { x: 133.33, width: 66.67, fill: 'dotted' },
    ]);
  });

  it('leaves out what there is none of, and ends where the scale ends', () => {
    const { stretches } = shapeBar(
      'B',
      [
        ['solid', 0],
        ['open', 1],
        ['dashed', 2],
      ],
      3,
    );
    expect(stretches.map(({ fill }) => fill)).toEqual(['open', 'dashed']);
    const last = stretches.at(-1);
    expect((last?.x ?? 0) + (last?.width ?? 0)).toBe(BAR_WIDTH);
    expect(shapeBar('B', [], 0).stretches).toEqual([]);
  });
});
