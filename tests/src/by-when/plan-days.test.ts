import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DayJob, DayProblem } from '../../../src/by-when/day-problem.ts';
import { type PlannedDays, type PlannedSpell, planDays } from '../../../src/by-when/plan-days.ts';
import { dayAfterWaits } from '../../../src/by-when/waits.ts';
import { isOpenDay } from '../../../src/by-when/work-days.ts';
import { everyLateness } from './every-schedule.ts';

const ALWAYS = { openOn: Array.from({ length: 7 }, () => true), closed: new Set<number>() };

function problem(
  jobs: readonly DayJob[],
  capacity: Record<string, number>,
  change: Partial<DayProblem> = {},
) {
  const of = new Map(Object.entries(capacity).map(([name, units]) => [name, () => units]));
  return { fromDay: 0, workDays: ALWAYS, capacity: of, jobs, ...change };
}

/** A job whose steps follow each other: "sew 3" takes three units of sewing. */
function job(dueDay: number, steps: string, fromDay = 0, gap = 0): DayJob {
  return {
    dueDay,
    endWaits: [],
    steps: steps.split(', ').map((step, at) => {
      const [resource = '', units = ''] = step.split(' ');
      const waits = gap > 0 ? [{ days: gap, of: 'calendar' as const }] : [];
      return {
        resource: resource === 'own' ? null : resource,
        units: Number(units),
        fromDay: at === 0 ? fromDay : 0,
        after: at === 0 ? [] : [{ step: at - 1, waits }],
      };
    }),
  };
}

/** What is wrong with a schedule, by the rules; nothing when all is well. */
function faultsOf(given: DayProblem, planned: PlannedDays, which: 'soonest' | 'latest'): string[] {
  const faults: string[] = [];
  const used = new Map<string, number>();
  for (const [of, { steps, dueDay, endWaits }] of given.jobs.entries()) {
    const spells = planned.jobs[of]?.steps.map((step) => step[which]) ?? [];
    for (const [at, step] of steps.entries()) {
      const spell = spells[at];
      if (!spell) return [`no work for ${of} ${at}`];
      const units = spell.work.reduce((sum, one) => sum + one.units, 0);
      if (units !== step.units) faults.push(`${of} ${at} has ${units} units`);
      if (spell.fromDay < Math.max(step.fromDay, given.fromDay)) faults.push(`${of} ${at} begins too early`);
      for (const { step: before, waits } of step.after) {
        const end = spells[before]?.toDay ?? Number.POSITIVE_INFINITY;
        if (spell.fromDay <= end || spell.fromDay < dayAfterWaits(given.workDays, end, waits))
          faults.push(`${of} ${at} begins before ${before} is over`);
      }
      for (const { day, units: done } of spell.work) {
        const lane = `${step.resource ?? `own ${of} ${at}`} ${day}`;
        used.set(lane, (used.get(lane) ?? 0) + done);
        const most = step.resource
          ? (given.capacity.get(step.resource)?.(day) ?? 0)
          : Number(isOpenDay(given.workDays, day));
        if ((used.get(lane) ?? 0) > most) faults.push(`${lane} is worked more than it can be`);
      }
    }
    const ready = dayAfterWaits(given.workDays, (spells.at(-1) as PlannedSpell).toDay, endWaits);
    if (ready > dueDay + (planned.jobs[of]?.lateDays ?? 0)) faults.push(`${of} is ready on ${ready}`);
  }
  return faults;
}

const late = (planned: PlannedDays) => planned.jobs.map(({ lateDays }) => lateDays);

