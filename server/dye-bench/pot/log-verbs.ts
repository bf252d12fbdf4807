import type { Viewing } from '../../../src/colour/colour-reading.ts';
import { BEGUN, holdLeftMinutes } from '../../../src/dye/bath-clock.ts';
import { type Weighing, weighingsAt } from '../../../src/dye/order-of-work.ts';
import { withAlso } from '../../../src/dye/recipe.ts';
import { limitsPassedByWeighing } from '../../../src/dye/weighed-limits.ts';
import { readVolume } from '../../../src/quantity/volume.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import type { LogKind } from '../../database/dye-tables.ts';
import { batchPath } from '../../kit/paths.ts';
import { showClock } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import { conflict, invalid, type Problem, type Refusal, refuseAny } from '../../refusal.ts';
import { returnWeighed, takeWeighed } from '../../supplies/weighed.ts';
import { readBatch, readSentLengths, stateOf } from '../batch/store.ts';
import { workOf } from '../batch/work.ts';
import { whyPotIsTaken } from '../day/pot-choice.ts';
import { readRecipe } from '../recipe/store.ts';
import { type BathState, bathStates, hasBegun } from './bath-state.ts';
import { readDyeIds, thingOf } from './from-stock.ts';
import { readWeighed, type StepDoneForm } from './log-forms.ts';
import { readLog, sinceStart } from './log-store.ts';

/** A started batch with its baths as the log leaves them. */
export type AtThePot = ReturnType<typeof readAtThePot>;

/** @throws {Refusal} conflict where the batch has not started */
export function readAtThePot(reader: Reader, code: string) {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const state = stateOf(batch, sent);
  if (batch.card === null || state === 'planned' || state === 'cancelled') {
    throw conflict(`${code} is ${state}: it is logged once it has started.`, {
      text: `Batch ${code}`,
      href: batchPath(code),
    });
  }
  const log = sinceStart(readLog(reader, batch.id), sent);
  const stored = readRecipe(reader, batch.recipeId);
  const work = workOf(reader, stored, batch.card);
  const { cautions, content } = work;
  // A batch may be made at another ratio than its recipe's, and with more in the bath.
  const { liquorRatioMilli, also = [] } = batch.card.recipe;
  const recipe = withAlso({ ...stored.recipe, liquorRatioMilli }, also);
  // The water as it was when the batch started.
  const water = batch.card.ph?.water ?? null;
  return { batch, state, log, baths: bathStates(batch.card, work, log), cautions, content, recipe, water };
}

/** The bath of that number. @throws {Refusal} invalid */
export function bathOf({ batch, baths }: AtThePot, number: number): BathState {
  const bath = baths.find((each) => each.number === number);
  if (bath) return bath;
  const count = wordFor(baths.length, 'one bath', `${baths.length} baths`);
  throw invalid('bath', `${batch.code} has ${count}.`);
}

export function insertLog(
  tx: Tx,
  batchId: number,
  log: {
    readonly bath: number;
    readonly kind: LogKind;
    readonly figure?: number;
    readonly what?: string;
    readonly dyeLot?: string;
    readonly note?: string;
    readonly lab?: { readonly l: number; readonly a: number; readonly b: number };
    readonly labHow?: 'instrument' | 'photo' | 'screen' | 'typed';
    readonly viewing?: Viewing;
    readonly undoesId?: number;
  },
): number {
  return tx.run(
    tx.db.insertInto('batch_log').values({
      batch_id: batchId,
      bath: log.bath,
      kind: log.kind,
      at: tx.at,
      person_id: tx.personId,
      request_key: tx.requestKey,
      figure: log.figure ?? null,
      what: log.what ?? '',
      dye_lot: log.dyeLot ?? '',
      note: log.note ?? '',
      lab_l: log.lab?.l ?? null,
      lab_a: log.lab?.a ?? null,
      lab_b: log.lab?.b ?? null,
      lab_how: log.lab ? (log.labHow ?? 'typed') : null,
      ...(log.viewing && {
        lab_illuminant: log.viewing.illuminant,
        lab_observer: log.viewing.observer,
      }),
      undoes_id: log.undoesId ?? null,
    }),
  ).lastId;
}

