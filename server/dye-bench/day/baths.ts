import type { Bath } from '../../../src/dye/bath.ts';
import type { Card } from '../../../src/dye/card.ts';
import type { BathInDay } from '../../../src/dye/pot-day.ts';
import { bathKj, isInPotAt, lateMinutes, minutesInPot, sideBathsKj } from '../../../src/dye/pot-time.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { cardOf } from '../batch/page.ts';
import { vesselOnCard } from '../batch/plan.ts';
import { readBathPlans } from '../batch/pots.ts';
import {
  readBatch,
  readBatchCodes,
  readInPotIds,
  readPlannedIds,
  readSentLengths,
  type StoredBatch,
  stateOf,
} from '../batch/store.ts';
import { workOf } from '../batch/work.ts';
import { type BathState, bathStates, hasBegun, isInPot } from '../pot/bath-state.ts';
import { readLog, sinceStart } from '../pot/log-store.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';
import { readVessels, type Vessel } from '../vessels/store.ts';

/** A bath that is to be dyed or stands in its pot. */
export interface OpenBath extends BathInDay {
  readonly batch: StoredBatch;
  readonly recipe: StoredRecipe;
  /** from 1, of so many */
  readonly number: number;
  readonly count: number;
  readonly vessel: Vessel;
  readonly bath: Bath;
  readonly card: Card;
  /** the step at which it stands; '' before it begins */
  readonly stands: string;
  /** minutes that its heater is late, which are counted in */
  readonly lateMinutes: number;
  readonly kj: number;
}

/** The batches that are looked through: there are hardly ever as many. */
const MOST_BATCHES = 60;
const MINUTE_MS = 60_000;

/**
 * Baths that stand in a pot, and those that have not begun, of batches in the pot and of planned ones: those in the pot
 * first, then what is wanted soonest. A batch that cannot be worked out as things stand has none.
 */
export function readOpenBaths(reader: Reader, units: Units): OpenBath[] {
  const ids = [...readInPotIds(reader), ...readPlannedIds(reader)].slice(0, MOST_BATCHES);
  const codes = readBatchCodes(reader, ids);
  const vessels = readVessels(reader);
  return ids.flatMap((id) => openBathsOf(reader, codes.get(id) ?? '', vessels, units));
}

function openBathsOf(reader: Reader, code: string, vessels: readonly Vessel[], units: Units): OpenBath[] {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const { card } = cardOf(reader, batch, stateOf(batch, sent), units);
  if (!card) return [];
  const recipe = readRecipe(reader, batch.recipeId);
  const work = workOf(reader, recipe, card);
  const states = bathStates(card, work, sinceStart(readLog(reader, batch.id), sent));
  const plans = readBathPlans(reader, batch.id);
  return states.flatMap((state) => {
    const back = sent.filter(({ bath }) => bath === null || bath === state.number);
    if (back.length > 0 && back.every((length) => length.back !== null)) return [];
    const begun = hasBegun(state);
    if (begun && !isInPot(state)) return [];
    const plan = plans.find(({ bath }) => bath === state.number);
    const vessel = vessels.find(({ id }) => id === (plan?.vessel_id ?? batch.vessel.id));
    if (!vessel) return [];
    const pot = vesselOnCard(vessel);
    const planned = minutesInPot(state.steps, state.bath, pot);
    const fromMs = begun ? state.clock.begunMs : plan?.begins_at ? Date.parse(plan.begins_at) : null;
    return [
      {
        key: `${batch.code} ${state.number}`,
        vesselId: vessel.id,
        fromMs,
        minutes: begun && fromMs !== null ? minutesLeft(state, fromMs) : planned,
        begun,
        batch,
        recipe,
        number: state.number,
        count: states.length,
        vessel,
        bath: state.bath,
        card,
        stands: begun ? (state.clock.now?.step.title ?? '') : '',
        lateMinutes: begun ? 0 : lateMinutes(state.steps, state.bath, pot),
        kj: bathKj(state.bath, pot, recipe.recipe.temperatureC) + sideBathsKj(state.steps, state.bath, pot),
      },
    ];
  });
}

/** From its beginning to the end of its last step in the pot, as far as that can be told now. */
function minutesLeft({ clock, steps }: BathState, fromMs: number): number {
  const { now, untilMs } = clock;
  const place = now ? steps.findIndex(({ key }) => key === now.step.key) : steps.length;
  const after = (step: WorkStep, at: number) => at > place && isInPotAt(step);
  const rest = steps.filter(after).reduce((sum, { minutes }) => sum + minutes, 0);
  return Math.max(1, Math.round(((untilMs ?? fromMs) - fromMs) / MINUTE_MS) + rest);
}
