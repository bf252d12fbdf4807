import type { ThingToWeigh } from '../../../src/supply/weighed.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { bathStates } from '../pot/bath-state.ts';
import { readLog, sinceStart } from '../pot/log-store.ts';
import { stillToWeigh } from '../pot/still-to-weigh.ts';
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
 * All that is still to be weighed for batches that are planned or in the pot. A batch that cannot be worked out as things
 * stand tells nothing. Each batch's card is worked out for it, so that it is kept.
 */
export const readToWeigh = keptUntilWritten((reader): readonly ThingToWeigh[] => {
  const ids = [...readInPotIds(reader), ...readPlannedIds(reader)].slice(0, MOST_BATCHES);
  const { units } = readWorkroom(reader);
  return [...readBatchCodes(reader, ids).values()].flatMap((code) => {
    const batch = readBatch(reader, code);
    const sent = readSentLengths(reader, batch.id);
    const { card } = cardOf(reader, batch, stateOf(batch, sent), units);
    if (!card) return [];
    const stored = readRecipe(reader, batch.recipeId);
    const states = bathStates(
      card,
      workOf(reader, stored, card),
      sinceStart(readLog(reader, batch.id), sent),
    );
    return stillToWeigh(reader, { code, stored, card }, states);
  });
});
