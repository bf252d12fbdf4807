import { NOTHING_ASKED } from '../../../src/dye/batch-amounts.ts';
import { showOwf } from '../../../src/dye/bench-figures.ts';
import { fibreOf } from '../../../src/dye/fibre.ts';
import { markOf } from '../../../src/dye/recipe.ts';
import { sharedStocks } from '../../../src/dye/shared-stock.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { type Answer, nextId, type Tx } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import { wordFor } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { insertBatch } from '../batch/plan.ts';
import { keepAmounts } from '../batch/plan-amounts.ts';
import { carryLabel } from '../label/store.ts';
import { typedWith } from '../recipe/as-typed.ts';
import { keepCopied } from '../recipe/copy-store.ts';
import { insertRecipe } from '../recipe/store.ts';
import { insertJob } from '../swatch/verbs.ts';
import type { SeriesForm } from './form.ts';
import { seriesPath } from './store.ts';
import { type WorkedSeries, type WorkedStep, workOutSeries } from './work-out.ts';

/** Makes a series in one go: of each step the shade, the recipe, the batch where there is cloth for it, and a swatch. */
export function makeSeries(
  tx: Tx,
  form: SeriesForm,
  { units, leastTicks }: { readonly units: Units; readonly leastTicks: ReadonlyMap<number, number> },
): Answer {
  const worked = workOutSeries(tx, form, { units, leastTicks });
  const code = `S${nextId(tx, 'series')}`;
  const { lastId: seriesId } = tx.run(
    tx.db.insertInto('series').values({
      code,
      name: form.name,
      from_recipe_id: form.from_recipe_id,
      to_recipe_id: form.to_recipe_id,
      cloth_id: form.cloth_id,
      note: form.note,
      planned_at: tx.at,
      person_id: tx.personId,
    }),
  );
  const made = worked.steps.map((step, at) => {
    const shadeId = step.shadeId ?? insertShade(tx, step.shadeName);
    const recipeId = insertStepRecipe(tx, form, worked, { step, shadeId, code });
    const batchId =
      step.lengths.length === 0
        ? null
        : insertBatch(tx, {
            recipeId,
            vesselId: form.vessel_id,
            note: `Step ${at + 1} of ${worked.steps.length} of ${code}, ${form.name}.`,
            dueOn: form.due_on,
            lengths: step.lengths,
          }).id;
    return { step, recipeId, batchId };
  });
  keepStocks(tx, made);
  const swatches = insertSwatchJobs(tx, form, worked, made);
  for (const [at, { step, recipeId, batchId }] of made.entries()) {
    tx.run(
      tx.db.insertInto('series_step').values({
        series_id: seriesId,
        position: at + 1,
        depth_owf_milli: step.depthOwfMilli,
        moved_bp: step.movedBp,
        recipe_id: recipeId,
        batch_id: batchId,
        swatch_id: swatches.get(recipeId) ?? null,
      }),
    );
  }
  const batches = made.filter(({ batchId }) => batchId !== null).length;
  return {
    location: seriesPath(code),
    said: `${code} is planned: ${made.length} steps, ${wordFor(batches, 'one batch', `${batches} batches`)}, ${wordFor(swatches.size, 'one swatch', `${swatches.size} swatches`)}. Nothing is sent yet.`,
  };
}

/** The card of each batch measures its dyes from the one stock of the series, where one serves all. */
function keepStocks(
  tx: Tx,
  made: readonly { readonly step: WorkedStep; readonly batchId: number | null }[],
): void {
  const baths = made.flatMap(({ step }) => step.card?.bath ?? []);
  const { balanceMg } = readWorkroom(tx);
  const shared = baths.length > 0 ? sharedStocks(baths, balanceMg) : null;
  if (!shared?.ok) return;
  for (const { step, batchId } of made) {
    if (batchId === null) continue;
    const stocks = step.recipe.dyes.flatMap(({ name }, line) => {
      const stock = shared.stocks.find((each) => each.name === name);
      return stock ? [{ line, mgPer100Ml: stock.mgPer100Ml }] : [];
    });
    keepAmounts(tx, batchId, { ...NOTHING_ASKED, stocks });
  }
}

function insertShade(tx: Tx, name: string): number {
  const blank = { lab_l: null, lab_a: null, lab_b: null, lab_how: null };
  return tx.run(tx.db.insertInto('shade').values({ name, ground: 0, ...blank })).lastId;
}

/** A copy of the first recipe with the dyes of the step, named after its shade. */
function insertStepRecipe(
  tx: Tx,
  form: SeriesForm,
  { source }: WorkedSeries,
  { step, shadeId, code }: { readonly step: WorkedStep; readonly shadeId: number; readonly code: string },
): number {
  const shade = tx.first(tx.db.selectFrom('shade').select('name').where('id', '=', shadeId));
  const named = `${shade?.name ?? step.shadeName} on ${fibreOf(source.fibre).name}`;
  const taken = tx.first(tx.db.selectFrom('recipe').select('id').where('name', '=', named));
  const name = taken ? `${named}, ${code}` : named;
  const made = {
    ...source,
    recipe: step.recipe,
    auxiliaryMarks: step.recipe.auxiliaries.map(({ kind }) => markOf(step.recipe, `auxiliaries.${kind}`)),
    typed: { ...typedWith(source, step.recipe), name, shade_id: String(shadeId) },
  };
  const id = insertRecipe(tx, { ...made, name, version: 1, followsId: null, shadeId });
  keepCopied(tx, id, source.id, form.cloth_id);
  carryLabel(tx, source, id);
  return id;
}

/** The swatches of the steps, a job for each lot that they are dealt to. By the recipe of the step. */
function insertSwatchJobs(
  tx: Tx,
  { swatch, name, cloth_id }: SeriesForm,
  { source }: WorkedSeries,
  made: readonly { readonly step: WorkedStep; readonly recipeId: number }[],
): ReadonlyMap<number, number> {
  const swatches = new Map<number, number>();
  if (swatch === null) return swatches;
  const fallback = made.flatMap(({ step }) => step.lengths)[0]?.piece.lotId ?? someLot(tx, cloth_id);
  if (fallback === null) return swatches;
  const byLot = grouped(made, ({ step }) => step.lengths[0]?.piece.lotId ?? fallback);
  const { liquorRatioMilli } = source.recipe;
  for (const [lotId, steps] of byLot) {
    const { job } = insertJob(
      tx,
      {
        lotId,
        massMg: swatch,
        labRatioMilli: liquorRatioMilli,
        bulkRatioMilli: liquorRatioMilli,
        note: `${name}: ${steps.map(({ step }) => showOwf(step.depthOwfMilli)).join(', ')}.`,
        lots: new Map(),
      },
      steps.map(({ step, recipeId }) => ({ recipeId, depthOwfMilli: step.depthOwfMilli })),
    );
    for (const [at, { recipeId }] of steps.entries()) swatches.set(recipeId, job.swatches[at]?.id ?? 0);
  }
  return swatches;
}

/** An undyed lot of a cloth with something on hand, where no step has a length yet. */
function someLot(tx: Tx, clothId: number): number | null {
  const row = tx.first(
    tx.db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select('lot.id')
      .where('lot.cloth_id', '=', clothId)
      .where('shade.ground', '=', 1)
      .where('piece.on_hand_ticks', '>', 0)
      .orderBy('piece.on_hand_ticks', 'desc'),
  );
  return row?.id ?? null;
}
