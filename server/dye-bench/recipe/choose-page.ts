import type { Reader } from '../../database/book.ts';
import { address, queryNumber } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { readDyeCloths } from '../batch/dyeable.ts';
import { newestRecipes, readRecipeRows } from './list-page.ts';

/** The first step of a batch: which recipe. `?shade=` narrows it, and is kept with `?cloth=`, `?wanted=` and `?over=`. */
export function choosePage(reader: Reader, typed: Typed) {
  const shadeId = queryNumber(typed, 'shade');
  const shade =
    shadeId === null
      ? undefined
      : reader.first(reader.db.selectFrom('shade').selectAll().where('id', '=', shadeId));
  const kept = {
    cloth: typed.cloth ?? '',
    shade: typed.shade ?? '',
    wanted: typed.wanted ?? '',
    over: typed.over ?? '',
  };
  const rows = readRecipeRows(reader, newestRecipes(reader, shade?.id ?? null, null), 0);
  const data = {
    /** the shade wanted, where the way here named one */
    shade: shade ? { name: shade.name, chip: shadeChip(shade) } : null,
    recipes: rows.map((row) => ({
      ...row,
      choose: address('/dye-bench/batches/new', { recipe_id: row.id, ...kept }),
    })),
    /** true where only the first fifty are shown */
    more: rows.length === 50,
    /** the form for a recipe of this shade, and of the cloth's fibre where one is named */
    newRecipe: address('/dye-bench/recipes/new', {
      shade_id: shade?.id ?? null,
      fibre: mainFibre(reader, typed),
    }),
    allRecipes: address('/dye-bench/recipes', { shade: shade?.id ?? null }),
  };
  return {
    view: 'dye-bench/recipe/choose',
    data,
    title: 'New batch: choose a recipe',
    room: 'dye-bench',
  } satisfies Page;
}

function mainFibre(reader: Reader, typed: Typed): string {
  const clothId = queryNumber(typed, 'cloth');
  if (clothId === null) return '';
  return readDyeCloths(reader, [clothId]).get(clothId)?.content[0]?.fibre ?? '';
}
