import type { Lab } from '../../../src/colour/lab.ts';
import { amountsOf } from '../../../src/colour/prediction/known-swatches.ts';
import type { ShadePredictor } from '../../../src/colour/prediction/predictor.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { type MeasuredDepth, mostRead, neighbourDifferences } from '../../../src/dye/series.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import type { Typed } from '../../kit/typed.ts';
import { Refusal } from '../../refusal.ts';
import { readReadingsOfSwatches } from '../../shelf/colour/readings.ts';
import { type Grounding, groundingOf } from '../first-recipe/basis.ts';
import type { PredictionDesk } from '../first-recipe/desk.ts';
import { unknownIn } from '../first-recipe/expected-page.ts';
import { bathKind, bathValue } from '../first-recipe/known.ts';
import { sayDelta } from '../first-recipe/said.ts';
import { readScope } from '../first-recipe/scope.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';

interface SeriesOfSwatches {
  readonly clothId: number;
  /** `recipeId` is that of the step's own recipe, null before it is made */
  readonly steps: readonly {
    readonly depthOwfMilli: number;
    readonly recipeId: number | null;
    readonly recipe: Pick<Recipe, 'dyes'>;
  }[];
  readonly source: StoredRecipe;
  /** whether all steps have the dyes of the first recipe in its proportions */
  readonly kept: boolean;
  /** null where the swatches of the cloth do not allow a prediction */
  readonly prediction: SeriesPrediction | null;
}

/** What a series may ask of the swatches of its cloth. */
export interface SeriesPrediction {
  /** the shade of some dyes, in thousandths of a percent; null where one is not known on the cloth */
  shadeOf(dyes: Recipe['dyes']): Lab | null;
  /** 9 of 10 such dyeings come out within this */
  withinOf(dyes: Recipe['dyes']): number;
}

/** The recipe and cloth that a series is asked for with; null where one is missing. */
export function askedSeries(reader: Reader, typed: Typed) {
  const [recipeId, clothId] = [queryNumber(typed, 'from_recipe_id'), queryNumber(typed, 'cloth_id')];
  if (recipeId === null || clothId === null) return null;
  const known = reader.first(reader.db.selectFrom('recipe').select('id').where('id', '=', recipeId));
  return known ? { clothId, source: readRecipe(reader, recipeId) } : null;
}

/** Learns from the swatches of a cloth for a series of a recipe, for the observer of the swatches of its own steps. */
export async function predictSeries(
  reader: Reader,
  desk: PredictionDesk,
  clothId: number,
  source: StoredRecipe,
): Promise<SeriesPrediction | null> {
  const grounding = groundingFor(reader, clothId, source);
  if (!grounding) return null;
  try {
    return predictionOf(grounding, await desk.learn(grounding.basis));
  } catch (error) {
    // A series is planned all the same where foretelling its steps takes too long.
    if (error instanceof Refusal && error.kind === 'too-many') return null;
    throw error;
  }
}

/** The same from what is remembered; null where nothing is. */
export function knownForSeries(
  reader: Reader,
  desk: PredictionDesk,
  clothId: number,
  source: StoredRecipe,
): SeriesPrediction | null {
  const grounding = groundingFor(reader, clothId, source);
  const known = grounding ? desk.known(grounding.basis) : null;
  return grounding && known ? predictionOf(grounding, known) : null;
}

function groundingFor(reader: Reader, clothId: number, { id, recipe }: StoredRecipe): Grounding | null {
  const measured = mostRead(readMeasured(reader, clothId, [id]));
  const scope = readScope(reader, {
    cloth_id: String(clothId),
    bath: bathValue(bathKind(recipe.dyeClass, recipe.method)),
    ...(measured?.illuminant === 'D65' ? { observer: measured.observer } : {}),
  });
  const grounded = scope ? groundingOf(reader, scope) : null;
  return grounded?.ok ? grounded.grounding : null;
}

function predictionOf(grounding: Grounding, predictor: ShadePredictor): SeriesPrediction {
  const { dyes: names } = grounding.basis.from;
  const inOrder = (dyes: Recipe['dyes']) =>
    amountsOf(
      dyes.map(({ name, owfMilli }) => ({ name, percent: owfMilli / 1000 })),
      names,
    );
  return {
    shadeOf: (dyes) => (unknownIn(grounding, dyes).length > 0 ? null : predictor.shadeOf(inOrder(dyes))),
    withinOf: (dyes) => predictor.withinOf(inOrder(dyes)),
  };
}

/**
 * Of each step, what it differs by from the one before, as swatches of the cloth tell: '' for the first. Swatches of the
 * first recipe at any depth count where proportions are kept, those of the steps' own recipes always; what was not dyed is
 * predicted where the swatches allow it.
 */
export function showDifferences(
  reader: Reader,
  { clothId, steps, source, kept, prediction }: SeriesOfSwatches,
): string[] {
  const recipeIds = steps.flatMap(({ recipeId }) => recipeId ?? []);
  const measured = [
    ...(kept ? readMeasured(reader, clothId, [source.id]) : []),
    ...readMeasured(reader, clothId, recipeIds),
  ];
  const depths = steps.map(({ depthOwfMilli }) => depthOwfMilli);
  const predicted = steps.map(({ recipe }) => prediction?.shadeOf(recipe.dyes) ?? null);
  return [
    '',
    ...neighbourDifferences(depths, measured, kept, predicted).map((each, at) => {
      if (!each.ok) return `Difference not known: ${each.reason}.`;
      const said = `ΔE00 ${sayDelta(each.deltaE)} to the step before`;
      if (each.how !== 'predicted')
        return each.how === 'measured' ? said : `${said}, worked out between swatches`;
      const dyes = steps[at + 1]?.recipe.dyes ?? [];
      return `${said}, predicted; each step likely within ${sayDelta(prediction?.withinOf(dyes) ?? 0)}`;
    }),
  ];
}

/** The last dry reading of each swatch of a cloth by these recipes. */
function readMeasured(reader: Reader, clothId: number, recipeIds: readonly number[]): MeasuredDepth[] {
  if (recipeIds.length === 0) return [];
  const swatches = reader.all(
    reader.db
      .selectFrom('swatch')
      .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
      .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
      .select(['swatch.id', 'swatch.depth_owf_milli'])
      .where('lot.cloth_id', '=', clothId)
      .where('swatch.recipe_id', 'in', [...recipeIds])
      .orderBy('swatch.id'),
  );
  const readings = readReadingsOfSwatches(
    reader,
    swatches.map(({ id }) => id),
  );
  return swatches.flatMap(({ id, depth_owf_milli }) => {
    const seen = readings.findLast(({ swatchId, state }) => swatchId === id && state === 'dry');
    if (!seen) return [];
    const { lab, illuminant, observer } = seen;
    return [{ depthOwfMilli: depth_owf_milli, lab, viewing: { illuminant, observer } }];
  });
}
