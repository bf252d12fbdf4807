import { afterShrinkage } from '../../../src/dye/bath.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import { readInPotIds, readPlannedIds, readSentLengths } from './store.ts';

/** Length that a batch will make of a cloth in its shade, for what is short of it. */
export type LengthInDye = ReturnType<typeof readDyeing>[number];

/** What is expected of the batches in the pot, of which some lengths may be back already, and of the planned ones. */
export function readDyeing(reader: Reader) {
  const inPot = readInPotIds(reader);
  const ids = [...inPot, ...readPlannedIds(reader)];
  return readBatches(reader, ids).flatMap(({ id, code, shadeId, shrinkageBp }) => {
    const lengths = inPot.includes(id) ? readOut(reader, id) : readWanted(reader, id);
    const expected = lengths.map(({ clothId, usableWidthTicks, lengthTicks }) => ({
      clothId,
      usableWidthTicks,
      lengthTicks: afterShrinkage(lengthTicks, shrinkageBp),
    }));
    return [...grouped(expected, ({ clothId }) => clothId)].map(([clothId, ofCloth]) => ({
      clothId,
      shadeId,
      /** what is expected back, after the shrinkage that the recipe allows for: in all, and length by length */
      lengthTicks: ofCloth.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0),
      lengths: ofCloth.map(({ clothId: _, ...length }) => length),
      inPot: inPot.includes(id),
      code,
    }));
  });
}

const batchesInDye = prepared((db, ids: Param<readonly number[]>) =>
  db
    .selectFrom('batch')
    .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
    .select(['batch.id', 'batch.code', 'recipe.shade_id as shadeId', 'recipe.shrinkage_bp as shrinkageBp'])
    .where('batch.id', 'in', inList(ids))
    .orderBy('batch.id'),
);

function readBatches(reader: Reader, ids: readonly number[]) {
  if (ids.length === 0) return [];
  return reader.all(batchesInDye([...ids]));
}

function readOut(reader: Reader, batchId: number) {
  return readSentLengths(reader, batchId)
    .filter(({ back }) => back === null)
    .map(({ cloth, usableWidthTicks, lengthTicks }) => ({
      clothId: cloth.id,
      usableWidthTicks,
      lengthTicks,
    }));
}

const wantedLengths = prepared((db, batchId: Param<number>) =>
  db
    .selectFrom('batch_piece')
    .innerJoin('piece', 'piece.id', 'batch_piece.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select([
      'lot.cloth_id as clothId',
      'piece.usable_width_ticks as usableWidthTicks',
      'batch_piece.length_ticks as lengthTicks',
    ])
    .where('batch_piece.batch_id', '=', batchId),
);

function readWanted(reader: Reader, batchId: number) {
  return reader.all(wantedLengths(batchId));
}
