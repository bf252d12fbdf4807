import type { Card } from '../../../src/dye/card.ts';
import { weighingsAt } from '../../../src/dye/order-of-work.ts';
import { withAlso } from '../../../src/dye/recipe.ts';
import type { ThingToWeigh } from '../../../src/supply/weighed.ts';
import type { Reader } from '../../database/book.ts';
import type { StoredRecipe } from '../recipe/store.ts';
import { type BathState, hasBegun } from './bath-state.ts';
import { readDyeIds, thingOf } from './from-stock.ts';

/** What is still to be weighed for the baths of one batch, a bath and step at a time. */
export function stillToWeigh(
  reader: Reader,
  batch: { readonly code: string; readonly stored: StoredRecipe; readonly card: Card },
  states: readonly BathState[],
): ThingToWeigh[] {
  const { code, stored, card } = batch;
  const recipe = withAlso(stored.recipe, card.recipe.also ?? []);
  const dyeIds = readDyeIds(reader, stored.id);
  return states.flatMap((state) =>
    stepsToCome(state).flatMap((step) =>
      weighingsAt(step, state.bath).map((weighing) => ({
        ...thingOf(weighing, weighing.massMg, { recipe, step, dyeIds }),
        batch: code,
      })),
    ),
  );
}

/** The steps that are not done yet; what is weighed for a step is entered as it is done. */
function stepsToCome(state: BathState) {
  if (!hasBegun(state)) return state.steps;
  const { now } = state.clock;
  return now ? state.steps.slice(state.steps.findIndex(({ key }) => key === now.step.key)) : [];
}
