import { type BathAddition, withAddition } from '../../../src/dye/addition-steps.ts';
import { groupsOf } from '../../../src/dye/auxiliaries.ts';
import type { Bath } from '../../../src/dye/bath.ts';
import { type BathClock, BEGUN, bathClock } from '../../../src/dye/bath-clock.ts';
import type { Card } from '../../../src/dye/card.ts';
import { isInPotAt } from '../../../src/dye/pot-time.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import type { LogRow } from './log-store.ts';

/** One bath of a batch: its amounts, its steps with those of additions, its clock, and its own log. */
export interface BathState {
  /** from 1 */
  readonly number: number;
  readonly bath: Bath;
  readonly steps: readonly WorkStep[];
  readonly clock: BathClock;
  readonly rows: readonly LogRow[];
  readonly additions: readonly BathAddition[];
}

export function bathStates(
  card: Card,
  work: { readonly steps: readonly WorkStep[] },
  log: readonly LogRow[],
): BathState[] {
  return card.baths.map((bath, place) => {
    const rows = log.filter((row) => row.bath === place + 1);
    return { number: place + 1, bath, rows, ...stepsOf(work.steps, rows) };
  });
}

/** Goes through the log once: an addition puts its steps before what was not done when it was told. */
function stepsOf(planned: readonly WorkStep[], rows: readonly LogRow[]) {
  let steps = planned;
  const done = new Set<string>();
  const additions: BathAddition[] = [];
  const told = new Set<string>();
  for (const row of rows) {
    if (row.kind === 'step') done.add(row.what);
    if (row.kind !== 'addition' || told.has(row.requestKey)) continue;
    told.add(row.requestKey);
    const dyes = rows
      .filter((each) => each.kind === 'addition' && each.requestKey === row.requestKey)
      .map(({ what, figure }) => ({ name: what, massMg: figure }));
    const addition = { key: `addition-${told.size}`, number: told.size, dyes };
    additions.push(addition);
    steps = withAddition(steps, done, addition);
  }
  const clock = bathClock(
    steps,
    rows.filter(({ kind }) => kind === 'step').map(({ what, at }) => ({ key: what, atMs: Date.parse(at) })),
  );
  return { steps, additions, clock };
}

/** A bath as it will be once the step under way, or its beginning, is told as done. */
export function afterStep(state: BathState, planned: readonly WorkStep[], at: string): BathState {
  const what = hasBegun(state) ? (state.clock.now?.step.key ?? '') : BEGUN;
  const done: LogRow = {
    id: 0,
    bath: state.number,
    kind: 'step',
    what,
    at,
    toldAt: at,
    person: '',
    personId: 0,
    requestKey: '',
    figure: 0,
    dyeLot: '',
    note: '',
    auxiliary: null,
    lab: null,
  };
  const rows = [...state.rows, done];
  return { ...state, rows, ...stepsOf(planned, rows) };
}

/** The step that was done in the request that told of a weighing. */
export function stepOfWeighing(rows: readonly LogRow[], weighed: LogRow): string {
  return (
    rows.find(({ kind, requestKey }) => kind === 'step' && requestKey === weighed.requestKey)?.what ?? ''
  );
}

export function hasBegun(state: BathState): boolean {
  return state.rows.some(({ kind, what }) => kind === 'step' && what === BEGUN);
}

/**
 * A bath stands from its beginning until it is rinsed. Every bath that stands takes an addition, at its hold or not yet:
 * all are dyed alike.
 */
export function bathStands({ clock }: BathState): boolean {
  return clock.begunMs !== null && clock.steps.find(({ step }) => step.kind === 'rinse')?.state !== 'done';
}

/** From its hold on the shade of a bath that stands can be judged, and an addition worked out. */
export function canAdd(state: BathState): boolean {
  return bathStands(state) && state.clock.steps.find(({ step }) => step.kind === 'hold')?.actual != null;
}

/** Whether a bath stands in its pot: from its beginning until the cloth is taken out to dry. */
export function isInPot(state: BathState): boolean {
  const { now } = state.clock;
  return hasBegun(state) && now !== null && isInPotAt(now.step);
}

/** Whether a step that adds the soda is done: from then on reactive dye is spent by the water. */
export function isAlkaliIn({ clock }: BathState, { auxiliaries }: Pick<Recipe, 'auxiliaries'>): boolean {
  const alkali = auxiliaries
    .filter(({ kind, form }) =>
      (groupsOf(kind, form) ?? []).some((group) => group === 'soda' || group === 'caustic'),
    )
    .map(({ name }) => name);
  const adds = ({ adds: added }: WorkStep) => added.some(({ name }) => alkali.includes(name));
  return clock.steps.some(({ step, state }) => state === 'done' && adds(step));
}
