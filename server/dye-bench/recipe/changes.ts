import { showOwf } from '../../../src/dye/bench-figures.ts';
import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { capital, fibreOf, sayFibreNames } from '../../../src/dye/fibre.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { recipeFigures, sayForm, sayMeasured } from './figures.ts';
import { sayAmount } from './offer.ts';
import { OWN, type StoredRecipe, sayMark } from './store.ts';

/** One thing that differs between two recipes; '' where the one or the other has none of it. */
export interface RecipeChange {
  readonly what: string;
  readonly was: string;
  readonly now: string;
  /** where the new figure comes from */
  readonly source: string;
}

/** What of a recipe is compared with another. */
export type ComparedRecipe = Pick<StoredRecipe, 'fibre' | 'recipe' | 'auxiliaryMarks' | 'shrinkageBp'> & {
  readonly shade: { readonly name: string };
};

/** Everything that differs between a recipe and the one that was made from it, in the order of the form. */
export function recipeChanges(before: ComparedRecipe, after: ComparedRecipe): RecipeChange[] {
  const was = new Map(linesOf(before).map((line) => [line.what, line.said]));
  const now = linesOf(after);
  const changed = now.flatMap(({ what, said, source }) => {
    const old = was.get(what) ?? '';
    return old === said ? [] : [{ what, was: old, now: said, source }];
  });
  const gone = [...was].flatMap(([what, said]) =>
    now.some((line) => line.what === what) ? [] : [{ what, was: said, now: '', source: '' }],
  );
  return [...changed, ...gone];
}

interface Line {
  readonly what: string;
  readonly said: string;
  readonly source: string;
}

function linesOf({ shade, fibre, recipe, auxiliaryMarks, shrinkageBp }: ComparedRecipe): Line[] {
  const line = (what: string, said: string, source = ''): Line => ({ what, said, source });
  return [
    line('Shade', shade.name),
    line('Fibre', fibreOf(fibre).name),
    line('Class of dye', DYE_CLASS_NAMES[recipe.dyeClass]),
    ...(recipe.method === '' ? [] : [line('How it is worked', recipe.method)]),
    ...(recipe.also ? [line('Also in the bath', sayFibreNames(recipe.also))] : []),
    ...recipe.dyes.map(({ name, owfMilli }) => line(name, showOwf(owfMilli), sayMark(OWN))),
    ...recipe.auxiliaries.map((auxiliary, row) =>
      line(
        capital(sayForm(auxiliary)),
        sayMeasured(auxiliary.kind, auxiliary.form, sayAmount(auxiliary)),
        sayMark(auxiliaryMarks[row] ?? OWN),
      ),
    ),
    ...recipeFigures(recipe).map(({ label, value, source }) => line(label, value, source)),
    line('Shrinkage allowed for', showPercent(shrinkageBp)),
  ];
}
