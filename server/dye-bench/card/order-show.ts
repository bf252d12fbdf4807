import { isOfBath } from '../../../src/dye/bath-clock.ts';
import { litres } from '../../../src/dye/bath-sums.ts';
import type { Card } from '../../../src/dye/card.ts';
import { weighingsAt } from '../../../src/dye/order-of-work.ts';
import { showAddition } from '../../../src/dye/recipe-figures.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import { sayMinutes } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import type { Work } from '../batch/work.ts';
import type { BathState } from '../pot/bath-state.ts';
import { clockOf } from '../pot/step.ts';
import { sayMark } from '../recipe/store.ts';
import { showAmount } from './amounts-show.ts';
import { drawRamp } from './ramp-chart.ts';
import { sayStep } from './step-says.ts';
import { showUl } from './volumes.ts';

/** Baths whose times stand beside the steps; of more, each has its own at the bench. */
const MOST_BATHS = 4;

export type ShownOrder = ReturnType<typeof shapeOrder>;

/**
 * The order of work in words, with the clock of each bath once it has begun. Of a batch that has not started, `states` is
 * empty. An addition's steps stand where most baths have them.
 */
export function shapeOrder(card: Card, work: Work, states: readonly BathState[]) {
  const shown = states.slice(0, MOST_BATHS);
  const steps = states.reduce<readonly WorkStep[]>(
    (most, state) => (state.steps.length > most.length ? state.steps : most),
    work.steps,
  );
  const name = (number: number) => wordFor(card.baths.length, 'The bath', `Bath ${number}`);
  const begun = shown.filter(({ clock }) => clock.begunMs !== null);
  return {
    baths: shown.map(({ number }) => name(number)),
    steps: steps.map((step, place) => ({
      number: place + 1,
      title: step.title,
      says: sayStep(step, card.baths[0]?.volumeUl ?? card.bath.volumeUl),
      source: sayMark(step.mark),
      minutes: `${step.minutes} min`,
      /** "1.2 g of Fern A": for each bath alike, or bath by bath where they are not */
      amounts: amountsOf(step, card),
      times: shown.map((state) => timesOf(step, state)),
    })),
    minutes: sayMinutes(steps.reduce((sum, step) => sum + step.minutes, 0)),
    /** none where nothing is done in a bath */
    charts: !steps.some(isOfBath)
      ? []
      : begun.length > 0
        ? begun.map((state) => drawRamp(state.steps, state, name(state.number)))
        : [drawRamp(work.steps, null, wordFor(card.baths.length, 'The bath', 'Each bath'))],
  };
}

function amountsOf(step: WorkStep, card: Card): string[] {
  const all = card.baths.map((bath) => weighingsAt(step, bath));
  const [first = []] = all;
  return first.map(({ name, share }, at) => {
    const each = all.flatMap((weighings) => weighings[at] ?? []);
    const shown = each.map((weighing) => {
      const volume = weighing.volumeUl === null ? '' : ` (${showUl(weighing.volumeUl)})`;
      return `${showAmount(weighing, card.amounts?.balanceMg)}${volume}`;
    });
    const masses = each.map(({ massMg }) => massMg);
    // Equal baths differ by a milligram of rounding at most.
    const alike = Math.max(...masses) - Math.min(...masses) <= 1;
    const amount = alike ? shown[0] : shown.join(' / ');
    const dose = step.doses.find((given) => given.name === name);
    const volumeUl = card.baths[0]?.volumeUl;
    const sum =
      dose && alike && volumeUl !== undefined
        ? ` (${litres(volumeUl)} × ${showAddition({ per: 'litre', amount: dose.mgPerLitre })})`
        : '';
    return `${amount} of ${name}${share === '' ? '' : `, ${share}`}${sum}`;
  });
}

function timesOf(step: WorkStep, state: BathState) {
  const timed = state.clock.steps.find((each) => each.step.key === step.key);
  if (!timed) return { state: 'to come' as const, planned: '', actual: '' };
  const { planned, actual } = timed;
  return {
    state: timed.state,
    /** "13:50–14:20", '' before the bath has begun */
    planned: planned ? `${clockOf(planned.fromMs)}–${clockOf(planned.toMs)}` : '',
    actual: actual ? sayActual(actual) : '',
  };
}

/** "13:50–14:20", or "from 13:50" while it lasts. */
export function sayActual(actual: { readonly fromMs: number; readonly toMs: number | null }): string {
  const from = clockOf(actual.fromMs);
  return actual.toMs === null ? `from ${from}` : `${from}–${clockOf(actual.toMs)}`;
}
