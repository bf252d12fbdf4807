import { z } from 'zod';
import { AUXILIARY_KINDS } from '../../../src/dye/auxiliaries.ts';
import { EMPTY_LABEL, type MakerLabel } from '../../../src/dye/label-figures.ts';
import { saysNothing } from '../../../src/dye/maker-label.ts';
import type { Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { readStored } from '../../database/stored.ts';
import { readTyped, storeTyped, type Typed } from '../../kit/typed.ts';
import { readDyes } from '../dyes/store.ts';

const figure = z.number().nullable();
const kind = z.enum(AUXILIARY_KINDS);

const LABEL: z.ZodType<MakerLabel> = z.object({
  source: z.string(),
  startC: figure,
  temperatureC: figure,
  holdMinutes: figure,
  heatRateMilli: figure,
  coolRateMilli: figure,
  liquorRatioMilli: figure,
  pHFrom: figure,
  pHTo: figure,
  additions: z.array(
    z.object({ what: z.enum(['dye', ...AUXILIARY_KINDS]), atC: figure, minutes: z.number() }),
  ),
  doses: z.array(
    z.object({
      kind,
      form: z.string(),
      upToMilli: figure,
      per: z.enum(['litre', 'cloth']),
      amount: z.number(),
    }),
  ),
  washes: z.array(
    z.object({
      says: z.string(),
      toC: z.number(),
      minutes: z.number(),
      dose: z.object({ kind, form: z.string(), mgPerLitre: z.number() }).nullable(),
    }),
  ),
});

/** What a label is of: a dye of the list, or a recipe in one of its versions. */
export type LabelOf = { readonly dyeId: number } | { readonly recipeId: number };

/** Writes a label down, unless it says just what the newest said. */
export function keepLabel(
  tx: Tx,
  of: LabelOf,
  { label, typed, newest }: { label: MakerLabel; typed: Typed; newest: MakerLabel | undefined },
): void {
  if (JSON.stringify(LABEL.parse(label)) === JSON.stringify(LABEL.parse(newest ?? EMPTY_LABEL))) return;
  tx.run(
    tx.db.insertInto('maker_label').values({
      dye_id: 'dyeId' in of ? of.dyeId : null,
      recipe_id: 'recipeId' in of ? of.recipeId : null,
      label: JSON.stringify(LABEL.parse(label)),
      typed: storeTyped(typed),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
}

/** The labels of a dye or of the versions of a recipe up to this one, the one in force first. */
export function readLabels(reader: Reader, of: { readonly dyeId: number } | RecipeVersion) {
  const rows = reader.all('dyeId' in of ? labelsOfDye(of.dyeId) : labelsOfRecipe(of.name, of.version));
  return rows.map(({ label, typed, at, person }) => ({
    label: readStored(LABEL, label),
    typed: readTyped(typed),
    at,
    person,
  }));
}

function labelRows(db: Reader['db']) {
  return db
    .selectFrom('maker_label')
    .innerJoin('person', 'person.id', 'maker_label.person_id')
    .select(['maker_label.label', 'maker_label.typed', 'maker_label.at', 'person.name as person'])
    .orderBy('maker_label.id', 'desc');
}

const labelsOfDye = prepared((db, dyeId: Param<number>) =>
  labelRows(db).where('maker_label.dye_id', '=', dyeId),
);
const labelsOfRecipe = prepared((db, name: Param<string>, version: Param<number>) =>
  labelRows(db)
    .innerJoin('recipe', 'recipe.id', 'maker_label.recipe_id')
    .where('recipe.name', '=', name)
    .where('recipe.version', '<=', version),
);

/** Gives a recipe made from another the label that the other has of its own; false where it has none. */
export function carryLabel(tx: Tx, from: RecipeVersion, recipeId: number): boolean {
  const [own] = readLabels(tx, from);
  if (!own || saysNothing(own.label)) return false;
  keepLabel(tx, { recipeId }, { ...own, newest: undefined });
  return true;
}

export interface RecipeVersion {
  readonly name: string;
  readonly version: number;
}

/** The label that a recipe is worked by, what it is of, and dyes whose labels say something else. */
export interface LabelInForce {
  readonly label: MakerLabel;
  /** the dye whose label it is; null where it is the recipe's own */
  readonly dye: string | null;
  readonly others: readonly string[];
}

/** "the maker’s label of Madder R", or of a recipe "its own maker’s label". */
export function sayWhoseLabel({ dye }: LabelInForce): string {
  return dye === null ? 'its own maker’s label' : `the maker’s label of ${dye}`;
}

/** The label for dyes that are only named so far, as far as the list has them in the class that is worked, where it is known. */
export function labelOfNamed(
  reader: Reader,
  named: readonly { readonly name: string; readonly owfMilli: number }[],
  dyeClass: string | undefined,
  recipe: RecipeVersion | null = null,
): LabelInForce | null {
  const list = readDyes(reader).filter((dye) => !dyeClass || dye.dyeClass === dyeClass);
  const dyes = named.flatMap(({ name, owfMilli }) => {
    const dye = list.find((each) => each.name === name);
    return dye ? [{ name, owf_milli: owfMilli, dye_id: dye.id }] : [];
  });
  return labelInForce(reader, recipe, dyes);
}

/** A dye by its share, as a recipe has it or a form names it; null where it is not on the list. */
export interface LabelledDye {
  readonly name: string;
  readonly owf_milli: number;
  readonly dye_id: number | null;
}

/**
 * The label that a recipe is worked by: its own, else that of the dye with the largest share that has one. Null where there
 * is none, or the newest says nothing. What is not a recipe yet has dyes alone.
 */
export function labelInForce(
  reader: Reader,
  recipe: RecipeVersion | null,
  dyes: readonly LabelledDye[],
): LabelInForce | null {
  const own = recipe ? readLabels(reader, recipe)[0] : undefined;
  if (own && !saysNothing(own.label)) return { label: own.label, dye: null, others: [] };
  const labelled = [...dyes]
    .sort((a, b) => b.owf_milli - a.owf_milli)
    .flatMap(({ name, dye_id }) => {
      const newest = dye_id === null ? undefined : readLabels(reader, { dyeId: dye_id })[0]?.label;
      return newest && !saysNothing(newest) ? [{ name, label: newest }] : [];
    });
  const [first, ...rest] = labelled;
  if (!first) return null;
  const { source: _, ...said } = first.label;
  const others = rest.filter(
    ({ label: { source: __, ...other } }) => JSON.stringify(other) !== JSON.stringify(said),
  );
  return { label: first.label, dye: first.name, others: others.map(({ name }) => name) };
}
