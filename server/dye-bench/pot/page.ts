import { type Hazard, hazardsOf } from '../../../src/dye/auxiliaries.ts';
import { isOfBath } from '../../../src/dye/bath-clock.ts';
import { type Card, lengthsOnCard, potOnCard } from '../../../src/dye/card.ts';
import type { Warning } from '../../../src/dye/dye-advice.ts';
import { weighingsAt } from '../../../src/dye/order-of-work.ts';
import { showPh } from '../../../src/dye/recipe-figures.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { address, queryNumber } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { batchPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showClock } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { pulseAddress } from '../../ledger/pulse.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { cardOf, sayState } from '../batch/page.ts';
import { vesselOnCard } from '../batch/plan.ts';
import { readPots } from '../batch/pots.ts';
import { readBatch, readSentLengths, stateOf } from '../batch/store.ts';
import { type Work, workOf } from '../batch/work.ts';
import { showCard } from '../card/show.ts';
import { sayPot } from '../card/split-show.ts';
import { potChoiceForm } from '../day/pot-choice.ts';
import { labelWords } from '../recipe/by-label.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';
import { afterStep, type BathState, bathStates, canAdd, hasBegun } from './bath-state.ts';
import { PH, STEP_DONE, TEMPERATURE } from './log-forms.ts';
import { readDyeLots, readLog, sinceStart } from './log-store.ts';
import { sayLog } from './log-words.ts';
import { readBy, unreadOf } from './read-cautions.ts';
import {
  clockOf,
  dueCautions,
  phChoices,
  shapeStep,
  shapeWhole,
  temperatureChoices,
  withHeads,
} from './step.ts';
import { phAtStep, sayStepPh } from './step-ph.ts';

export type BatchBenchData = ReturnType<typeof batchBenchPage>['data'];

/** A batch for wet hands: the step now, its cautions before its amounts, its timer, and what there is to log. */
export function batchBenchPage(reader: Reader, code: string, asker: Asker, now: string, typed: Typed = {}) {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const state = stateOf(batch, sent);
  const { card, trouble } = cardOf(reader, batch, state, asker.units);
  const stored = readRecipe(reader, batch.recipeId);
  const work: Work = card ? workOf(reader, stored, card) : { steps: [], cautions: [], content: [] };
  const started = state === 'in the pot' || state === 'done';
  const log = sinceStart(readLog(reader, batch.id), sent);
  // Of what is back, a bath that nobody began at the bench does not begin any more.
  const baths = (card && started ? bathStates(card, work, log) : []).filter(
    (bath) => state !== 'done' || hasBegun(bath),
  );
  const asked = queryNumber(typed, 'bath') ?? 1;
  const here = baths.find(({ number }) => number === asked) ?? baths[0];
  const path = batchPath(batch.code);
  const several = baths.length > 1;
  const data = {
    requestKey: mintKey(),
    pulse: pulseAddress(reader, { batch: batch.code }),
    code: batch.code,
    /** what is done here, for a device that keeps it: "Bath 2 of D4" */
    work: several && here ? `Bath ${here.number} of ${batch.code}` : `Batch ${batch.code}`,
    state,
    said: sayState(batch, state, sent),
    chip: shadeChip(stored.shade),
    byLabel: labelWords(stored),
    trouble,
    ways: {
      card: path,
      record: `${path}/record`,
      addition: `${path}/addition`,
      byHand: here ? address(`${path}/by-hand`, { bath: here.number }) : '',
      /** '' where the batch cannot be started or finished now */
      start: state === 'planned' && card && trouble.length === 0 ? `${path}/starts` : '',
      finish: state === 'in the pot' ? `${path}/finish` : '',
      /** where another pot is chosen for a bath that has not begun */
      pots: here && !hasBegun(here) ? `${path}/pots` : '',
      logs: `${path}/logs`,
    },
    cautions: shapeCautions(here, stored, work, card?.warnings ?? [], readBy(log, asker.personId)),
    /** the other baths and this one, where there are several */
    baths: several
      ? baths.map((bath) => ({
          label: `Bath ${bath.number}`,
          href: `${path}/bench?bath=${bath.number}`,
          here: bath === here,
          says: sayBath(bath),
        }))
      : [],
    /** what comes after the step under way, for a device that goes on while the book does not answer */
    turns: here && state === 'in the pot' ? shapeTurns(reader, here, stored, work, now) : [],
    /** the bath at hand; null before the start */
    bath: here && card ? shapeBath(reader, here, card, now) : null,
    card: card ? showCard(card, asker.units) : null,
    /** what the bath at hand takes in all; before the start that of the first */
    whole: card ? wholeOf(reader, batch.id, card, here, asker) : null,
    /** the pot of the bath at hand, to be chosen until it begins */
    pot: drawFields(
      { vessel_id: potChoiceForm(reader).shape.vessel_id },
      {
        vessel_id: String(readPots(reader, batch.id)[(here?.number ?? 1) - 1]?.id ?? batch.vessel.id),
        ...typed,
      },
    ).vessel_id,
    fields: drawFields({ temperature: TEMPERATURE.shape.temperature, ph: PH.shape.ph }, typed),
  };
  const title = several && here ? `${batch.code}, bath ${here.number}` : `Batch ${batch.code}`;
  return { view: 'dye-bench/pot/bench', data, title, room: 'dye-bench' } satisfies Page;
}