export function potPath(code: string, bath: number): string {
  return `${batchPath(code)}/bench?bath=${bath}`;
}

/**
 * A step is done, or the bath begins. What was weighed for it is kept with it. Where somebody else was quicker, it says
 * who and what the step is now.
 */
export function finishStep(tx: Tx, code: string, form: StepDoneForm): Answer {
  const pot = readAtThePot(tx, code);
  const state = bathOf(pot, form.bath.value);
  const named = pot.baths.length === 1 ? code : `Bath ${state.number} of ${code}`;
  const location = potPath(code, state.number);
  if (form.step === BEGUN) {
    if (hasBegun(state)) throw quicker(state, BEGUN, location);
    if (pot.state === 'done')
      throw conflict(`All of ${code} is back: no bath of it begins any more.`, {
        text: 'Record',
        href: `${batchPath(code)}/record`,
      });
    const taken = whyPotIsTaken(tx, tx.personId, code, state.number);
    if (taken !== '') throw conflict(taken, { text: 'Pots over the day', href: '/dye-bench/day' });
    insertLog(tx, pot.batch.id, { bath: state.number, kind: 'step', what: BEGUN });
    return { location, said: `${named} has begun: ${state.clock.now?.step.title ?? ''}.` };
  }
  const now = state.clock.now?.step;
  if (!hasBegun(state) || now?.key !== form.step) throw quicker(state, form.step, location);
  const skipped = holdLeftMinutes(state.clock, Date.parse(tx.doneAt));
  const ofHold = `${skipped} of its ${now.minutes} min`;
  if (skipped !== null && !form.skip_hold) {
    const message = `${now.title} is not over: ${ofHold} are left. Skip them only where the shade is right.`;
    throw invalid('skip_hold', message);
  }
  const weighings = weighingsAt(now, state.bath);
  insertLog(tx, pot.batch.id, { bath: state.number, kind: 'step', what: now.key });
  const things = readThings(form, weighings);
  refuseHarm(form, pot, state, things);
  const dyeIds = readDyeIds(tx, pot.batch.recipeId);
  const after = takeWeighed(
    tx,
    things.map(({ part, ...weighed }) => ({
      ...thingOf({ name: weighed.what, part }, weighed.figure, { recipe: pot.recipe, step: now, dyeIds }),
      logId: insertLog(tx, pot.batch.id, { bath: state.number, kind: 'weighed', ...weighed }),
      lot: weighed.dyeLot,
    })),
  );
  if (now.kind === 'set') {
    insertLog(tx, pot.batch.id, { bath: state.number, kind: 'water', figure: readWater(form, state) });
  }
  const place = state.steps.findIndex(({ key }) => key === now.key);
  const next = state.steps[place + 1];
  const then = next ? `Now: ${next.title}.` : 'That was the last step.';
  const early = skipped === null ? '' : `, ${ofHold} skipped`;
  return { location, said: `${now.title}: done${early}. ${then}`, ...(after === '' ? {} : { after }) };
}

function quicker(state: BathState, key: string, href: string): Refusal {
  const done = state.rows.find(({ kind, what }) => kind === 'step' && what === key);
  const told = done ? `That was told by ${done.person} at ${showClock(done.at)}. ` : '';
  const now = state.clock.now;
  const stands = !hasBegun(state)
    ? 'The bath has not begun.'
    : now
      ? `The step now is: ${now.step.title}.`
      : 'All steps are done.';
  return conflict(`${told}${stands} Nothing was logged.`, { text: 'The bath as it is now', href });
}

