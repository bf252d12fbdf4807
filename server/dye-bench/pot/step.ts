import type { Hazard } from '../../../src/dye/auxiliaries.ts';
import type { Bath } from '../../../src/dye/bath.ts';
import { BEGUN, holdLeftMinutes, plannedC } from '../../../src/dye/bath-clock.ts';
import type { Caution } from '../../../src/dye/cautions.ts';
import { dueAt, headOf } from '../../../src/dye/cautions-due.ts';
import { capital } from '../../../src/dye/fibre.ts';
import { type Weighing, weighingsAt, weighingsOf } from '../../../src/dye/order-of-work.ts';
import type { StepPh } from '../../../src/dye/step-ph.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showTrace, showWeighed } from '../../../src/quantity/mass.ts';
import { showClock } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import { showGrams } from '../card/amounts-show.ts';
import { sayStep } from '../card/step-says.ts';
import { showUl } from '../card/volumes.ts';
import { sayMark } from '../recipe/store.ts';
import { type BathState, hasBegun } from './bath-state.ts';
import type { LogRow } from './log-store.ts';
import { middlePh } from './step-ph.ts';

/** The step of a bath that is under way, or the first where it has not begun; null where all are done. */
export function shapeStep(
  state: BathState,
  now: string,
  lots: ReadonlyMap<string, string>,
  balanceMg: number,
) {
  const timed = state.clock.now;
  if (!timed) return null;
  const { step } = timed;
  const begun = hasBegun(state);
  const place = state.steps.findIndex(({ key }) => key === step.key);
  const next = state.steps[place + 1];
  const until = state.clock.untilMs;
  const left = begun ? holdLeftMinutes(state.clock, Date.parse(now)) : null;
  const heat = begun ? plannedC(state.clock, Date.parse(now)) : null;
  const things = (each: WorkStep) =>
    weighingsAt(each, state.bath).map((thing) => shapeThing(thing, lots, balanceMg));
  return {
    key: begun ? step.key : BEGUN,
    title: step.title,
    says: sayStep(step, state.bath.volumeUl),
    source: sayMark(step.mark),
    count: `Step ${place + 1} of ${state.steps.length}`,
    minutes: `${step.minutes} min`,
    /** by the clock, where the step has begun: when it began and when its minutes are over */
    since: begun && timed.actual ? clockOf(timed.actual.fromMs) : '',
    until: until === null ? '' : clockOf(until),
    /** whole seconds until then as the page is drawn, below 0 when it is past; null before it has begun */
    secondsLeft: until === null ? null : Math.round((until - Date.parse(now)) / 1000),
    /** what the bath should have now; '' where it has no heat of its own */
    plannedHeat: heat === null ? '' : `${Math.round(heat)} °C`,
    things: things(step),
    /** the fresh water of the bath, where it is set at this step */
    water:
      step.kind === 'set'
        ? {
            shown: showUl(state.bath.freshWaterUl),
            typed: `${showDecimal(BigInt(Math.round(state.bath.freshWaterUl / 1000)), 3)} L`,
          }
        : null,
    button: begun ? (next ? `Done, on to: ${next.title}` : 'Done: the last step') : 'Begin this bath',
    /** the button where the hold is not over and that was asked about; '' where nothing is to be asked */
    skipButton:
      left === null
        ? ''
        : next
          ? `Skip ${left} min, on to: ${next.title}`
          : `Skip ${left} min: the last step`,
    next: next ? { title: next.title, things: things(next) } : null,
  };
}

function shapeThing(thing: Weighing, lots: ReadonlyMap<string, string>, balanceMg: number) {
  return {
    name: thing.name,
    /** the name as it is read */
    label: `${capital(thing.name)}${thing.share === '' ? '' : `, ${thing.share}`}`,
    ...amountOf(thing, balanceMg),
    lot: lots.get(thing.name) ?? '',
  };
}

/** All that one bath takes, whatever the step. */
export function shapeWhole(
  bath: Bath,
  { number, count }: { readonly number: number; readonly count: number },
  lots: ReadonlyMap<string, string>,
  balanceMg: number,
) {
  return {
    title: wordFor(count, 'All that the bath takes', `All that bath ${number} of ${count} takes`),
    says: `${showUl(bath.volumeUl)} with ${showGrams(bath.massMg)} of dry cloth`,
    water: showUl(bath.freshWaterUl),
    things: weighingsOf(bath).map((thing) => shapeThing(thing, lots, balanceMg)),
  };
}

/**
 * A stock is measured, and says what it holds; a liquid is weighed or measured; the rest is weighed. `exact` is the
 * wanted amount as one would type it.
 */
function amountOf({ massMg, massUg, volumeUl, stockMgPer100Ml }: Weighing, balanceMg: number) {
  const weigh = { amount: showWeighed(massUg, balanceMg), exact: `${showDecimal(BigInt(massMg), 3)} g` };
  if (volumeUl === null) return { ...weigh, volume: '' };
  const volume = showUl(volumeUl);
  if (stockMgPer100Ml === null) return { ...weigh, volume: `measure ${volume}` };
  const strength = showDecimal(BigInt(stockMgPer100Ml), 3);
  return {
    amount: volume,
    volume: `of the stock with ${strength} g in 100 mL: ${showTrace(massUg)}`,
    exact: `${showDecimal(BigInt(volumeUl), 3)} mL`,
  };
}

/** The cautions that are due at the step under way, each with its few words. */
export function dueCautions(
  state: BathState,
  hazards: ReadonlyMap<string, readonly Hazard[]>,
  cautions: readonly Caution[],
) {
  const step = state.clock.now?.step;
  return step ? withHeads(dueAt(step, weighingsAt(step, state.bath), hazards, cautions)) : [];
}

export type ShownCautions = ReturnType<typeof withHeads>;

export function withHeads(cautions: readonly Caution[]) {
  return cautions.map((caution) => ({ ...caution, head: headOf(caution) }));
}

const CHOICES = 6;

/** Whole degrees to choose from: near what is planned and what was logged last. */
export function temperatureChoices(state: BathState, now: string): number[] {
  const planned = plannedC(state.clock, Date.parse(now));
  const middle = Math.round(planned ?? state.clock.now?.step.toC ?? 20);
  const last = lastFigure(state.rows, 'temperature');
  const near = [middle, ...(last === null ? [] : [Math.round(last / 10)])];
  const around = [...near, ...[-2, 2, -1, 1, -4, 4, -6].map((off) => middle + off)];
  return chosen(around, 1, 100);
}

/** pH in tenths to choose from: around what the step wants, or is expected to have. */
export function phChoices(stepPh: StepPh | null): number[] {
  const halves = Math.round((stepPh ? middlePh(stepPh) : 7) * 2) * 5;
  return chosen([halves, halves - 5, halves + 5, halves - 10, halves + 10, halves + 15], 0, 140);
}

function chosen(wanted: readonly number[], least: number, most: number): number[] {
  const within = [...new Set(wanted)].filter((value) => value >= least && value <= most);
  return within.slice(0, CHOICES).sort((a, b) => a - b);
}

function lastFigure(rows: readonly LogRow[], kind: LogRow['kind']): number | null {
  return rows.findLast((row) => row.kind === kind)?.figure ?? null;
}

export function clockOf(ms: number): string {
  return showClock(new Date(ms).toISOString());
}
