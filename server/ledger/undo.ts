import * as rules from '../../src/ledger.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { conflict } from '../refusal.ts';
import { showMoment } from '../when.ts';
import { post } from './post.ts';
import { readHeldForTier, readPiece, tellState } from './state.ts';
import { KIND_WORDS } from './words.ts';

type Entries = ReturnType<typeof readEntriesOf>;
type Entry = Entries[number];

/** True where the request made entries and none of them was undone yet. */
export function canUndo(reader: Reader, requestKey: string): boolean {
  const entries = readEntriesOf(reader, requestKey);
  return entries.length > 0 && entries.every((entry) => entry.undoneAt === null);
}

/**
 * Undoes all that one request entered, the last entry first, each by its exact opposite.
 *
 * @throws {Refusal} conflict where there is nothing to undo, where it was undone already, or where later work
 * depends on it; the message says which and who.
 */
export function undoRequest(tx: Tx, requestKey: string): Answer {
  const entries = readEntriesOf(tx, requestKey);
  const request = tx.first(tx.db.selectFrom('request').selectAll().where('key', '=', requestKey));
  if (!request || entries.length === 0) throw conflict('There is nothing in the ledger to undo for this.');
  const undone = entries.find((entry) => entry.undoneAt !== null);
  if (undone) {
    throw conflict(`This was undone already by ${undone.undoneBy}, ${showMoment(undone.undoneAt ?? '')}.`);
  }
  for (const entry of entries) refuseIfNeededSince(tx, entry, requestKey);
  for (const entry of entries) reverseEntry(tx, entry);
  const answer = JSON.parse(request.answer) as Answer;
  return { location: answer.location, said: `Undone: ${answer.said}` };
}

function readEntriesOf(reader: Reader, requestKey: string) {
  return reader.all(
    reader.db
      .selectFrom('entry')
      .leftJoin('entry as undone', 'undone.reverses_id', 'entry.id')
      .leftJoin('person', 'person.id', 'undone.person_id')
      .selectAll('entry')
      .select(['undone.at as undoneAt', 'person.name as undoneBy'])
      .where('entry.request_key', '=', requestKey)
      .where('entry.kind', '<>', 'reversed')
      .orderBy('entry.id', 'desc'),
  );
}

/** A count made afterwards already saw the work; a piece that was made by the work may be in use since. */
function refuseIfNeededSince(tx: Tx, entry: Entry, requestKey: string): void {
  const madeThePiece = entry.kind === 'received' || entry.kind === 'joined' || entry.kind === 'back-from-dye';
  let later = tx.db
    .selectFrom('entry')
    .innerJoin('person', 'person.id', 'entry.person_id')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .leftJoin('entry as undone', 'undone.reverses_id', 'entry.id')
    .select(['entry.kind', 'entry.at', 'person.name as person', 'piece.code'])
    .where('entry.id', '>', entry.id)
    .where('entry.request_key', '<>', requestKey)
    .where('entry.kind', '<>', 'reversed')
    .where('undone.id', 'is', null)
    .orderBy('entry.id')
    .limit(1);
  if (entry.kind === 'sent-to-dye') {
    later = later.where((where) =>
      where.or([
        where('entry.pair_id', '=', entry.id),
        where.and([where('entry.piece_id', '=', entry.piece_id), where('entry.kind', '=', 'recounted')]),
      ]),
    );
  } else {
    later = later.where('entry.piece_id', '=', entry.piece_id);
    if (!madeThePiece && entry.length_ticks !== 0) later = later.where('entry.kind', '=', 'recounted');
    if (!madeThePiece && entry.length_ticks === 0) return;
  }
  const found = tx.first(later);
  if (found) {
    throw conflict(
      `This cannot be undone: later work depends on it. ${found.code} was ${KIND_WORDS[found.kind].toLowerCase()} by ${found.person}, ${showMoment(found.at)}. Undo that first.`,
    );
  }
}

function reverseEntry(tx: Tx, entry: Entry): void {
  const draft = rules.reverse({
    lengthTicks: entry.length_ticks,
    heldTicks: entry.held_ticks,
    costMinor: entry.cost_minor,
  });
  const heldForTier = entry.tier_id === null ? 0 : readHeldForTier(tx, entry.piece_id, entry.tier_id);
  const piece = readPiece(tx, entry.piece_id);
  if (
    !rules.stands(rules.after(piece, draft)) ||
    (entry.tier_id !== null && heldForTier + draft.heldTicks < 0)
  ) {
    throw conflict(
      `This cannot be undone: later work depends on it. ${tellState(tx, entry.piece_id, tx.personId)}`,
    );
  }
  const context = {
    ...(entry.tier_id === null ? {} : { tierId: entry.tier_id }),
    ...(entry.batch_id === null ? {} : { batchId: entry.batch_id }),
  };
  post(tx, entry.piece_id, draft, context, { reversesId: entry.id });
}
