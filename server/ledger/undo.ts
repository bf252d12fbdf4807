import * as rules from '../../src/ledger/entries.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { readAnswer } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { grouped } from '../kit/grouped.ts';
import { showMoment } from '../kit/when.ts';
import { readUnits } from '../kit/workroom.ts';
import { conflict, type Refusal } from '../refusal.ts';
import { undoColours, whichColoursCanUndo } from './colours.ts';
import { findCredited, refuseCredited } from './credited.ts';
import { giveBackLogs } from './give-back.ts';
import { findLaterInspection, undoInspection } from './inspected.ts';
import { undoJoin, whichJoinsCanUndo } from './joined-lots.ts';
import { comingEntryId, post } from './post.ts';
import { inForce } from './standing.ts';
import { type Purpose, readPiece, sayLeft, tellState } from './state.ts';
import { undoSupplies, undoSuppliesBeside, whichSuppliesCanUndo, whichSuppliesForbid } from './supplies.ts';
import { KIND_DEEDS } from './words.ts';

type Entry = ReturnType<typeof readEntries>[number];
type Entries = readonly Entry[];
/** The entries of requests by their keys, the last entry first. */
type Requests = ReadonlyMap<string, Entries>;

type Obstacle =
  | { readonly why: 'undone' | 'balance'; readonly entry: Entry }
  | { readonly why: 'later work'; readonly laterId: number }
  | { readonly why: 'inspected'; readonly inspected: NonNullable<ReturnType<typeof findLaterInspection>> }
  | { readonly why: 'credit came'; readonly number: string }
  | { readonly why: 'tier taken out'; readonly tier: ReturnType<typeof findTiersTakenOut>[number] };

/** Who would undo something, and whether they may undo what others did. */
export interface Undoer {
  readonly personId: number;
  readonly undoesOthers: boolean;
}

/** True where the request made entries, of cloth or of supplies, joined lots or kept colours, and undoing them would be granted as the book stands now. */
export function canUndo(reader: Reader, requestKey: string, by: Undoer): boolean {
  return whichCanUndo(reader, [requestKey], by).has(requestKey);
}

/** Those of some requests that can be undone by somebody, asked all at once. */
export function whichCanUndo(reader: Reader, requestKeys: readonly string[], by: Undoer): Set<string> {
  const others = readOthersWork(reader, requestKeys, by);
  const theirs = requestKeys.filter((key) => !others.has(key));
  const requests = readRequests(reader, theirs);
  const obstacles = findObstacles(reader, requests);
  const forbidden = new Set(whichSuppliesForbid(reader, [...requests.keys()]));
  const isFree = (key: string) => !obstacles.has(key) && !forbidden.has(key);
  return new Set([
    ...[...requests.keys()].filter(isFree),
    ...whichJoinsCanUndo(reader, theirs),
    ...whichColoursCanUndo(reader, theirs),
    ...whichSuppliesCanUndo(reader, theirs).filter((key) => !obstacles.has(key)),
  ]);
}

/** Undoes what one request entered, for somebody who asked for it. @throws {Refusal} as `undoRequest`, and where others did it */
export function undoFor(tx: Tx, requestKey: string, by: Undoer): Answer {
  const who = readOthersWork(tx, [requestKey], by).get(requestKey);
  if (who !== undefined) throw conflict(`${who} did this. What others did is undone by them or by a keeper.`);
  return undoRequest(tx, requestKey);
}

const othersWork = prepared((db, requestKeys: Param<readonly string[]>, personId: Param<number>) =>
  db
    .selectFrom('request')
    .innerJoin('person', 'person.id', 'request.person_id')
    .select(['request.key', 'person.name'])
    .where('request.key', 'in', inList(requestKeys))
    .where('request.person_id', '<>', personId),
);

/** Of some requests those that are not for somebody to undo, since others made them, each with who did. */
function readOthersWork(
  reader: Reader,
  requestKeys: readonly string[],
  { personId, undoesOthers }: Undoer,
): ReadonlyMap<string, string> {
  if (undoesOthers || requestKeys.length === 0) return new Map();
  return new Map(reader.all(othersWork(requestKeys, personId)).map(({ key, name }) => [key, name]));
}

const requestOf = prepared((db, requestKey: Param<string>) =>
  db.selectFrom('request').selectAll().where('key', '=', requestKey),
);

