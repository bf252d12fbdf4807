import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { STAY, whichStay } from '../../../src/copies/which-stay.ts';

const INSTANT = fc
  .date({ min: new Date('2020-01-01'), max: new Date('2031-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString());

/** Said the other way round: a copy stays that is the newest of a period of which fewer than so many newer ones are there. */
function stays(at: string, all: readonly string[]): boolean {
  const day = 86_400_000;
  // Counted from a Monday.
  const week = (one: string) => Math.floor((Date.parse(one) - Date.parse('2019-12-30')) / (7 * day));
  const periods: [number, (one: string) => string | number][] = [
    [STAY.days, (one) => Math.floor(Date.parse(one) / day)],
    [STAY.weeks, week],
    [STAY.months, (one) => new Date(one).getUTCFullYear() * 12 + new Date(one).getUTCMonth()],
    [STAY.years, (one) => new Date(one).getUTCFullYear()],
  ];
  return periods.some(([most, period]) => {
    const newer = all.filter((one) => one > at).map(period);
    return !newer.includes(period(at)) && new Set(newer).size < most;
  });
}

describe('the copies that stay', () => {
  it('are the newest of each of the last days, weeks, months and years that have one', () => {
    fc.assert(
      fc.property(fc.uniqueArray(INSTANT, { maxLength: 60 }), (instants) => {
        const wanted = [...instants].sort().reverse();
        expect(whichStay(instants)).toEqual(wanted.filter((at) => stays(at, instants)));
      }),
      { numRuns: 300 },
    );
  });

  it('are at most 26 in five years of a copy a night, and go back to the first year', () => {
    let kept: string[] = [];
    let most = 0;
    for (let day = 0; day < 5 * 365; day += 1) {
      kept = whichStay([new Date(Date.UTC(2021, 0, 1 + day, 3)).toISOString(), ...kept]);
      most = Math.max(most, kept.length);
    }
    expect(most).toBeLessThanOrEqual(26);
    expect(kept.slice(0, 7).map((at) => at.slice(0, 10))).toEqual([
      '2025-12-30',
      '2025-12-29',
      '2025-12-28',
      '2025-12-27',
      '2025-12-26',
      '2025-12-25',
      '2025-12-24',
    ]);
    expect(kept.slice(-4)).toEqual([
      '2024-12-31T03:00:00.000Z',
      '2023-12-31T03:00:00.000Z',
      '2022-12-31T03:00:00.000Z',
      '2021-12-31T03:00:00.000Z',
    ]);
  });

  it('are the same when what went is gone', () => {
    fc.assert(
      fc.property(fc.uniqueArray(INSTANT, { maxLength: 60 }), (instants) => {
        const once = whichStay(instants);
        expect(whichStay(once)).toEqual(once);
        expect(once[0]).toBe([...instants].sort().at(-1));
      }),
      { numRuns: 200 },
    );
  });
});
