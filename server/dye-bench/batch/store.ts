import type { ExpressionBuilder } from 'kysely';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import type { Schema } from '../../database/schema.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { inForce } from '../../ledger/standing.ts';
import { unknown } from '../../refusal.ts';
import { readKeptCard } from './kept-card.ts';

/** Follows from the batch's entries, so that undo needs to know nothing of batches. */
export type BatchState = 'planned' | 'in the pot' | 'done' | 'cancelled';

export type StoredBatch = ReturnType<typeof readBatch>;

const batchOf = prepared((db, code: Param<string>) =>
  db
    .selectFrom('batch')
    .innerJoin('vessel', 'vessel.id', 'batch.vessel_id')
    .innerJoin('person', 'person.id', 'batch.person_id')
    .leftJoin('person as canceller', 'canceller.id', 'batch.cancelled_by')
    .selectAll('batch')
    .select([
      'vessel.name as vessel_name',
      'vessel.volume_ml',
      'person.name as planned_by',
      'canceller.name as canceller_name',
    ])
    .where('batch.code', '=', code),
);

/** A batch by its code. @throws {Refusal} unknown */
export const readBatch = keptUntilWritten((reader, code: string) => {
  const row = reader.first(batchOf(code));
  if (!row) throw unknown(`batch ${code}`);
  return {
    id: row.id,
    code: row.code,
    recipeId: row.recipe_id,
    vessel: { id: row.vessel_id, name: row.vessel_name, volumeMl: row.volume_ml },
    note: row.note,
    dueOn: row.due_on,
    plannedAt: row.planned_at,
    plannedBy: row.planned_by,
    cancelledAt: row.cancelled_at,
    cancelledBy: row.canceller_name,
    /** what the bench was told at the last start; null where it never started */
    card: row.card === null ? null : readKeptCard(row.card),
  };
});

const plannedLengths = prepared((db, batchId: Param<number>) =>
  db
    .selectFrom('batch_piece')
    .innerJoin('piece', 'piece.id', 'batch_piece.piece_id')
    .select([
      'batch_piece.piece_id as pieceId',
      'piece.code as pieceCode',
      'batch_piece.length_ticks as lengthTicks',
      'batch_piece.typed',
      'batch_piece.bath',
    ])
    .where('batch_piece.batch_id', '=', batchId)
    .orderBy('batch_piece.piece_id'),
);

/** The lengths that the plan wants, in the order of the pieces. */
export function readPlannedLengths(reader: Reader, batchId: number) {
  return reader.all(plannedLengths(batchId));
}

/** A length that was sent and, once it is back, the piece it became. */
export type SentLength = ReturnType<typeof readSentLengths>[number];

const sentLengths = prepared((db, batchId: Param<number>) =>
  db
    .selectFrom('entry')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('person', 'person.id', 'entry.person_id')
    .select([
      'entry.id',
      'entry.length_ticks',
      'entry.bath',
      'entry.at',
      'piece.code',
      'lot.code as lot_code',
      'piece.usable_width_ticks',
      'cloth.id as cloth_id',
      'cloth.name as cloth_name',
      'person.name as person',
    ])
    .where('entry.batch_id', '=', batchId)
    .where('entry.kind', '=', 'sent-to-dye')
    .where(inForce('entry'))
    .orderBy('entry.id'),
);

/** What was sent to a batch and not put back on the shelf by undo, in the order of sending. */
export function readSentLengths(reader: Reader, batchId: number) {
  const rows = reader.all(sentLengths(batchId));
  const back = new Map(readBack(reader, batchId).map((each) => [each.sentId, each]));
  return rows.map((row) => {
    const came = back.get(row.id);
    return {
      entryId: row.id,
      /** null of what was sent before baths were told apart */
      bath: row.bath,
      pieceCode: row.code,
      /** the lot that it was of before */
      lotCode: row.lot_code,
      usableWidthTicks: row.usable_width_ticks,
      cloth: { id: row.cloth_id, name: row.cloth_name },
      lengthTicks: -row.length_ticks,
      at: row.at,
      person: row.person,
      back: came
        ? {
            pieceCode: came.code,
            lotCode: came.lot_code,
            measuredTicks: came.measured,
            at: came.at,
            person: came.person,
          }
        : null,
    };
  });
}

