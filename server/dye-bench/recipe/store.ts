import { z } from 'zod';
import type { AuxiliaryKind } from '../../../src/dye/auxiliaries.ts';
import type { RecipeClass } from '../../../src/dye/dye-class.ts';
import { FIBRE_CODES, type FibreCode } from '../../../src/dye/fibre.ts';
import { isLabelClass } from '../../../src/dye/label-class.ts';
import { byLabel, markOfLabel } from '../../../src/dye/maker-label.ts';
import { amountOf, auxiliaryFrom, type Recipe, withAlso } from '../../../src/dye/recipe.ts';
import type { Provenance } from '../../../src/quantity/provenance.ts';
import type { Reader, Tx } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { readStored } from '../../database/stored.ts';
import { readTyped, storeTyped } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';
import { readDyes } from '../dyes/store.ts';
import { labelInForce } from '../label/store.ts';
import { keepFixing, readFixing } from './fixing-store.ts';

export type StoredRecipe = ReturnType<typeof readRecipe>;

type NewRecipe = Omit<
  StoredRecipe,
  'id' | 'shade' | 'followedById' | 'dyesOnList' | 'written' | 'labelled'
> & {
  readonly shadeId: number;
};

export const MARK = z.object({
  basis: z.enum(['published', 'common practice', 'from memory', 'worked out', 'our rule', 'label', 'own']),
  source: z.string(),
});
// By the field of the recipe; one that it does not have has no mark.
const MARKS = z.record(z.string(), MARK);

const CODES = z.array(z.string());

/** Fibres that are in the bath with the cloth; of a recipe that names none there is nothing. */
function alsoIn(codes: readonly string[]): Pick<Recipe, 'also'> {
  const also = FIBRE_CODES.filter((code) => codes.includes(code));
  return also.length === 0 ? {} : { also };
}

export const recipePath = (id: number) => `/dye-bench/recipes/${id}`;

const recipeOf = prepared((db, id: Param<number>) =>
  db
    .selectFrom('recipe')
    .innerJoin('shade', 'shade.id', 'recipe.shade_id')
    .leftJoin('recipe as next', 'next.follows_id', 'recipe.id')
    .selectAll('recipe')
    .select([
      'next.id as followed_by_id',
      'shade.name as shade_name',
      'shade.lab_l',
      'shade.lab_a',
      'shade.lab_b',
    ])
    .where('recipe.id', '=', id),
);

/** A recipe as the book has it, by its number: batches, swatches and series ask for the same ones. @throws {Refusal} unknown */
export const readRecipe = keptUntilWritten((reader, id: number) => {
  const row = reader.first(recipeOf(id));
  if (!row) throw unknown('such recipe');
  const auxiliaries = reader.all(auxiliariesOf(id));
  const dyes = reader.all(dyesOfRecipe(id));
  const fixing = isLabelClass(row.dye_class) ? readFixing(reader, id) : undefined;
  const list = dyes.some(({ dye_id }) => dye_id !== null) ? readDyes(reader) : [];
  const kept = readStored(MARKS, row.marks);
  const written: Recipe = {
    dyeClass: row.dye_class as RecipeClass,
    method: row.method,
    dyes: dyes.map(({ name, owf_milli }) => ({ name, owfMilli: owf_milli })),
    auxiliaries: auxiliaries.map((each) => auxiliaryFrom({ ...each, kind: each.kind as AuxiliaryKind })),
    liquorRatioMilli: row.liquor_ratio_milli,
    temperatureC: row.temperature_c,
    holdMinutes: row.hold_minutes,
    ...alsoIn(readStored(CODES, row.also)),
    ...(row.ph_from_tenths === null ? {} : { pHFrom: row.ph_from_tenths / 10 }),
    ...(row.ph_to_tenths === null ? {} : { pHTo: row.ph_to_tenths / 10 }),
    ...(row.heat_rate_milli === null ? {} : { heatRateMilli: row.heat_rate_milli }),
    ...(row.cool_rate_milli === null ? {} : { coolRateMilli: row.cool_rate_milli }),
    ...(fixing === undefined ? {} : { fixing }),
    marks: {
      ...kept,
      ...Object.fromEntries(
        auxiliaries.map(({ kind, basis, source }) => [`auxiliaries.${kind}`, { basis, source }]),
      ),
    },
  };
  const labelled = labelInForce(reader, { name: row.name, version: row.version }, dyes);
  const recipe = labelled ? byLabel(written, labelled.label) : written;
  return {
    id: row.id,
    name: row.name,
    version: row.version,
    /** the versions before and after this one */
    followsId: row.follows_id,
    followedById: row.followed_by_id,
    shade: {
      id: row.shade_id,
      name: row.shade_name,
      lab_l: row.lab_l,
      lab_a: row.lab_a,
      lab_b: row.lab_b,
    },
    fibre: row.fibre as FibreCode,
    recipe,
    /** as it was written down, without the label that it is worked by */
    written,
    labelled,
    /** by the rows of `recipe.auxiliaries` */
    auxiliaryMarks: auxiliaries.map(({ basis, source }, at): Provenance => {
      const taken = labelled && recipe.auxiliaries[at] !== written.auxiliaries[at];
      return taken ? markOfLabel(labelled.label) : { basis, source };
    }),
    /** by the rows of `recipe.dyes`: the dye of the list that was chosen, undefined where it was typed free */
    dyesOnList: dyes.map(({ dye_id }) => list.find((dye) => dye.id === dye_id)),
    shrinkageBp: row.shrinkage_bp,
    note: row.note,
    typed: readTyped(row.typed),
  };
});

