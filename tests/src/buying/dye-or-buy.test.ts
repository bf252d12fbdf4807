import { describe, expect, it } from 'vitest';
import { bestWays, type WayToGet } from '../../../src/buying/dye-or-buy.ts';
import { dyeingDays, workCost } from '../../../src/dye/dyeing-cost.ts';

const way = (totalMinor: number, changed: Partial<WayToGet> = {}): WayToGet => ({
  totalMinor,
  unknown: [],
  readyOn: null,
  isWhole: true,
  ...changed,
});

describe('the best of some ways', () => {
  it('costs least, and is ready first, of those that give everything', () => {
    const ways = [
      way(900, { readyOn: '2026-12-04' }),
      way(700, { readyOn: '2026-12-09' }),
      way(100, { readyOn: '2026-12-01', isWhole: false }),
    ];
    expect(bestWays(ways)).toEqual({ cheapest: 1, soonest: 0 });
  });

  it('is not told where what has no price might make it dearer', () => {
    expect(bestWays([way(900), way(700, { unknown: ['fuel'] })]).cheapest).toBeNull();
    expect(bestWays([way(700), way(700, { unknown: ['fuel'] })]).cheapest).toBe(0);
    expect(bestWays([way(700, { unknown: ['fuel'] }), way(700)]).cheapest).toBe(1);
  });

  it('has no soonest where no day is known, and nothing of nothing', () => {
    expect(bestWays([way(1)])).toEqual({ cheapest: 0, soonest: null });
    expect(bestWays([])).toEqual({ cheapest: null, soonest: null });
  });
});

describe('work at the bench', () => {
  // By hand: 90 minutes at 18.00 an hour are 27.00; 10 minutes at 0.05 an hour are 0.0083, and 50 at 0.01 round up.
  it('costs its minutes at the price of an hour, a half up', () => {
    expect(workCost(90, 1800)).toBe(2700);
    expect(workCost(10, 5)).toBe(1);
    expect(workCost(30, 1)).toBe(1);
    expect(workCost(29, 1)).toBe(0);
    expect(() => workCost(-1, 1)).toThrow(RangeError);
  });

  it('takes whole days of eight hours, and one more for a swatch', () => {
    expect(dyeingDays(1, true)).toBe(1);
    expect(dyeingDays(480, true)).toBe(1);
    expect(dyeingDays(481, true)).toBe(2);
    expect(dyeingDays(481, false)).toBe(3);
    expect(() => dyeingDays(-1, true)).toThrow(RangeError);
  });
});