/**
 * Undoes all that one request entered, the last entry first, each by its exact opposite.
 *
 * Later work depends on an entry where the length it brought to the shelf was used since, where what it sent
 * came back, or where somebody counted the piece since and so found the work already done. Besides, the
 * balances must stand after every step.
 *
 * @throws {Refusal} conflict where there is nothing to undo, where it was undone already, or where later work
 * depends on it; the message says which and who.
 */
export function undoRequest(tx: Tx, requestKey: string): Answer {
  const requests = readRequests(tx, [requestKey]);
  const entries = requests.get(requestKey) ?? [];
  const request = tx.first(requestOf(requestKey));
  if (request && entries.length === 0 && undoBeside(tx, requestKey)) {
    const { location, said } = readAnswer(request.answer);
    return { location, said: `Undone: ${said}` };
  }
  if (!request || entries.length === 0) throw nothingToUndo(tx, requestKey);
  const obstacle = findObstacles(tx, requests).get(requestKey);
  if (obstacle) throw refusalFor(tx, obstacle);
  for (const entry of entries) reverseEntry(tx, entry, entries);
  undoSuppliesBeside(tx, requestKey);
  undoInspection(tx, requestKey);
  giveBackLogs(tx, entries);
  const answer = readAnswer(request.answer);
  return { location: answer.location, said: `Undone: ${answer.said}`, after: sayLengths(tx, entries) };
}

/** Undoes what a request did that made no entry of cloth. False where it did nothing of the kind. */
function undoBeside(tx: Tx, requestKey: string): boolean {
  return undoJoin(tx, requestKey) || undoColours(tx, requestKey) || undoSupplies(tx, requestKey);
}

/** What there is now of each piece whose length the undo put back; of one that it took away again there is nothing to say. */
function sayLengths(tx: Tx, entries: Entries): string {
  const units = readUnits(tx, tx.personId);
  const pieceIds = new Set(entries.filter((entry) => entry.length_ticks < 0).map((entry) => entry.piece_id));
  return [...pieceIds].map((id) => sayLeft(tx, id, units)).join(' ');
}

function readRequests(reader: Reader, keys: readonly string[]): Requests {
  return grouped(readEntries(reader, keys), ({ request_key }) => request_key);
}

const entriesOf = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('entry')
    .leftJoin('entry as undone', 'undone.reverses_id', 'entry.id')
    .leftJoin('person', 'person.id', 'undone.person_id')
    .selectAll('entry')
    .select(['undone.at as undoneAt', 'person.name as undoneBy'])
    .where('entry.request_key', 'in', inList(keys))
    .where('entry.kind', '<>', 'reversed')
    .orderBy('entry.id', 'desc'),
);

function readEntries(reader: Reader, keys: readonly string[]) {
  if (keys.length === 0) return [];
  return reader.all(entriesOf(keys));
}

function nothingToUndo(tx: Tx, requestKey: string): Refusal {
  const reversal = tx.first(
    tx.db.selectFrom('entry').select('id').where('request_key', '=', requestKey).limit(1),
  );
  return conflict(
    reversal
      ? 'An undo stays in force. Do the work again instead.'
      : 'There is nothing in the ledger to undo for this.',
  );
}

/**
 * What stands in the way of undoing each of some requests; one that has no entry here may be undone. What may be undone
 * is offered, and refused, by this alone. Asked of all entries at once, since a list that came in is thousands.
 */
function findObstacles(reader: Reader, requests: Requests): Map<string, Obstacle> {
  const found = new Map<string, Obstacle>();
  const keep = (key: string, obstacle: Obstacle) => {
    if (!found.has(key)) found.set(key, obstacle);
  };
  for (const [key, entries] of requests) {
    const entry = entries.find(({ undoneAt }) => undoneAt !== null);
    if (entry) keep(key, { why: 'undone', entry });
  }
  const open = new Map([...requests].filter(([key]) => !found.has(key)));
  if (open.size === 0) return found;
  for (const { key, laterId } of findLaterWork(reader, open)) keep(key, { why: 'later work', laterId });
  for (const entry of [...open.values()].flat()) {
    const inspected = findLaterInspection(reader, entry);
    if (inspected) keep(entry.request_key, { why: 'inspected', inspected });
  }
  for (const { key, number } of findCredited(reader, [...open.keys()]))
    keep(key, { why: 'credit came', number });
  for (const tier of findTiersTakenOut(reader, [...open.keys()]))
    keep(tier.key, { why: 'tier taken out', tier });
  for (const entry of findUneven(reader, open)) keep(entry.request_key, { why: 'balance', entry });
  return found;
}

