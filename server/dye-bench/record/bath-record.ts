import { plannedC, underWay } from '../../../src/dye/bath-clock.ts';
import type { Card } from '../../../src/dye/card.ts';
import { type Deviation, deviationsOf, massToleranceMg } from '../../../src/dye/deviations.ts';
import { capital } from '../../../src/dye/fibre.ts';
import { weighingsAt } from '../../../src/dye/order-of-work.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import { showClock, showMoment } from '../../kit/when.ts';
import { showGrams } from '../card/amounts-show.ts';
import { sayActual } from '../card/order-show.ts';
import { sayRange } from '../card/ph-show.ts';
import { drawRamp } from '../card/ramp-chart.ts';
import { type BathState, stepOfWeighing } from '../pot/bath-state.ts';
import type { LogRow } from '../pot/log-store.ts';
import { sayLog, sayTemperature } from '../pot/log-words.ts';
import { clockOf } from '../pot/step.ts';
import { heldAgainst, phAtStep } from '../pot/step-ph.ts';

/** What was done with one bath, beside what was wanted. */
export function shapeBathRecord(state: BathState, name: string, card: Card, balanceMg: number) {
  const { clock, rows, bath } = state;
  const waterMl = waterOf(rows);
  return {
    name,
    /** '' where the bath has not begun */
    begun: clock.begunMs === null ? '' : showMoment(new Date(clock.begunMs).toISOString()),
    amounts: amountsOf(state, balanceMg),
    water: {
      wanted: showVolume(Math.round(bath.freshWaterUl / 1000), 'near'),
      measured: waterMl === null ? '' : showVolume(waterMl, 'near'),
    },
    readings: rows.filter(isReading).map((row) => ({
      clock: showClock(row.at),
      logged: row.kind === 'pH' ? `pH ${sayPh(row.figure)}` : sayTemperature(row.figure),
      planned: plannedFor(row, state, card),
      who: row.person,
    })),
    times: clock.steps.map(({ step, planned, actual }) => ({
      step: step.title,
      planned: planned ? `${clockOf(planned.fromMs)}–${clockOf(planned.toMs)}` : `${step.minutes} min`,
      actual: actual ? sayActual(actual) : '',
      who: rows.find(({ kind, what }) => kind === 'step' && what === step.key)?.person ?? '',
    })),
    additions: state.additions.map(
      ({ number, dyes }) =>
        `Addition ${number}: ${dyes.map((dye) => `${showGrams(dye.massMg)} of ${dye.name}`).join(', ')}`,
    ),
    /** what went in beside the plan */
    byHand: rows
      .filter(({ auxiliary }) => auxiliary !== null)
      .map((row) => `${showClock(row.at)}, ${row.person}: ${sayLog(row, state.steps)}`),
    notes: rows
      .filter(({ kind }) => kind === 'note')
      .map(({ at, person, note }) => `${showClock(at)}, ${person}: ${note}`),
    deviations: findDeviations(state, card, balanceMg).map(sayDeviation),
    chart: drawRamp(state.steps, state, name),
  };
}

/** The fresh water that was measured, in mL; null where it was not told. */
function waterOf(rows: readonly LogRow[]): number | null {
  return rows.findLast(({ kind }) => kind === 'water')?.figure ?? null;
}

function isReading({ kind }: LogRow): boolean {
  return kind === 'temperature' || kind === 'pH';
}

function amountsOf(state: BathState, balanceMg: number) {
  const weighed = state.rows.filter(({ kind }) => kind === 'weighed');
  return state.steps.flatMap((step) =>
    weighingsAt(step, state.bath).map((wanted) => {
      const row = weighed.find(
        (each) => each.what === wanted.name && stepOfWeighing(state.rows, each) === step.key,
      );
      const off = row
        ? Math.abs(row.figure - wanted.massMg) > massToleranceMg(wanted.massMg, balanceMg)
        : false;
      return {
        step: step.title,
        name: `${capital(wanted.name)}${wanted.share === '' ? '' : `, ${wanted.share}`}`,
        wanted: showGrams(wanted.massMg),
        /** '' where it is not weighed yet */
        weighed: row ? showGrams(row.figure) : '',
        off,
        lot: row?.dyeLot ?? '',
        who: row?.person ?? '',
      };
    }),
  );
}

function plannedFor(row: LogRow, state: BathState, card: Card): string {
  const { clock } = state;
  if (row.kind === 'pH') {
    const step = underWay(clock, Date.parse(row.at))?.step.key;
    const wants = step === undefined ? null : phAtStep(state, step, card).wants;
    return wants ? sayRange(wants) : '';
  }
  const planned = plannedC(clock, Date.parse(row.at));
  return planned === null ? '' : `${Math.round(planned)} °C`;
}

function findDeviations(state: BathState, card: Card, balanceMg: number): Deviation[] {
  const { rows, clock } = state;
  const weighed = rows
    .filter(({ kind, auxiliary }) => kind === 'weighed' && auxiliary === null)
    .map((row) => ({ step: stepOfWeighing(rows, row), name: row.what, massMg: row.figure }));
  const log = {
    weighed,
    waterMl: waterOf(rows),
    temperatures: rows
      .filter(({ kind }) => kind === 'temperature')
      .map(({ at, figure }) => ({ atMs: Date.parse(at), c: figure / 10 })),
    pHs: rows
      // What is typed on the card is of a point of the bath, not of its own time.
      .filter(({ kind, what }) => kind === 'pH' && what === '')
      .map(({ at, figure }) => ({ atMs: Date.parse(at), pH: figure / 100 })),
  };
  // A bath that never began has told nothing yet, and there is nothing to hold against it.
  if (clock.begunMs === null) return [];
  const pHWanted = (step: string) => heldAgainst(state, step, card);
  return deviationsOf(clock, state.bath, log, { balanceMg, pHWanted });
}

function sayDeviation(found: Deviation): string {
  switch (found.kind) {
    case 'amount':
      return `${capital(found.name)}: ${showGrams(found.weighedMg)} weighed, ${showGrams(found.wantedMg)} wanted.`;
    case 'not weighed':
      return `${capital(found.name)}: no amount was entered, ${showGrams(found.wantedMg)} wanted.`;
    case 'water':
      return `Water: ${showVolume(found.measuredMl, 'near')} measured, ${showVolume(found.wantedMl, 'near')} wanted.`;
    case 'temperature':
      return `${clockOf(found.atMs)}, ${found.step}: ${found.loggedC} °C, ${found.plannedC} °C by the plan.`;
    case 'pH':
      return `${clockOf(found.atMs)}: pH ${found.logged}, ${found.from} to ${found.to} wanted.`;
    case 'minutes':
      return `${found.step}: ${found.minutes} min, ${found.plannedMinutes} min by the plan.`;
  }
}

function sayPh(hundredths: number): string {
  return showDecimal(BigInt(hundredths), 2);
}
