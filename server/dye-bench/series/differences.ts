import { type MeasuredDepth, neighbourDifferences } from '../../../src/dye/series.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import type { Reader } from '../../database/book.ts';
import type { StoredRecipe } from '../recipe/store.ts';
import { readResults } from '../swatch/store.ts';

interface SeriesOfSwatches {
  readonly clothId: number;
  /** `recipeId` is that of the step's own recipe, null before it is made */
  readonly steps: readonly {
    readonly depthOwfMilli: number;
    readonly recipeId: number | null;
  }[];
  readonly source: StoredRecipe;
  /** whether all steps have the dyes of the first recipe in its proportions */
  readonly kept: boolean;
}

/**
 * Of each step, what it differs by from the one before, as swatches of the cloth tell: '' for the first. Swatches of the
 * first recipe at any depth count where proportions are kept, those of the steps' own recipes always.
 */
export function showDifferences(
  reader: Reader,
  { clothId, steps, source, kept }: SeriesOfSwatches,
): string[] {
  const recipeIds = steps.flatMap(({ recipeId }) => recipeId ?? []);
  const measured = [
    ...(kept ? readMeasured(reader, clothId, [source.id]) : []),
    ...readMeasured(reader, clothId, recipeIds),
  ];
  const depths = steps.map(({ depthOwfMilli }) => depthOwfMilli);
  return [
    '',
    ...neighbourDifferences(depths, measured, kept).map((each) =>
      each.ok
        ? `ΔE00 ${showDecimal(BigInt(Math.round(each.deltaE * 10)), 1)} to the step before${each.workedOut ? ', worked out between swatches' : ''}`
        : `Difference not known: ${each.reason}.`,
    ),
  ];
}

/** The last measured colour of each dry swatch of a cloth by these recipes. */
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
  const results = readResults(
    reader,
    swatches.map(({ id }) => id),
  );
  return swatches.flatMap(({ id, depth_owf_milli }) => {
    const seen = results.findLast(({ swatchId, lab, state }) => swatchId === id && lab && state === 'dry');
    return seen?.lab ? [{ depthOwfMilli: depth_owf_milli, lab: seen.lab }] : [];
  });
}
