import { lengthsOnCard } from '../../../src/dye/card.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { batchPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { sendPieceToBaths } from '../../ledger/verbs.ts';
import { conflict, type Problem, Refusal } from '../../refusal.ts';
import { inBathWith, readRecipe } from '../recipe/store.ts';
import { readVessel } from '../vessels/store.ts';
import { readPiecesToDye, whyNotDyed } from './dyeable.ts';
import { keepCard } from './kept-card.ts';
import { sayLengthCount, workOutBatch } from './plan.ts';
import { readAmounts } from './plan-amounts.ts';
import { readPots } from './pots.ts';
import {
  readBatch,
  readPlannedLengths,
  readSentLengths,
  type SentLength,
  type StoredBatch,
  stateOf,
} from './store.ts';
import { workOf } from './work.ts';

/**
 * Sends every length of a planned batch to the pot, all or none, and keeps the card as the bench was told it.
 * @throws {Refusal} conflict where the batch is not planned any more, or a length is no longer free
 */
export function startBatch(tx: Tx, code: string, units: Units): Answer {
  const batch = readBatch(tx, code);
  refuseUnlessPlanned(batch, readSentLengths(tx, batch.id));
  const { stored, lengths, card } = workOutAgain(tx, batch);
  const problems: Problem[] = [];
  const why = `${code}, to ${stored.shade.name}`;
  const parts = lengthsOnCard(card);
  for (const { piece, lengthTicks, typed } of lengths) {
    const baths = parts.filter((part) => part.piece.code === piece.code);
    try {
      sendPieceToBaths(tx, piece.id, batch.id, { lengthTicks, typed, why, baths });
    } catch (error) {
      // One after another, so that everything that is no longer free is told at once; nothing is kept of it.
      if (!(error instanceof Refusal)) throw error;
      problems.push({ field: '', message: error.message });
    }
  }
  if (problems.length > 0) throw notNow(problems);
  tx.run(
    tx.db
      .updateTable('batch')
      .set({ card: keepCard({ ...card, work: workOf(tx, stored, card).steps }) })
      .where('id', '=', batch.id),
  );
  const inAll = lengths.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
  return {
    location: batchPath(code),
    said: `${code} is in the pot: ${sayLengthCount(lengths.length)}, ${showLength(inAll, units, 'near')} in all, went off the shelf.`,
  };
}

/** The plan as it would be worked out now: a cloth's mass per area may be known better than when it was planned. */
export function workOutAgain(tx: Reader, batch: StoredBatch) {
  const asked = readAmounts(tx, batch.id);
  const stored = inBathWith(readRecipe(tx, batch.recipeId), asked.also);
  const planned = readPlannedLengths(tx, batch.id);
  const pieces = readPiecesToDye(
    tx,
    planned.map(({ pieceCode }) => pieceCode),
  );
  const lengths = planned.flatMap(({ pieceId, lengthTicks, typed, bath }) => {
    const piece = pieces.find(({ id }) => id === pieceId);
    return piece ? [{ piece, lengthTicks, typed, bath }] : [];
  });
  const problems = lengths.flatMap(({ piece }) => {
    const cannot = whyNotDyed(tx, stored, piece.cloth, asked.scaleMg !== null);
    return cannot ? [{ field: '', message: cannot.reason }] : [];
  });
  if (problems.length > 0) throw notNow(problems);
  const vessel = readVessel(tx, batch.vessel.id);
  const pots = readPots(tx, batch.id);
  const worked = workOutBatch(tx, stored, { vessel, pots, lengths, asked });
  if (!worked.ok) throw notNow([{ field: '', message: worked.reason }]);
  return { stored, lengths, card: worked.card };
}

function notNow(problems: readonly Problem[]): Refusal {
  return new Refusal('conflict', problems[0]?.message ?? '', problems);
}

/** A batch that was not started can be cancelled, and put back as it was planned. */
export function cancelBatch(tx: Tx, code: string): Answer {
  const batch = readBatch(tx, code);
  refuseUnlessPlanned(batch, readSentLengths(tx, batch.id));
  const cancelled = { cancelled_at: tx.at, cancelled_by: tx.personId };
  tx.run(tx.db.updateTable('batch').set(cancelled).where('id', '=', batch.id));
  return {
    location: batchPath(code),
    said: `${code} is cancelled: add the swatch to another batch. It can be put back below.`,
  };
}

export function putBatchBack(tx: Tx, code: string): Answer {
  const batch = readBatch(tx, code);
  if (batch.cancelledAt === null) throw conflict(`${code} is not cancelled.`);
  const open = { cancelled_at: null, cancelled_by: null };
  tx.run(tx.db.updateTable('batch').set(open).where('id', '=', batch.id));
  return { location: batchPath(code), said: `${code} is planned again.` };
}

function refuseUnlessPlanned(batch: StoredBatch, sent: readonly SentLength[]): void {
  const { code, cancelledAt, cancelledBy } = batch;
  const state = stateOf(batch, sent);
  const [first] = sent;
  if (state === 'cancelled' && cancelledAt !== null) {
    throw conflict(`${code} was cancelled by ${cancelledBy ?? 'somebody'}, ${showMoment(cancelledAt)}.`);
  }
  if (first) {
    const now = state === 'done' ? 'everything is back' : 'it is in the pot';
    throw conflict(`${code} was started by ${first.person}, ${showMoment(first.at)}, and ${now}.`);
  }
}
