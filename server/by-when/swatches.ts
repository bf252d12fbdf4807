import { sql } from 'kysely';
import { needKey } from '../../src/garment/need.ts';
import type { Reader } from '../database/book.ts';
import { prepared } from '../database/statements.ts';

/** The last judgement of a swatch: one that was looked at again without one keeps the judgement before. */
const LAST_VERDICT = sql<string | null>`(SELECT verdict FROM swatch_result
  WHERE swatch_id = swatch.id AND verdict IS NOT NULL ORDER BY id DESC LIMIT 1)`;

const approvedSwatches = prepared((db) =>
  db
    .selectFrom('swatch')
    .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
    .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
    .innerJoin('recipe', 'recipe.id', 'swatch.recipe_id')
    .select(['lot.cloth_id as clothId', 'recipe.shade_id as shadeId'])
    .where(LAST_VERDICT, '=', 'approved')
    .distinct(),
);

/** The cloths and shades of which a swatch was dyed and approved, by `needKey`. */
export function readApprovedSwatches(reader: Reader): ReadonlySet<string> {
  return new Set(reader.all(approvedSwatches()).map(needKey));
}