function piecesOf(db: Reader['db'], keys: Param<readonly string[]>) {
  return db.selectFrom('entry').select('piece_id').where('request_key', 'in', inList(keys));
}

const balancesOf = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('piece')
    .select(['id', 'on_hand_ticks as onHandTicks', 'held_ticks as heldTicks', 'cost_minor as costMinor'])
    .where('id', 'in', piecesOf(db, keys)),
);
const holdsOf = prepared((db, keys: Param<readonly string[]>) =>
  db.selectFrom('hold').selectAll().where('piece_id', 'in', piecesOf(db, keys)),
);

/** Of each request the first entry without which a balance would not stand, where each is reversed after those before it. */
function findUneven(reader: Reader, requests: Requests): Entry[] {
  const keys = [...requests.keys()];
  const pieces = reader.all(balancesOf(keys));
  const held = reader.all(holdsOf(keys));
  const balances = new Map<number, rules.Balance>(pieces.map(({ id, ...balance }) => [id, balance]));
  const holds = new Map(held.map((hold) => [holdKey(hold), hold.held_ticks]));
  return [...requests.values()].flatMap((entries) => findUnevenOf(entries, balances, holds) ?? []);
}

function findUnevenOf(
  entries: Entries,
  balancesNow: ReadonlyMap<number, rules.Balance>,
  holdsNow: ReadonlyMap<string, number>,
): Entry | undefined {
  const balances = new Map<number, rules.Balance>();
  const holds = new Map<string, number>();
  return entries.find((entry) => {
    const draft = reversalOf(entry);
    const before = balances.get(entry.piece_id) ?? balancesNow.get(entry.piece_id);
    if (!before) throw new Error('an entry has its piece');
    const hold = holdKey(entry);
    const balance = rules.after(before, draft);
    const heldTicks = (holds.get(hold) ?? holdsNow.get(hold) ?? 0) + draft.heldTicks;
    balances.set(entry.piece_id, balance);
    holds.set(hold, heldTicks);
    return !rules.balanceStands(balance) || heldTicks < 0;
  });
}

function holdKey(of: Pick<Entry, 'piece_id' | 'tier_id' | 'other_use_id'>): string {
  return `${of.piece_id} ${of.tier_id} ${of.other_use_id}`;
}

function refusalFor(tx: Tx, obstacle: Obstacle): Refusal {
  switch (obstacle.why) {
    case 'undone': {
      const { undoneBy, undoneAt } = obstacle.entry;
      return conflict(`This was undone already by ${undoneBy}, ${showMoment(undoneAt ?? '')}.`);
    }
    case 'later work': {
      const { code, kind, person, at } = readLater(tx, obstacle.laterId);
      return conflict(
        `This cannot be undone: later work depends on it. ${code} ${KIND_DEEDS[kind]} by ${person}, ${showMoment(at)}. Undo that first.`,
        wayToPiece(code),
      );
    }
    case 'inspected': {
      const { code, person, at } = obstacle.inspected;
      return conflict(
        `This cannot be undone: ${code} was inspected since by ${person}, ${showMoment(at)}. Count it anew instead.`,
        wayToPiece(code),
      );
    }
    case 'credit came':
      return refuseCredited(obstacle.number);
    case 'tier taken out': {
      const { name, code, taken_out_at: at } = obstacle.tier;
      return conflict(
        `This cannot be undone: it would hold cloth for ${name} of ${code}, which was taken out ${showMoment(at ?? '')}.`,
      );
    }
    case 'balance': {
      const pieceId = obstacle.entry.piece_id;
      return conflict(
        `This cannot be undone: later work depends on it. ${tellState(tx, pieceId, tx.personId)}`,
        wayToPiece(readPiece(tx, pieceId).code),
      );
    }
  }
}

const tiersTakenOut = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('entry')
    .innerJoin('tier', 'tier.id', 'entry.tier_id')
    .innerJoin('garment', 'garment.id', 'tier.garment_id')
    .select(['entry.request_key as key', 'tier.name', 'garment.code', 'tier.taken_out_at'])
    .where('entry.request_key', 'in', inList(keys))
    .where('entry.kind', '<>', 'reversed')
    .where('entry.held_ticks', '<', 0)
    .where('tier.taken_out_at', 'is not', null)
    .orderBy('entry.id', 'desc'),
);