/**
 * The cautions that are due at the step under way, all where no bath is at hand, and which of them this person has not
 * read yet for this batch; what to beware of with the cloth counts with them.
 */
function shapeCautions(
  here: BathState | undefined,
  stored: StoredRecipe,
  work: Work,
  warnings: readonly Warning[],
  read: ReadonlySet<string>,
) {
  const all = withHeads(work.cautions);
  const due = here ? dueCautions(here, hazardsByName(stored, work), work.cautions) : all;
  return {
    due,
    all,
    warnings,
    unread: unreadOf([...due, ...warnings], read),
  };
}

export type PotTurn = ReturnType<typeof shapeTurns>[number];

/** The steps of a bath after the one under way, each with its cautions, as if those before were done now. */
function shapeTurns(reader: Reader, here: BathState, stored: StoredRecipe, work: Work, now: string) {
  const hazards = hazardsByName(stored, work);
  const lots = readDyeLots(reader, namesWeighed(here));
  const { balanceMg } = readWorkroom(reader);
  return statesToCome(here, work, now).flatMap((state) => {
    const step = shapeStep(state, now, lots, balanceMg);
    const cautions = dueCautions(state, hazards, work.cautions);
    return step ? [{ requestKey: mintKey(), step, cautions }] : [];
  });
}

function statesToCome(here: BathState, work: Work, now: string): BathState[] {
  if (!here.clock.now) return [];
  const next = afterStep(here, work.steps, now);
  return [next, ...statesToCome(next, work, now)];
}

function namesWeighed({ steps, bath }: BathState): string[] {
  return steps.flatMap((step) => weighingsAt(step, bath).map(({ name }) => name));
}

/** What a person has said to have read of the cautions of a batch. */
function wholeOf(reader: Reader, batchId: number, card: Card, here: BathState | undefined, { units }: Asker) {
  const number = here?.number ?? 1;
  const bath = here?.bath ?? card.baths[0];
  if (!bath) return null;
  const names = bath.lines.map(({ name }) => name);
  const chosen = readPots(reader, batchId)[number - 1];
  const pot = chosen ? vesselOnCard(chosen) : potOnCard(card, number);
  const place = { number, count: card.baths.length };
  return {
    ...shapeWhole(bath, place, readDyeLots(reader, names), readWorkroom(reader).balanceMg),
    pot: sayPot(pot, card.recipe.temperatureC),
    potName: pot.name,
    /** the lengths that lie in it */
    cloth: lengthsOnCard(card)
      .filter((length) => length.bath === number)
      .map(({ piece: { code, cloth, lot }, lengthTicks }) => ({
        code,
        cloth,
        lot,
        length: showLength(lengthTicks, units, 'near'),
      })),
  };
}

function shapeBath(reader: Reader, state: BathState, card: Card, now: string) {
  const last = state.rows.at(-1);
  const step = state.clock.now?.step;
  const told = last && state.rows.filter(({ requestKey }) => requestKey === last.requestKey)[0];
  const stepPh = step ? phAtStep(state, step.key, card) : null;
  const shown = shapeStep(
    state,
    now,
    readDyeLots(reader, namesWeighed(state)),
    readWorkroom(reader).balanceMg,
  );
  return {
    number: state.number,
    begun: hasBegun(state),
    step: shown ? { ...shown, weighed: drawWeighed(shown) } : null,
    temperatures: temperatureChoices(state, now).map((c) => ({ value: String(c), label: `${c} °C` })),
    /** what this step wants of the pH, and what is to be expected; '' where nothing is measured */
    ph: stepPh ? sayStepPh(stepPh) : '',
    phs: phChoices(stepPh).map((tenths) => ({
      value: showPh(tenths),
      label: `pH ${showPh(tenths)}`,
    })),
    /** whether the log stands open: where heat is what matters now */
    open: hasBegun(state) && step !== undefined && ['heat', 'hold', 'cool'].includes(step.kind),
    last:
      last && told
        ? { id: last.id, said: `${sayLog(told, state.steps)}, ${showClock(last.at)}, ${last.person}` }
        : null,
    canAdd: canAdd(state),
  };
}

/** The form for what was weighed otherwise, filled in with what is wanted. */
function drawWeighed({ water, things }: NonNullable<ReturnType<typeof shapeStep>>) {
  const typed = things.flatMap(({ name, exact, lot }, at) => [
    [`things.${at}.name`, name],
    [`things.${at}.amount`, exact],
    [`things.${at}.lot`, lot],
  ]);
  return drawFields(
    STEP_DONE.shape,
    { water: water?.typed ?? '', ...Object.fromEntries(typed) },
    {
      things: things.length,
    },
  );
}

function sayBath(state: BathState): string {
  if (!hasBegun(state)) return 'not begun';
  const { now, untilMs } = state.clock;
  if (!now) return 'all steps done';
  const until = untilMs === null ? '' : `, until ${clockOf(untilMs)}`;
  return `${now.step.title}${isOfBath(now.step) ? until : ''}`;
}

/** What there is to beware of in each auxiliary, by its name, for the cautions of a step. */
function hazardsByName({ recipe }: StoredRecipe, work: Work): ReadonlyMap<string, readonly Hazard[]> {
  const beside = work.steps.flatMap(({ doses }) => doses);
  return new Map([
    ...beside.map(({ name, kind, form }) => [name, hazardsOf(kind, form)] as const),
    ...recipe.auxiliaries.map(({ name, kind, form }) => [name, hazardsOf(kind, form)] as const),
  ]);
}
