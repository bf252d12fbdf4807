import { describe, expect, it } from 'vitest';
import {
  cutBetweenEntries,
  cutWithin,
  minutesOf,
  stretchesOf,
  stripsAnHour,
  type TimedTap,
} from '../../../src/by-when/own-rates.ts';

const at = (clock: string) => Date.parse(`2026-03-02T${clock}:00Z`);
const tap = (clock: string, what: TimedTap['tap'], more: Partial<TimedTap> = {}): TimedTap => ({
  garmentId: 1,
  work: 'cut',
  personId: 1,
  tap: what,
  atMs: at(clock),
  ...more,
});
const cut = (clock: string, strips: number, personId = 1) => ({
  garmentId: 1,
  personId,
  atMs: at(clock),
  strips,
});

describe('stretches of work', () => {
  it('go from begun to left or done, of one person at one work', () => {
    const stretches = stretchesOf([
      tap('09:00', 'begun'),
      tap('09:10', 'begun', { personId: 2 }),
      tap('10:00', 'left'),
      tap('10:30', 'done', { personId: 2 }),
      tap('11:00', 'done'),
    ]);
    expect(minutesOf(stretches)).toBe(60 + 80);
    expect(stretches).toHaveLength(2);
  });

  it('begin with the first of two beginnings, and are not counted where nobody tapped the end', () => {
    expect(minutesOf(stretchesOf([tap('09:00', 'begun'), tap('09:20', 'begun'), tap('10:00', 'left')]))).toBe(
      60,
    );
    const forgotten = { ...tap('09:00', 'left'), atMs: at('09:00') + 86_400_000 };
    expect(stretchesOf([tap('09:00', 'begun'), forgotten])).toEqual([]);
  });
});

describe('strips an hour', () => {
  it('are those cut between taps', () => {
    const stretches = stretchesOf([
      tap('09:00', 'begun'),
      tap('10:30', 'left'),
      tap('13:00', 'begun'),
      tap('14:00', 'done'),
    ]);
    // Twelve strips in the first hour and a half; the second stretch has none and does not count.
    const rate = cutWithin([cut('08:59', 5), cut('09:30', 4), cut('10:30', 8), cut('15:00', 9)], stretches);
    expect(rate).toEqual({ strips: 12, minutes: 90 });
    expect(stripsAnHour(rate ?? { strips: 0, minutes: 1 })).toBe(8);
    expect(cutWithin([], stretches)).toBeNull();
  });

  it('are those between entries of one sitting, without the first of it', () => {
    const cuts = [
      cut('09:00', 9),
      cut('09:10', 2),
      cut('09:15', 1, 2),
      cut('09:30', 2),
      cut('13:00', 7),
      cut('13:00', 7),
    ];
    expect(cutBetweenEntries(cuts)).toEqual({ strips: 4, minutes: 30 });
    expect(cutBetweenEntries([cut('09:00', 9)])).toBeNull();
  });

  it('are at least one', () => {
    expect(stripsAnHour({ strips: 1, minutes: 100 })).toBe(1);
  });
});
