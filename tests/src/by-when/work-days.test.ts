import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayAfterWaits, dayBeforeWaits } from '../../../src/by-when/waits.ts';
import {
  dayNumber,
  dayText,
  isOpenDay,
  mondayOf,
  openDayAfter,
  weekdayOf,
} from '../../../src/by-when/work-days.ts';

const WEEK = [true, true, true, true, true, false, false];
const open = (mask: string, closed: readonly string[] = []) => ({
  openOn: [...mask].map((one) => one === '1'),
  closed: new Set(closed.map(dayNumber)),
});
const YEAR_END = ['2026-12-24', '2026-12-25', '2026-12-28', '2027-01-01', '2027-01-04'];

describe('days', () => {
  it('are numbers from 1 January 1970 on, a Thursday', () => {
    expect(dayNumber('1970-01-01')).toBe(0);
    expect(weekdayOf(0)).toBe(3);
    expect(dayText(dayNumber('2028-02-29'))).toBe('2028-02-29');
    // ISO 8601:2004, 3.2.1 and 4.1.4: the calendar week that holds 29 December 2008 begins on that Monday.
    expect(dayText(mondayOf(dayNumber('2009-01-01')))).toBe('2008-12-29');
  });
});

// numpy 2.4.6, numpy.busday_offset(day, count, weekmask=mask, holidays=closed).
describe('open days after a day', () => {
  it.each([
    ['2026-08-31', 30, '1111100', [], '2026-10-12'],
    ['2026-12-18', 10, '1111100', YEAR_END, '2027-01-08'],
    ['2026-12-18', 10, '1111110', [], '2026-12-30'],
    ['2026-02-26', 3, '0101010', [], '2026-03-05'],
    ['2024-02-28', 252, '1111100', ['2024-05-01'], '2025-02-17'],
    ['2026-12-31', 1, '1000001', YEAR_END, '2027-01-03'],
  ])('from %s, %i of them, open on %s, closed %s, are %s', (day, count, mask, closed, found) => {
    expect(dayText(openDayAfter(open(mask, closed), dayNumber(day), count))).toBe(found);
  });

  it('are none where the workroom is never open', () => {
    expect(() => openDayAfter(open('0000000'), 0, 1)).toThrow('never open');
  });
});

describe('waits', () => {
  // The worked order-by date: confirm 2, make 15, transit 0, receive 3, wash and dye 5, approve 0, spare 5 working days
  // (worked out by hand: six weeks of five days back from Monday 12 October 2026).
  it('put the day to order before Monday 12 October 2026 on Monday 31 August', () => {
    const waits = [2, 15, 0, 3, 5, 0, 5].map((days) => ({ days, of: 'open' as const }));
    const days = { openOn: WEEK, closed: new Set<number>() };
    expect(dayText(dayBeforeWaits(days, dayNumber('2026-10-12'), waits))).toBe('2026-08-31');
    expect(dayText(dayAfterWaits(days, dayNumber('2026-08-31'), waits))).toBe('2026-10-12');
  });

  it('backwards give the last day from which waiting forwards comes no further', () => {
    const wait = fc.record({
      days: fc.nat({ max: 9 }),
      of: fc.constantFrom<'calendar' | 'open'>('calendar', 'open'),
    });
    const week = fc.array(fc.boolean(), { minLength: 7, maxLength: 7 }).filter((days) => days.includes(true));
    fc.assert(
      fc.property(
        week,
        fc.array(fc.nat({ max: 60 })),
        fc.array(wait, { maxLength: 4 }),
        fc.integer({ min: 20, max: 60 }),
        (openOn, closed, waits, to) => {
          const days = { openOn, closed: new Set(closed) };
          const before = dayBeforeWaits(days, to, waits);
          expect(dayAfterWaits(days, before, waits)).toBeLessThanOrEqual(to);
          expect(dayAfterWaits(days, before + 1, waits)).toBeGreaterThan(to);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('of no day leave a closed day as it is', () => {
    const days = { openOn: WEEK, closed: new Set<number>() };
    const sunday = dayNumber('2026-03-01');
    expect(isOpenDay(days, sunday)).toBe(false);
    expect(dayAfterWaits(days, sunday, [{ days: 0, of: 'open' }])).toBe(sunday);
    expect(dayBeforeWaits(days, sunday, [{ days: 0, of: 'open' }])).toBe(sunday);
  });
});
