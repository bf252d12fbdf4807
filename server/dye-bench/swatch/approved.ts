import { sql } from 'kysely';
import { needKey } from '../../../src/garment/need.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { grouped } from '../../kit/grouped.ts';

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

const lotsWithoutSwatch = prepared((db, codes: Param<readonly string[]>) =>
  db
    .selectFrom('batch')
    .innerJoin('batch_piece', 'batch_piece.batch_id', 'batch.id')
    .innerJoin('piece', 'piece.id', 'batch_piece.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .select(['batch.code', 'batch.recipe_id as recipeId', 'lot.id as lotId', 'lot.code as lot'])
    .select('cloth.name as cloth')
    .where('batch.code', 'in', inList(codes))
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('swatch')
            .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
            .select('swatch.id')
            .whereRef('swatch_job.lot_id', '=', 'lot.id')
            .whereRef('swatch.recipe_id', '=', 'batch.recipe_id')
            .where(
              'swatch.depth_owf_milli',
              '=',
              sql<number>`(SELECT coalesce(sum(owf_milli), 0) FROM recipe_dye WHERE recipe_id = batch.recipe_id)`,
            )
            .where(LAST_VERDICT, '=', 'approved'),
        ),
      ),
    )
    .groupBy(['batch.id', 'lot.id'])
    .orderBy('batch.id')
    .orderBy('lot.id'),
);

/** A lot that is to be dyed without an approved swatch by the recipe of its batch, at its depth. */
export interface LotWithoutSwatch {
  /** "Silk chiffon, lot L3" */
  readonly name: string;
  /** where one is dyed */
  readonly href: string;
}

/** The lots of batches that have no approved swatch, by the code of the batch; batches of which each lot has one are left out. */
export function readLotsWithoutSwatch(
  reader: Reader,
  codes: readonly string[],
): ReadonlyMap<string, readonly LotWithoutSwatch[]> {
  if (codes.length === 0) return new Map();
  const rows = reader.all(lotsWithoutSwatch([...new Set(codes)]));
  return new Map(
    [...grouped(rows, ({ code }) => code)].map(([code, lots]) => [
      code,
      lots.map(({ cloth, lot, recipeId, lotId }) => ({
        name: `${cloth}, lot ${lot}`,
        href: address('/dye-bench/swatches/new', { recipe: recipeId, lot: lotId }),
      })),
    ]),
  );
}
