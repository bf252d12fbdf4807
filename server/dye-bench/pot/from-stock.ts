import { auxiliaryOf } from '../../../src/dye/auxiliaries.ts';
import type { Dose } from '../../../src/dye/order-facts.ts';
import type { Weighing } from '../../../src/dye/order-of-work.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import type { WeighedThing } from '../../../src/supply/weighed.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';

const dyesOfRecipe = prepared((db, recipeId: Param<number>) =>
  db.selectFrom('recipe_dye').select(['name', 'dye_id']).where('recipe_id', '=', recipeId),
);

/** Which dye of the list each dye of a recipe is, by its name there; null where it has a name only. */
export function readDyeIds(reader: Reader, recipeId: number): ReadonlyMap<string, number | null> {
  return new Map(reader.all(dyesOfRecipe(recipeId)).map(({ name, dye_id: id }) => [name, id]));
}

type Chosen = Pick<Dose, 'kind' | 'form' | 'name'>;

/** A dose that names no form is of the first in which the chemical is sold. */
function formOf({ kind, form }: Pick<Dose, 'kind' | 'form'>): string {
  return form ?? auxiliaryOf(kind).forms[0]?.code ?? '';
}

/** What a weighing takes from the stock: a dye, a chemical of the recipe, or one of a bath of its own beside it. */
export function thingOf(
  weighing: Pick<Weighing, 'name' | 'part'>,
  massMg: number,
  of: {
    readonly recipe: Pick<Recipe, 'auxiliaries'>;
    readonly step: Pick<WorkStep, 'doses'>;
    readonly dyeIds: ReadonlyMap<string, number | null>;
  },
): WeighedThing {
  const { name, part } = weighing;
  if (part === 'dye' || part === 'addition')
    return { name, dyeId: of.dyeIds.get(name) ?? null, chemical: null, massMg };
  const lines: readonly Chosen[] = part === 'auxiliary' ? of.recipe.auxiliaries : of.step.doses;
  const found = lines.find((each) => each.name === name) ?? ({ kind: 'other' } as const);
  return { name, dyeId: null, chemical: { kind: found.kind, form: formOf(found) }, massMg };
}