const lengthsBack = prepared((db, batchId: Param<number>) =>
  db
    .selectFrom('entry')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('person', 'person.id', 'entry.person_id')
    .select(['entry.pair_id', 'entry.at', 'piece.code', 'lot.code as lot_code', 'person.name as person'])
    .select((of) =>
      of
        .selectFrom('entry as same')
        .select((sum) => sum.fn.sum<number>('same.length_ticks').as('measured'))
        .whereRef('same.piece_id', '=', 'entry.piece_id')
        .whereRef('same.request_key', '=', 'entry.request_key')
        .as('measured'),
    )
    .where('entry.batch_id', '=', batchId)
    .where('entry.kind', '=', 'back-from-dye')
    .where(inForce('entry')),
);

/** What came back, measured: all that the request of its coming back entered for the new piece. */
function readBack(reader: Reader, batchId: number) {
  const rows = reader.all(lengthsBack(batchId));
  return rows.map((row) => ({ ...row, sentId: row.pair_id, measured: row.measured ?? 0 }));
}

export function stateOf(batch: StoredBatch, sent: readonly SentLength[]): BatchState {
  if (sent.some(({ back }) => back === null)) return 'in the pot';
  if (sent.length > 0) return 'done';
  return batch.cancelledAt === null ? 'planned' : 'cancelled';
}

type OfBatch = ExpressionBuilder<Schema, 'batch'>;

/** Batches that wait: not cancelled, and nothing of them is sent. The soonest wanted come first. */
export function readPlannedIds(reader: Reader): number[] {
  return reader.all(plannedBatches()).map(({ id }) => id);
}

const plannedBatches = prepared((db) =>
  db
    .selectFrom('batch')
    .select('batch.id')
    .where('batch.cancelled_at', 'is', null)
    // A batch without a card never started, which spares the look into the ledger.
    .where((of) => of.or([of('batch.card', 'is', null), of.not(of.exists(sentOf(of)))]))
    .orderBy((of) => of.fn.coalesce('batch.due_on', of.val('9999-12-31')))
    .orderBy('batch.id'),
);

/** Batches with a length that was sent and is not back, the first started first. */
export function readInPotIds(reader: Reader): number[] {
  return reader.all(batchesInPot()).map(({ id }) => id);
}

const batchesInPot = prepared((db) =>
  db
    .selectFrom('batch')
    .select('batch.id')
    .where('batch.card', 'is not', null)
    .where((of) => of.exists(stillOut(of)))
    .orderBy('batch.id'),
);

/** Batches of which everything is back, the newest first, from before the one named. */
export function readDoneIds(reader: Reader, asked: { before: number | null; limit: number }): number[] {
  let query = reader.db
    .selectFrom('batch')
    .select('batch.id')
    .where('batch.card', 'is not', null)
    .where((of) => of.exists(sentOf(of)))
    .where((of) => of.not(of.exists(stillOut(of))))
    .orderBy('batch.id', 'desc')
    .limit(asked.limit);
  if (asked.before !== null) query = query.where('batch.id', '<', asked.before);
  return reader.all(query).map(({ id }) => id);
}

/** Lengths sent to the batch of the row at hand, those undone left out. */
function sentOf(of: OfBatch) {
  return of
    .selectFrom('entry as sent')
    .select('sent.id')
    .whereRef('sent.batch_id', '=', 'batch.id')
    .where('sent.kind', '=', 'sent-to-dye')
    .where(inForce('sent'));
}

function stillOut(of: OfBatch) {
  return sentOf(of).where(({ not, exists, selectFrom }) =>
    not(
      exists(
        selectFrom('entry as back')
          .select('back.id')
          .whereRef('back.pair_id', '=', 'sent.id')
          .where('back.pair_id', 'is not', null)
          .where('back.kind', '=', 'back-from-dye')
          .where(inForce('back')),
      ),
    ),
  );
}

/** The codes of batches by their numbers. */
export function readBatchCodes(reader: Reader, ids: readonly number[]): ReadonlyMap<number, string> {
  if (ids.length === 0) return new Map();
  return new Map(reader.all(batchCodes(ids)).map(({ id, code }) => [id, code]));
}

const batchCodes = prepared((db, ids: Param<readonly number[]>) =>
  db.selectFrom('batch').select(['id', 'code']).where('id', 'in', inList(ids)),
);
