import type { Reader } from '../../database/book.ts';
import { unknown } from '../../refusal.ts';
import { readRecipe } from '../recipe/store.ts';

export const seriesPath = (code: string) => `/dye-bench/series/${encodeURIComponent(code)}`;

export type StoredSeries = ReturnType<typeof readSeries>;

/** A series by its code, with its steps in order. @throws {Refusal} unknown */
export function readSeries(reader: Reader, code: string) {
  const row = reader.first(
    reader.db
      .selectFrom('series')
      .innerJoin('cloth', 'cloth.id', 'series.cloth_id')
      .innerJoin('person', 'person.id', 'series.person_id')
      .selectAll('series')
      .select(['cloth.name as cloth_name', 'person.name as person'])
      .where('series.code', '=', code),
  );
  if (!row) throw unknown(`series ${code}`);
  const steps = reader.all(
    reader.db
      .selectFrom('series_step')
      .leftJoin('batch', 'batch.id', 'series_step.batch_id')
      .leftJoin('swatch', 'swatch.id', 'series_step.swatch_id')
      .leftJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
      .selectAll('series_step')
      .select([
        'batch.code as batch_code',
        'swatch_job.code as job_code',
        'swatch.position as swatch_position',
      ])
      .where('series_id', '=', row.id)
      .orderBy('series_step.position'),
  );
  return {
    code: row.code,
    name: row.name,
    cloth: { id: row.cloth_id, name: row.cloth_name },
    from: readRecipe(reader, row.from_recipe_id),
    to: row.to_recipe_id === null ? null : readRecipe(reader, row.to_recipe_id),
    note: row.note,
    plannedAt: row.planned_at,
    plannedBy: row.person,
    steps: steps.map((step) => ({
      position: step.position,
      depthOwfMilli: step.depth_owf_milli,
      movedBp: step.moved_bp,
      stored: readRecipe(reader, step.recipe_id),
      batchCode: step.batch_code,
      swatch:
        step.swatch_id === null || step.job_code === null
          ? null
          : { id: step.swatch_id, jobCode: step.job_code, name: `${step.job_code}.${step.swatch_position}` },
    })),
  };
}
