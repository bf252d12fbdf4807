import { weighingsAt } from '../../../src/dye/order-of-work.ts';
import { withAlso } from '../../../src/dye/recipe.ts';
import type { ThingToWeigh } from '../../../src/supply/weighed.ts';
import type { Reader } from '../../database/book.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { type BathState, bathStates, hasBegun } from '../pot/bath-state.ts';
import { readDyeIds, thingOf } from '../pot/from-stock.ts';
import { readLog, sinceStart } from '../pot/log-store.ts';
import { readRecipe } from '../recipe/store.ts';
import { cardOf } from './page.ts';
import {
  readBatch,
  readBatchCodes,
  readInPotIds,
  readPlannedIds,
  readSentLengths,
  stateOf,
} from './store.ts';
import { workOf } from './work.ts';

/** The batches that are looked through: there are hardly ever as many. */
const MOST_BATCHES = 60;

/**
 * All that is still to be weighed for batches that are planned or in the pot, a bath and step at a time. A batch that
 * cannot be worked out as things stand tells nothing.
 */
export function readToWeigh(reader: Reader): ThingToWeigh[] {
  const ids = [...readInPotIds(reader), ...readPlannedIds(reader)].slice(0, MOST_BATCHES);
  const { units } = readWorkroom(reader);
  return [...readBatchCodes(reader, ids).values()].flatMap((code) => {
    const batch = readBatch(reader, code);
    const sent = readSentLengths(reader, batch.id);
    const { card } = cardOf(reader, batch, stateOf(batch, sent), units);
    if (!card) return [];
    const stored = readRecipe(reader, batch.recipeId);
    const recipe = withAlso(stored.recipe, card.recipe.also ?? []);
    const dyeIds = readDyeIds(reader, batch.recipeId);
    const states = bathStates(
      card,
      workOf(reader, stored, card),
      sinceStart(readLog(reader, batch.id), sent),
    );
    return states.flatMap((state) =>
      stepsToCome(state).flatMap((step) =>
        weighingsAt(step, state.bath).map((weighing) => ({
          ...thingOf(weighing, weighing.massMg, { recipe, step, dyeIds }),
          batch: code,
        })),
      ),
    );
  });
}

/** The steps that are not done yet; what is weighed for a step is entered as it is done. */
function stepsToCome(state: BathState) {
  if (!hasBegun(state)) return state.steps;
  const { now } = state.clock;
  return now ? state.steps.slice(state.steps.findIndex(({ key }) => key === now.step.key)) : [];
}
