import { showOwf } from '../../../src/dye/bench-figures.ts';
import { DYE_CLASS_NAMES, type RecipeClass } from '../../../src/dye/dye-class.ts';
import { FIBRES, type FibreCode, fibreOf } from '../../../src/dye/fibre.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber, queryText } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { withBlank } from '../../kit/choices.ts';
import { PAGE_ROWS, sliceOf } from '../../kit/paging.ts';
import type { Page } from '../../web/page-frame.ts';
import { dyedShadeChoices, FIBRE_OPTIONS } from './form.ts';
import { recipePath } from './store.ts';

/** The newest version of every recipe by name; `?shade=` and `?fibre=` narrow the list. */
export function recipesPage(reader: Reader, query: unknown) {
  const shade = queryNumber(query, 'shade');
  const fibre = FIBRES.find(({ code }) => code === queryText(query, 'fibre'))?.code ?? null;
  const filters = { shade: shade === null ? '' : String(shade), fibre: fibre ?? '' };
  const newest = newestRecipes(reader, shade, fibre);
  const total = reader.first(newest.select((of) => of.fn.countAll<number>().as('total')))?.total ?? 0;
  const { offset, pager } = sliceOf(query, {
    total,
    noun: 'recipes',
    path: '/dye-bench/recipes',
    kept: filters,
  });
  const data = {
    filters,
    choices: {
      shades: withBlank(dyedShadeChoices(reader), 'All shades'),
      fibres: withBlank(FIBRE_OPTIONS, 'All fibres'),
    },
    recipes: readRecipeRows(reader, newest, offset),
    pager,
    filtered: shade !== null || fibre !== null,
  };
  return { view: 'dye-bench/recipe/recipes', data, title: 'Recipes', room: 'dye-bench' } satisfies Page;
}

export function newestRecipes(reader: Reader, shade: number | null, fibre: FibreCode | null) {
  let query = reader.db
    .selectFrom('recipe')
    .innerJoin('shade', 'shade.id', 'recipe.shade_id')
    .leftJoin('recipe as next', 'next.follows_id', 'recipe.id')
    .where('next.id', 'is', null);
  if (shade !== null) query = query.where('recipe.shade_id', '=', shade);
  if (fibre !== null) query = query.where('recipe.fibre', '=', fibre);
  return query;
}

/** Fifty of them by name, from `offset` on. */
export function readRecipeRows(reader: Reader, newest: ReturnType<typeof newestRecipes>, offset: number) {
  const rows = reader.all(
    newest
      .select([
        'recipe.id',
        'recipe.name as recipe_name',
        'recipe.version',
        'recipe.fibre',
        'recipe.dye_class',
      ])
      .select(['shade.name', 'shade.lab_l', 'shade.lab_a', 'shade.lab_b'])
      .orderBy('recipe.name')
      .orderBy('recipe.id')
      .limit(PAGE_ROWS)
      .offset(offset),
  );
  const dyes = readDyesOf(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => ({
    id: row.id,
    name: row.recipe_name,
    version: row.version,
    href: recipePath(row.id),
    chip: shadeChip(row),
    fibre: fibreOf(row.fibre as FibreCode).name,
    dyeClass: DYE_CLASS_NAMES[row.dye_class as RecipeClass],
    /** "Rose 1.2 % owf, Gold 0.3 % owf" */
    dyes: dyes
      .filter(({ recipe_id }) => recipe_id === row.id)
      .map(({ name, owf_milli }) => `${name} ${showOwf(owf_milli)}`)
      .join(', '),
    planBatch: `/dye-bench/batches/new?recipe_id=${row.id}`,
  }));
}

function readDyesOf(reader: Reader, recipeIds: readonly number[]) {
  if (recipeIds.length === 0) return [];
  return reader.all(
    reader.db
      .selectFrom('recipe_dye')
      .select(['recipe_id', 'name', 'owf_milli'])
      .where('recipe_id', 'in', [...recipeIds])
      .orderBy('recipe_id')
      .orderBy('position'),
  );
}
