import type { Reader } from '../database/book.ts';
import { readInPotIds, readPlannedIds } from './batch-store.ts';

/** Length that a batch will make of a cloth in its shade, for what is short of it. */
export interface Dyeing {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lengthTicks: number;
  readonly inPot: boolean;
  readonly code: string;
}

/** What the batches in the pot and the planned ones are for; what shrinks is not known yet. */
export function readDyeing(reader: Reader): Dyeing[] {
  const inPot = readInPotIds(reader);
  const ids = [...inPot, ...readPlannedIds(reader)];
  if (ids.length === 0) return [];
  return reader
    .all(
      reader.db
        .selectFrom('batch')
        .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
        .innerJoin('batch_piece', 'batch_piece.batch_id', 'batch.id')
        .innerJoin('piece', 'piece.id', 'batch_piece.piece_id')
        .innerJoin('lot', 'lot.id', 'piece.lot_id')
        .select(['batch.id', 'batch.code', 'recipe.shade_id as shadeId', 'lot.cloth_id as clothId'])
        .select((of) => of.fn.sum<number>('batch_piece.length_ticks').as('lengthTicks'))
        .where('batch.id', 'in', ids)
        .groupBy(['batch.id', 'lot.cloth_id'])
        .orderBy('batch.id'),
    )
    .map(({ id, ...row }) => ({ ...row, inPot: inPot.includes(id) }));
}
