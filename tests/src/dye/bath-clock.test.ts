import { describe, expect, it } from 'vitest';
import type { Bath } from '../../../src/dye/bath.ts';
import { BEGUN, bathClock, plannedC } from '../../../src/dye/bath-clock.ts';
import { type BathLog, deviationsOf, massToleranceMg } from '../../../src/dye/deviations.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import { COMMON_PRACTICE } from '../../../src/quantity/provenance.ts';

const step = (
  key: string,
  kind: WorkStep['kind'],
  minutes: number,
  fromC: number,
  toC: number,
): WorkStep => ({
  key,
  kind,
  title: key,
  says: '',
  minutes,
  fromC,
  toC,
  adds: [],
  doses: [],
  extra: [],
  mark: COMMON_PRACTICE,
});

// Set at 50 °C for 10 min, heat to 98 °C at 1 °C a minute, hold for 45 min.
const STEPS: readonly WorkStep[] = [
  { ...step('set', 'set', 10, 50, 50), adds: [{ name: 'Fern', part: 1, of: 1 }] },
  step('heat', 'heat', 48, 50, 98),
  step('hold', 'hold', 45, 98, 98),
];
const at = (minute: number) => minute * 60_000;
const told = (...done: [key: string, minute: number][]) =>
  bathClock(
    STEPS,
    done.map(([key, minute]) => ({ key, atMs: at(minute) })),
  );

describe('the clock of a bath', () => {
  it('stands at the first step, without a time, before the bath begins', () => {
    expect(told()).toMatchObject({
      begunMs: null,
      untilMs: null,
      now: { step: { key: 'set' }, planned: null },
    });
  });

  it('counts each step from when the one before it was done, and plans from the beginning', () => {
    const clock = told([BEGUN, 0], ['set', 15]);
    expect(clock.now?.step.key).toBe('heat');
    // It took 15 minutes instead of 10, so the heating ends at 15 + 48 = 63; by the plan it was 10 + 48 = 58.
    expect(clock.untilMs).toBe(at(63));
    expect(clock.steps[1]?.planned).toEqual({ fromMs: at(10), toMs: at(58) });
    expect(clock.steps[0]?.actual).toEqual({ fromMs: at(0), toMs: at(15) });
    expect(clock.steps[2]).toMatchObject({ state: 'to come', actual: null });
  });

  it('is over when every step is done', () => {
    const clock = told([BEGUN, 0], ['set', 10], ['heat', 58], ['hold', 103]);
    expect(clock).toMatchObject({ now: null, untilMs: null });
    expect(clock.steps[2]?.actual).toEqual({ fromMs: at(58), toMs: at(103) });
  });

  it('asks for the heat of the ramp at any minute, and stays at its end when a step lasts longer', () => {
    const clock = told([BEGUN, 0], ['set', 10]);
    expect(plannedC(clock, at(5))).toBe(50);
    expect(plannedC(clock, at(34))).toBe(74);
    expect(plannedC(clock, at(90))).toBe(98);
    expect(plannedC(told(), at(5))).toBeNull();
  });
});

describe('deviations', () => {
  const bath: Bath = {
    massMg: 90_000,
    volumeUl: 1_800_000,
    freshWaterUl: 1_800_000,
    lines: [{ part: 'dye', name: 'Fern', asked: '2 % owf', massMg: 1800 }],
  };
  const nothing: BathLog = { weighed: [], waterMl: null, temperatures: [], pHs: [] };
  // Nothing is wanted while the bath is set.
  const pHWanted = (step: string) => (step === 'set' ? null : { from: 4, to: 6 });
  const bounds = { balanceMg: 10, pHWanted };
  const clock = told([BEGUN, 0], ['set', 10], ['heat', 58], ['hold', 103]);
  const found = (log: Partial<BathLog>, of = clock) => deviationsOf(of, bath, { ...nothing, ...log }, bounds);
  const weighed = (massMg: number) => ({ weighed: [{ step: 'set', name: 'Fern', massMg }] });

  it('are none where all is within its tolerance', () => {
    const temperatures = [{ atMs: at(34), c: 77 }];
    // 2 % of 1.8 g is 36 mg, of 1800 mL 36 mL.
    expect(found({ ...weighed(1836), waterMl: 1836, temperatures, pHs: [{ atMs: at(20), pH: 6 }] })).toEqual(
      [],
    );
  });

  it('are an amount that is off, or was never told', () => {
    expect(found(weighed(1837))).toEqual([{ kind: 'amount', name: 'Fern', wantedMg: 1800, weighedMg: 1837 }]);
    expect(found({})).toEqual([{ kind: 'not weighed', name: 'Fern', wantedMg: 1800 }]);
    expect(found({}, told([BEGUN, 0]))).toEqual([]);
  });

  it('are water, heat and pH that are off', () => {
    const log = {
      ...weighed(1800),
      waterMl: 1837,
      temperatures: [{ atMs: at(34), c: 77.5 }],
      pHs: [{ atMs: at(40), pH: 6.5 }],
    };
    expect(found(log)).toEqual([
      { kind: 'water', wantedMl: 1800, measuredMl: 1837 },
      { kind: 'temperature', step: 'heat', atMs: at(34), plannedC: 74, loggedC: 77.5 },
      { kind: 'pH', atMs: at(40), from: 4, to: 6, logged: 6.5 },
    ]);
  });

  it('are no pH from before the step that wants one', () => {
    expect(found({ ...weighed(1800), pHs: [{ atMs: at(5), pH: 9 }] })).toEqual([]);
  });

  it('are a step that lasted a tenth and more than five minutes longer or shorter', () => {
    const longer = told([BEGUN, 0], ['set', 15], ['heat', 63], ['hold', 114]);
    // 15 instead of 10 minutes is five, which goes unsaid; 51 instead of 45 is six.
    expect(found(weighed(1800), longer)).toEqual([
      { kind: 'minutes', step: 'hold', plannedMinutes: 45, minutes: 51 },
    ]);
  });

  it('allow what the balance cannot tell apart', () => {
    expect(massToleranceMg(100, 10)).toBe(10);
    expect(massToleranceMg(1800, 10)).toBe(36);
  });
});
