import { atDepth } from '../../../src/dye/depth.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import type { SwatchResultTable } from '../../database/swatch-tables.ts';
import { unknown } from '../../refusal.ts';
import { readReadingsOfSwatches } from '../../shelf/colour/readings.ts';
import { type DyeCloth, readDyeCloths } from '../batch/dyeable.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';

export type Verdict = NonNullable<SwatchResultTable['verdict']>;

/** What somebody saw of a swatch. */
export type SwatchResult = ReturnType<typeof readResults>[number];

/** One swatch of a job: a recipe at a depth, and what was seen of it, the first first. */
export interface StoredSwatch {
  readonly id: number;
  readonly position: number;
  /** "W3.2" */
  readonly name: string;
  readonly stored: StoredRecipe;
  readonly depthOwfMilli: number;
  /** the recipe at the depth and the liquor ratio of the swatch */
  readonly recipe: Recipe;
  readonly results: readonly SwatchResult[];
  /** the last verdict; null where there is none yet */
  readonly verdict: (SwatchResult & { readonly verdict: Verdict }) | null;
}

export type SwatchJob = ReturnType<typeof readSwatchJob>;

const jobOf = prepared((db, code: Param<string>) => selectJobs(db).where('swatch_job.code', '=', code));

/** A swatch job by its code. @throws {Refusal} unknown */
export const readSwatchJob = keptUntilWritten((reader, code: string) => {
  const row = reader.first(jobOf(code));
  if (!row) throw unknown(`swatch job ${code}`);
  const cloth = readDyeCloths(reader, [row.cloth_id]).get(row.cloth_id) as DyeCloth;
  return {
    id: row.id,
    code: row.code,
    lot: { id: row.lot_id, code: row.lot_code },
    cloth,
    massMg: row.mass_mg,
    labRatioMilli: row.lab_ratio_milli,
    bulkRatioMilli: row.bulk_ratio_milli,
    note: row.note,
    plannedAt: row.planned_at,
    plannedBy: row.planned_by,
    swatches: readSwatches(reader, row),
    /** the lots of the dyes in the stocks, by the name of the dye */
    dyeLots: readSwatchDyeLots(reader, row.id),
  };
});

export function selectJobs(db: Reader['db']) {
  return db
    .selectFrom('swatch_job')
    .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('person', 'person.id', 'swatch_job.person_id')
    .selectAll('swatch_job')
    .select([
      'lot.code as lot_code',
      'lot.cloth_id',
      'cloth.name as cloth_name',
      'person.name as planned_by',
    ]);
}

const swatchesOf = prepared((db, jobId: Param<number>) =>
  db.selectFrom('swatch').selectAll().where('job_id', '=', jobId).orderBy('position'),
);

function readSwatches(
  reader: Reader,
  job: { readonly id: number; readonly code: string; readonly lab_ratio_milli: number },
): StoredSwatch[] {
  const rows = reader.all(swatchesOf(job.id));
  const results = readResults(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => {
    const stored = readRecipe(reader, row.recipe_id);
    const mine = results.filter(({ swatchId }) => swatchId === row.id);
    const recipe = atDepth(stored.recipe, stored.fibre, row.depth_owf_milli);
    return {
      id: row.id,
      position: row.position,
      name: `${job.code}.${row.position}`,
      stored,
      depthOwfMilli: row.depth_owf_milli,
      recipe: { ...recipe, liquorRatioMilli: job.lab_ratio_milli },
      results: mine,
      verdict: lastVerdict(mine),
    };
  });
}

const resultsOf = prepared((db, swatchIds: Param<readonly number[]>) =>
  db
    .selectFrom('swatch_result')
    .innerJoin('person', 'person.id', 'swatch_result.person_id')
    .selectAll('swatch_result')
    .select('person.name as person')
    .where('swatch_id', 'in', inList(swatchIds))
    .orderBy('swatch_result.id'),
);

export function readResults(reader: Reader, swatchIds: readonly number[]) {
  if (swatchIds.length === 0) return [];
  const rows = reader.all(resultsOf(swatchIds));
  const readings = new Map(readReadingsOfSwatches(reader, swatchIds).map((reading) => [reading.id, reading]));
  return rows.map((row) => ({
    id: row.id,
    swatchId: row.swatch_id,
    verdict: row.verdict,
    seenBy: row.seen_by,
    light: row.light,
    state: row.state,
    photo: row.photo,
    note: row.note,
    lab: readings.get(row.reading_id ?? 0)?.lab ?? null,
    at: row.at,
    person: row.person,
  }));
}

export function lastVerdict(results: readonly SwatchResult[]): StoredSwatch['verdict'] {
  for (const result of results.toReversed()) {
    const { verdict } = result;
    if (verdict !== null) return { ...result, verdict };
  }
  return null;
}

const swatchDyeLots = prepared((db, jobId: Param<number>) =>
  db.selectFrom('swatch_dye_lot').selectAll().where('job_id', '=', jobId).orderBy('name'),
);

export function readSwatchDyeLots(reader: Reader, jobId: number): ReadonlyMap<string, string> {
  const rows = reader.all(swatchDyeLots(jobId));
  return new Map(rows.map(({ name, dye_lot: lot }) => [name, lot]));
}
