import { describe, expect, it } from 'vitest';
import { planDays } from '../../../src/by-when/plan-days.ts';
import { weekLoads } from '../../../src/by-when/week-load.ts';
import { dayNumber, dayText, isOpenDay } from '../../../src/by-when/work-days.ts';

const WORK_DAYS = {
  openOn: [true, true, true, true, true, false, false],
  closed: new Set([dayNumber('2026-03-11')]),
};

// From Wednesday 4 March 2026, 100 units on each open day; 400 units for Friday 20 March.
const problem = {
  fromDay: dayNumber('2026-03-04'),
  workDays: WORK_DAYS,
  capacity: new Map([['people', (day: number) => (isOpenDay(WORK_DAYS, day) ? 100 : 0)]]),
  jobs: [
    {
      dueDay: dayNumber('2026-03-20'),
      endWaits: [],
      steps: [{ resource: 'people', units: 400, fromDay: 0, after: [] }],
    },
  ],
};

describe('the load of weeks', () => {
  it('is what is planned of what can be done, without days that have passed or are closed', () => {
    const loads = weekLoads(problem, planDays(problem), 'people', 26);
    expect(loads.map(({ monday, ...load }) => ({ monday: dayText(monday), ...load }))).toEqual([
      { monday: '2026-03-02', capacity: 300, soonest: 300, latest: 0 },
      { monday: '2026-03-09', capacity: 400, soonest: 100, latest: 0 },
      { monday: '2026-03-16', capacity: 500, soonest: 0, latest: 400 },
    ]);
  });

  it('has no more weeks than are asked for, and one where nothing is planned', () => {
    expect(weekLoads(problem, planDays(problem), 'people', 2)).toHaveLength(2);
    const nothing = { ...problem, jobs: [] };
    expect(weekLoads(nothing, planDays(nothing), 'people', 26)).toHaveLength(1);
  });
});
