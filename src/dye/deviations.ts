/**
 * Where a bath went otherwise than planned: found from the log, so that nobody has to own up to it.
 */

import type { Bath } from './bath.ts';
import { type BathClock, isOfBath, plannedC, underWay } from './bath-clock.ts';
import { type Weighing, weighingsAt } from './order-of-work.ts';

/** Off the ramp by more than this is told, in °C (common practice). */
export const RAMP_TOLERANCE_C = 3;
/** Off the minutes by more than this share and this many minutes is told (common practice). */
export const TIME_TOLERANCE = { part: 0.1, minutes: 5 } as const;
/** Off the wanted amount by more than this part is told, where the balance is finer (common practice). */
export const AMOUNT_TOLERANCE_BP = 200;

export type Deviation =
  | { readonly kind: 'amount'; readonly name: string; readonly wantedMg: number; readonly weighedMg: number }
  | { readonly kind: 'not weighed'; readonly name: string; readonly wantedMg: number }
  | { readonly kind: 'water'; readonly wantedMl: number; readonly measuredMl: number }
  | {
      readonly kind: 'temperature';
      readonly step: string;
      readonly atMs: number;
      readonly plannedC: number;
      readonly loggedC: number;
    }
  | {
      readonly kind: 'pH';
      readonly atMs: number;
      readonly from: number;
      readonly to: number;
      readonly logged: number;
    }
  | {
      readonly kind: 'minutes';
      readonly step: string;
      readonly plannedMinutes: number;
      readonly minutes: number;
    };

/** What was logged of one bath: temperatures in °C, masses in mg, volumes in mL, instants in ms. */
export interface BathLog {
  readonly weighed: readonly { readonly step: string; readonly name: string; readonly massMg: number }[];
  readonly waterMl: number | null;
  readonly temperatures: readonly { readonly atMs: number; readonly c: number }[];
  readonly pHs: readonly { readonly atMs: number; readonly pH: number }[];
}

/** The least that a balance tells apart, in mg, and the pH that a step wants, by its key; null where none is due yet. */
export interface RecordBounds {
  readonly balanceMg: number;
  readonly pHWanted: (step: string) => { readonly from: number; readonly to: number } | null;
}

/** Everything that differs by more than its tolerance, in the order of work, then by the clock. */
export function deviationsOf(clock: BathClock, bath: Bath, log: BathLog, bounds: RecordBounds): Deviation[] {
  return [
    ...amounts(clock, bath, log, bounds.balanceMg),
    ...water(bath, log),
    ...temperatures(clock, log),
    ...pHs(clock, log, bounds),
    ...minutes(clock),
  ];
}

/** The mass that may be off unsaid: what the balance cannot tell, or a share of what is wanted if that is more. */
export function massToleranceMg(wantedMg: number, balanceMg: number): number {
  return Math.max(balanceMg, Math.round((wantedMg * AMOUNT_TOLERANCE_BP) / 10_000));
}

function amounts(clock: BathClock, bath: Bath, log: BathLog, balanceMg: number): Deviation[] {
  return clock.steps.flatMap(({ step, state }) =>
    weighingsAt(step, bath).flatMap((wanted) => amount(step.key, state === 'done', wanted, log, balanceMg)),
  );
}

function amount(
  key: string,
  done: boolean,
  { name, massMg: wantedMg }: Weighing,
  log: BathLog,
  balanceMg: number,
): Deviation[] {
  const weighed = log.weighed.filter((each) => each.step === key && each.name === name);
  if (weighed.length === 0) return done ? [{ kind: 'not weighed', name, wantedMg }] : [];
  const weighedMg = weighed.reduce((sum, { massMg }) => sum + massMg, 0);
  const off = Math.abs(weighedMg - wantedMg) > massToleranceMg(wantedMg, balanceMg);
  return off ? [{ kind: 'amount', name, wantedMg, weighedMg }] : [];
}

function water(bath: Bath, { waterMl }: BathLog): Deviation[] {
  if (waterMl === null) return [];
  const wantedMl = Math.round(bath.freshWaterUl / 1000);
  const off = Math.abs(waterMl - wantedMl) * 10_000 > wantedMl * AMOUNT_TOLERANCE_BP;
  return off ? [{ kind: 'water', wantedMl, measuredMl: waterMl }] : [];
}

function temperatures(clock: BathClock, log: BathLog): Deviation[] {
  return log.temperatures.flatMap(({ atMs, c }): Deviation[] => {
    const wanted = plannedC(clock, atMs);
    if (wanted === null || Math.abs(c - wanted) <= RAMP_TOLERANCE_C) return [];
    const step = underWay(clock, atMs)?.step.title ?? '';
    return [{ kind: 'temperature', step, atMs, plannedC: Math.round(wanted), loggedC: c }];
  });
}

function pHs(clock: BathClock, log: BathLog, { pHWanted }: RecordBounds): Deviation[] {
  return log.pHs.flatMap(({ atMs, pH }): Deviation[] => {
    const step = underWay(clock, atMs)?.step.key;
    const wanted = step === undefined ? null : pHWanted(step);
    return wanted && (pH < wanted.from || pH > wanted.to)
      ? [{ kind: 'pH', atMs, from: wanted.from, to: wanted.to, logged: pH }]
      : [];
  });
}

function minutes(clock: BathClock): Deviation[] {
  return clock.steps.flatMap(({ step, actual }): Deviation[] => {
    if (!isOfBath(step) || !actual || actual.toMs === null) return [];
    const took = Math.round((actual.toMs - actual.fromMs) / 60_000);
    const off = Math.abs(took - step.minutes);
    const allowed = Math.max(TIME_TOLERANCE.minutes, step.minutes * TIME_TOLERANCE.part);
    return off > allowed
      ? [{ kind: 'minutes', step: step.title, plannedMinutes: step.minutes, minutes: took }]
      : [];
  });
}