describe('planning over all garments', () => {
  it('gives the nearest due day the people first', () => {
    const given = problem([job(9, 'sew 4'), job(3, 'sew 4')], { sew: 2 });
    const planned = planDays(given);
    expect(planned.jobs.map(({ steps }) => steps[0]?.soonest?.fromDay)).toEqual([2, 0]);
    expect(late(planned)).toEqual([0, 0]);
    expect(planned.proved).toBe(true);
  });

  it('tells the last day of each with what the others need before their days', () => {
    // Due on day 9 both, two days of sewing each: one of them has to begin two days before the other.
    const planned = planDays(problem([job(9, 'sew 2'), job(9, 'sew 2')], { sew: 1 }));
    const last = planned.jobs.map(({ steps }) => steps[0]?.latest?.fromDay);
    expect([...last].sort()).toEqual([6, 8]);
  });

  it('leaves closed days out', () => {
    const workDays = { openOn: ALWAYS.openOn, closed: new Set([8, 9]) };
    const given = problem([job(9, 'own 2')], {}, { workDays });
    const [step] = planDays(given).jobs[0]?.steps ?? [];
    expect(step?.latest).toMatchObject({ fromDay: 6, toDay: 7 });
  });

  it('shares lateness so that the latest is as little late as can be', () => {
    // Jackson, "Scheduling a production line to minimize maximum tardiness" (1955), from memory: by due day.
    const planned = planDays(problem([job(0, 'sew 3'), job(2, 'sew 2'), job(2, 'sew 1')], { sew: 1 }));
    expect(Math.max(...late(planned))).toBe(3);
    expect(
      faultsOf(problem([job(0, 'sew 3'), job(2, 'sew 2'), job(2, 'sew 1')], { sew: 1 }), planned, 'soonest'),
    ).toEqual([]);
  });

  it('tells that three years are not enough', () => {
    const planned = planDays(problem([job(9, 'sew 5000')], { sew: 1 }));
    expect(planned.jobs[0]).toMatchObject({ readyDay: null, steps: [{ soonest: null }] });
  });

  const stepOf = fc.record({
    resource: fc.constantFrom('pot', 'sew', null),
    units: fc.integer({ min: 1, max: 3 }),
    fromDay: fc.constantFrom(0, 0, 1, 3),
    gap: fc.nat({ max: 2 }),
    of: fc.constantFrom<'calendar' | 'open'>('calendar', 'open'),
  });
  const jobOf = fc
    .record({
      dueDay: fc.integer({ min: -3, max: 5 }),
      steps: fc.array(stepOf, { minLength: 1, maxLength: 3 }),
      joined: fc.boolean(),
    })
    .map(
      ({ dueDay, steps, joined }): DayJob => ({
        dueDay,
        endWaits: [],
        steps: steps.map(({ resource, units, fromDay, gap, of }, at) => ({
          resource,
          units,
          fromDay,
          after: stepsBefore(at, joined && steps.length === 3).map((step) => ({
            step,
            waits: [{ days: gap, of }],
          })),
        })),
      }),
    );

  /** One behind the other, or the third behind two that wait for nothing of each other. */
  function stepsBefore(at: number, joined: boolean): number[] {
    if (joined) return at === 2 ? [0, 1] : [];
    return at === 0 ? [] : [at - 1];
  }

  it('finds what trying every schedule finds, and proves it', () => {
    let [hard, searched] = [0, 0];
    fc.assert(
      fc.property(
        fc.array(jobOf, { minLength: 2, maxLength: 3 }),
        fc.constantFrom(1, 2),
        fc.array(fc.nat({ max: 8 }), { maxLength: 2 }),
        (jobs, sew, closed) => {
          const units = jobs.flatMap(({ steps }) => steps).reduce((sum, step) => sum + step.units, 0);
          fc.pre(units <= 10);
          const workDays = { openOn: ALWAYS.openOn, closed: new Set(closed) };
          const open = (day: number) => Number(isOpenDay(workDays, day));
          const capacity = new Map([
            ['pot', open],
            ['sew', (day: number) => open(day) * sew],
          ]);
          const given: DayProblem = { fromDay: 0, workDays, capacity, jobs };
          const planned = planDays(given, 5000);
          expect(planned.proved).toBe(true);
          expect(faultsOf(given, planned, 'soonest')).toEqual([]);
          expect(faultsOf(given, planned, 'latest')).toEqual([]);
          const within = Math.max(...jobs.map(({ dueDay }) => dueDay)) + Math.max(...late(planned)) + 1;
          const all = everyLateness(given, within);
          const least = Math.min(...all.map((one) => Math.max(...one)));
          const byDue = jobs
            .map((_, of) => of)
            .sort((a, b) => (jobs[a]?.dueDay ?? 0) - (jobs[b]?.dueDay ?? 0) || a - b);
          const inOrder = (one: readonly number[]) => byDue.map((of) => one[of] ?? 0);
          const best = all
            .filter((one) => Math.max(...one) === least)
            .map(inOrder)
            .sort((a, b) => a.map((days, at) => days - (b[at] ?? 0)).find((off) => off !== 0) ?? 0)[0];
          if (least > 0) hard += 1;
          if (Math.max(...late(planDays(given, 0))) > least) searched += 1;
          expect(inOrder(late(planned))).toEqual(best);
        },
      ),
      { numRuns: 250 },
    );
    expect(hard).toBeGreaterThan(20);
    // The rule alone would have made the latest of these later.
    expect(searched).toBeGreaterThan(0);
  });
});