/** Tiers that were taken out since, where undoing an entry would hold cloth for them again. */
function findTiersTakenOut(reader: Reader, keys: readonly string[]) {
  return reader.all(tiersTakenOut(keys));
}

/** What brings a length to the shelf: it may not be gone before what was done with it. */
const ARRIVALS = ['received', 'joined', 'back-from-dye'] as const;
const NO_LENGTH = ['held', 'released', 'reversed'] as const;

/**
 * The first later work that depends on each request: on a length that came, all that was done with it since; on one that
 * was sent, its coming back; on any other, a count of its piece, which already saw what the entry did.
 */
function findLaterWork(reader: Reader, requests: Requests) {
  const keys = [...requests.keys()];
  const isSent = [...requests.values()].flat().some(({ kind }) => kind === 'sent-to-dye');
  const back = isSent ? reader.all(workWithWhatWasSent(keys)) : [];
  return [...back, ...reader.all(workOnPieces(keys))];
}

/** What other requests entered after the entries (`done`) and nobody has undone. */
function standingWork(db: Reader['db'], keys: Param<readonly string[]>) {
  return db
    .selectFrom('entry as done')
    .innerJoin('entry', (join) =>
      join.onRef('entry.id', '>', 'done.id').onRef('entry.request_key', '<>', 'done.request_key'),
    )
    .select((of) => ['done.request_key as key', of.fn.min('entry.id').as('laterId')])
    .where('done.request_key', 'in', inList(keys))
    .where('entry.kind', '<>', 'reversed')
    .where(inForce('entry'))
    .groupBy('done.request_key');
}

const workWithWhatWasSent = prepared((db, keys: Param<readonly string[]>) =>
  standingWork(db, keys).whereRef('entry.pair_id', '=', 'done.id'),
);
const workOnPieces = prepared((db, keys: Param<readonly string[]>) =>
  standingWork(db, keys)
    .whereRef('entry.piece_id', '=', 'done.piece_id')
    .where('done.kind', 'not in', NO_LENGTH)
    .where((of) => of.or([of('entry.kind', '=', 'recounted'), of('done.kind', 'in', ARRIVALS)])),
);

function readLater(reader: Reader, entryId: number) {
  const later = reader.first(
    reader.db
      .selectFrom('entry')
      .innerJoin('person', 'person.id', 'entry.person_id')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .select(['entry.kind', 'entry.at', 'person.name as person', 'piece.code'])
      .where('entry.id', '=', entryId),
  );
  if (!later) throw new Error('later work was found');
  return later;
}

function reverseEntry(tx: Tx, entry: Entry, entries: Entries): void {
  // The reversal is about the same tier or other use, batch, receipt and order line, so that sums by any of them come right.
  const context = {
    ...purposeOf(entry),
    ...(entry.batch_id === null ? {} : { batchId: entry.batch_id }),
    ...(entry.bath === null ? {} : { bath: entry.bath }),
    ...(entry.receipt_id === null ? {} : { receiptId: entry.receipt_id }),
    ...(entry.order_line_id === null ? {} : { orderLineId: entry.order_line_id }),
  };
  // The halves of a split are undone together: the reversal of one names that of the other, which follows it.
  const half = entries.some((off) => off.id === entry.pair_id && off.kind === 'split-off');
  const links =
    entry.kind === 'joined' && half
      ? { reversesId: entry.id, pairId: comingEntryId(tx, 1) }
      : { reversesId: entry.id };
  post(tx, entry.piece_id, reversalOf(entry), context, links);
}

function reversalOf(entry: Entry): rules.Draft {
  return rules.reverse({
    lengthTicks: entry.length_ticks,
    heldTicks: entry.held_ticks,
    costMinor: entry.cost_minor,
  });
}

/** What the entry cut or held a length for; null where it did neither. */
function purposeOf({ tier_id: tierId, other_use_id: otherUseId }: Entry): Purpose | null {
  if (tierId !== null) return { tierId };
  return otherUseId === null ? null : { otherUseId };
}

function wayToPiece(code: string) {
  return { text: `Go to ${code}`, href: `/shelf/pieces/${encodeURIComponent(code)}` };
}