/** Every amount at once, so that all that cannot be read is told together. */
function readThings(form: StepDoneForm, weighings: readonly Weighing[]) {
  const problems: Problem[] = [];
  const things = weighings.flatMap((wanted) => {
    const given = form.things.find(({ name }) => name === wanted.name);
    const read = given && given.amount !== '' ? readWeighed(given.amount, wanted) : null;
    if (given && read && !read.ok) {
      problems.push({ field: `things.${given.place}.amount`, message: read.reason });
      return [];
    }
    const figure = read?.ok ? read.value : wanted.massMg;
    return [{ what: wanted.name, figure, dyeLot: given?.lot ?? '', part: wanted.part }];
  });
  const strange = form.things.find(({ name }) => !weighings.some((wanted) => wanted.name === name));
  if (strange) {
    problems.push({
      field: `things.${strange.place}.name`,
      message: `${strange.name} is not due at this step.`,
    });
  }
  refuseAny(problems);
  return things;
}

/** Refused before it is logged: an amount that the cloth does not stand. */
function refuseHarm(
  form: StepDoneForm,
  { recipe, content, water }: AtThePot,
  { bath, clock }: BathState,
  things: readonly { readonly what: string; readonly figure: number }[],
): void {
  const step = clock.now?.step;
  if (!step) return;
  const weighed = things.map(({ what, figure }) => ({ name: what, massMg: figure }));
  const passed = limitsPassedByWeighing({ recipe, content, bath, water }, step, weighed);
  refuseAny(
    passed.map(({ chemical, says }) => {
      const row = form.things.find(({ name }) => name === chemical?.name)?.place;
      return {
        field: row === undefined ? 'things' : `things.${row}.amount`,
        message: `${says} Do not put it in: weigh what the plan says.`,
      };
    }),
  );
}

function readWater({ water }: StepDoneForm, { bath }: BathState): number {
  if (water === '') return Math.round(bath.freshWaterUl / 1000);
  const read = readVolume(water, 'l');
  if (!read.ok) throw invalid('water', read.reason);
  return read.value;
}

/** A temperature in °C or a pH in tenths, of a bath that has begun. */
export function logReading(
  tx: Tx,
  code: string,
  reading: { readonly bath: number; readonly kind: 'temperature' | 'pH'; readonly value: number },
): Answer {
  const pot = readAtThePot(tx, code);
  const state = bathOf(pot, reading.bath);
  const location = potPath(code, state.number);
  const { kind, value } = reading;
  if (!hasBegun(state)) throw quicker(state, '', location);
  insertLog(tx, pot.batch.id, { bath: state.number, kind, figure: value * 10 });
  const shown = kind === 'temperature' ? `${value} °C` : `pH ${value / 10}`;
  return { location, said: `${shown} is logged, ${showClock(tx.doneAt)}.` };
}

/** A note on the whole batch. */
export function logNote(tx: Tx, code: string, note: string): Answer {
  const { batch } = readAtThePot(tx, code);
  insertLog(tx, batch.id, { bath: 0, kind: 'note', note });
  return { location: recordPath(code), said: 'The note is kept.' };
}

export function recordPath(code: string): string {
  return `${batchPath(code)}/record`;
}

/**
 * Takes back the last thing that was logged of a bath, with all that was told in one go with it; of the whole batch
 * (bath 0) any swatch, verdict or note. The rows stay, and say that they were taken back.
 */
export function takeBack(
  tx: Tx,
  code: string,
  asked: { readonly bath: number; readonly id: number },
): Answer {
  const batch = readBatch(tx, code);
  const log = readLog(tx, batch.id);
  const rows = log.filter(({ bath }) => bath === asked.bath);
  const row = rows.find(({ id }) => id === asked.id);
  const location = asked.bath > 0 ? potPath(code, asked.bath) : recordPath(code);
  const way = { text: 'The log as it is now', href: location };
  if (!row) throw conflict('That was taken back already, or was never logged here.', way);
  const last = rows.at(-1);
  if (asked.bath > 0 && last && last.requestKey !== row.requestKey) {
    throw conflict('Something was logged since: take that back first.', way);
  }
  const taken = log.filter(({ requestKey }) => requestKey === row.requestKey);
  for (const { id, bath } of taken) {
    insertLog(tx, batch.id, { bath, kind: 'undone', undoesId: id });
  }
  const after = returnWeighed(
    tx,
    taken.map(({ id }) => id),
  );
  const said = `Taken back: what was logged at ${showClock(row.at)}.`;
  return { location, said, ...(after === '' ? {} : { after }) };
}
