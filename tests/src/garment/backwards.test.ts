import { describe, expect, it } from 'vitest';
import { besideColumns, greatestThatWorks, leastWasteLengths } from '../../../src/garment/backwards.ts';
import { cm } from '../../lengths.ts';

describe('greatestThatWorks', () => {
  it('finds the last number that works, wherever it lies', () => {
    for (const last of [1, 2, 7, 99, 100])
      expect(greatestThatWorks(1, 100, (value) => value <= last)).toBe(last);
  });

  it('gives null where not even the least works', () => {
    expect(greatestThatWorks(1, 100, () => false)).toBeNull();
  });

  it('asks few times', () => {
    let asked = 0;
    greatestThatWorks(1, 1_600_000, (value) => {
      asked += 1;
      return value <= 1_234_567;
    });
    expect(asked).toBeLessThan(25);
  });
});

describe('leastWasteLengths', () => {
  it('divides the width, and leaves nothing beside it but what a tick cannot hold', () => {
    const lengths = leastWasteLengths(cm(147), cm(2), 3);
    expect(lengths).toEqual([
      { columns: 1, lengthTicks: cm(147) },
      { columns: 2, lengthTicks: cm('73.5') },
      { columns: 3, lengthTicks: cm(49) },
    ]);
    expect(leastWasteLengths(cm(7), cm(2), 9)).toHaveLength(3);
    expect(besideColumns(cm(147), cm(130))).toBe(cm(17));
  });
});
