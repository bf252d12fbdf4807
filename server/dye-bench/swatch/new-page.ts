import { showLiquorRatio } from '../../../src/dye/bench-figures.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { filledIn } from '../numbered-rows.ts';
import { readRecipe } from '../recipe/store.ts';
import { swatchJobForm } from './form.ts';

/** Planning swatches. `?recipe=` and `?lot=` fill in the first; the ratios are those of that recipe. */
export function newSwatchPage(reader: Reader, typed: Typed) {
  const form = swatchJobForm(reader);
  const { lot_id, mass, lab_ratio, bulk_ratio, swatches, lots, note } = drawFields(
    form.shape,
    filledIn({ ...offered(reader, typed), ...typed }),
  );
  const data = {
    requestKey: mintKey(),
    fields: [lot_id, mass, lab_ratio, bulk_ratio],
    swatches,
    lots,
    note,
    /** false where there is nothing to dye or no recipe to dye it by */
    ready: { lots: (lot_id.options?.length ?? 0) > 1, recipes: hasRecipe(reader) },
  };
  return { view: 'dye-bench/swatch/new', data, title: 'New swatches', room: 'dye-bench' } satisfies Page;
}

function hasRecipe(reader: Reader): boolean {
  return reader.first(reader.db.selectFrom('recipe').select('id').limit(1)) !== undefined;
}

function offered(reader: Reader, typed: Typed): Typed {
  const recipeId = queryNumber(typed, 'recipe');
  const known = recipeId === null ? undefined : readRecipe(reader, recipeId);
  const ratio = known ? showLiquorRatio(known.recipe.liquorRatioMilli) : '1:20';
  return {
    mass: '5',
    lab_ratio: ratio,
    bulk_ratio: ratio,
    ...(known ? { 'swatches.0.recipe_id': String(known.followedById ?? known.id) } : {}),
    ...(typed.lot ? { lot_id: typed.lot } : {}),
  };
}