/** A recipe for a bath that more goes into than the cloth and what the recipe names itself. */
export function inBathWith(stored: StoredRecipe, also: readonly FibreCode[]): StoredRecipe {
  return { ...stored, recipe: withAlso(stored.recipe, also) };
}

const dyesOfRecipe = prepared((db, recipeId: Param<number>) =>
  db
    .selectFrom('recipe_dye')
    .select(['name', 'owf_milli', 'dye_id'])
    .where('recipe_id', '=', recipeId)
    .orderBy('position'),
);

const auxiliariesOf = prepared((db, recipeId: Param<number>) =>
  db.selectFrom('recipe_auxiliary').selectAll().where('recipe_id', '=', recipeId).orderBy('position'),
);

/** Writes a recipe down. Gives its number. */
export function insertRecipe(tx: Tx, made: NewRecipe): number {
  const { recipe } = made;
  const { liquorRatioMilli, temperatureC, holdMinutes, pH, rates } = recipe.marks;
  const { lastId: id } = tx.run(
    tx.db.insertInto('recipe').values({
      name: made.name,
      version: made.version,
      follows_id: made.followsId,
      shade_id: made.shadeId,
      fibre: made.fibre,
      dye_class: recipe.dyeClass,
      method: recipe.method,
      liquor_ratio_milli: recipe.liquorRatioMilli,
      temperature_c: recipe.temperatureC,
      hold_minutes: recipe.holdMinutes,
      also: JSON.stringify(recipe.also ?? []),
      ph_from_tenths: tenths(recipe.pHFrom),
      ph_to_tenths: tenths(recipe.pHTo),
      heat_rate_milli: recipe.heatRateMilli ?? null,
      cool_rate_milli: recipe.coolRateMilli ?? null,
      shrinkage_bp: made.shrinkageBp,
      note: made.note,
      marks: JSON.stringify({ liquorRatioMilli, temperatureC, holdMinutes, pH, rates }),
      typed: storeTyped(made.typed),
    }),
  );
  const dyes = readDyes(tx);
  recipe.dyes.forEach((dye, row) => {
    const dye_id = dyes.find(({ name }) => name === dye.name)?.id ?? null;
    const values = { recipe_id: id, position: row + 1, name: dye.name, owf_milli: dye.owfMilli, dye_id };
    tx.run(tx.db.insertInto('recipe_dye').values(values));
  });
  recipe.auxiliaries.forEach((auxiliary, row) => {
    const { kind, form, name, per } = auxiliary;
    const { basis, source } = made.auxiliaryMarks[row] ?? OWN;
    const values = { kind, form, name, per, amount: amountOf(auxiliary), basis, source };
    tx.run(tx.db.insertInto('recipe_auxiliary').values({ recipe_id: id, position: row + 1, ...values }));
  });
  if (recipe.fixing) keepFixing(tx, id, recipe.fixing);
  return id;
}

/** What nobody gives a source for is the workroom's own. */
export const OWN: Provenance = { basis: 'own', source: 'this workroom' };
export const LABEL: Provenance = { basis: 'label', source: "the maker's label" };

/** Where a figure comes from, in the few words that stand beside it. */
export function sayMark({ basis, source }: Provenance): string {
  switch (basis) {
    case 'label':
      return source === LABEL.source ? "from the maker's label" : `from the maker's label: ${source}`;
    case 'own':
      return "this workroom's own";
    case 'published':
      return `published: ${source}`;
    case 'worked out':
      return `worked out from ${source}`;
    default:
      return source;
  }
}

/** All versions of one name, the newest first. */
export function readRecipeVersions(reader: Reader, name: string) {
  return reader.all(
    reader.db
      .selectFrom('recipe')
      .select(['id', 'version'])
      .where('name', '=', name)
      .orderBy('version', 'desc'),
  );
}

function tenths(pH: number | undefined): number | null {
  return pH === undefined ? null : Math.round(pH * 10);
}
