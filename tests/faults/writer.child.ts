import { writeSync } from 'node:fs';
import { flushCompileCache } from 'node:module';
import type { Tx } from '../../server/database/book.ts';
import { openBook } from '../../server/database/open.ts';
import { undoRequest } from '../../server/ledger/undo.ts';
import * as verbs from '../../server/ledger/verbs.ts';
import { Refusal } from '../../server/refusal.ts';

// Writes one request after another as fast as the disk allows, and tells each key, with how many entries it
// made, once it is written. As the control it tells before the commit, which the reader must find out. Given a number of
// requests it makes each kind in turn until so many were written or failed at the disk, moves the write-ahead file into
// the book now and then, and closes the book; the control of that leaves out what makes a commit last.
const [folder = '', when, lot, tier, most, synchronous] = process.argv.slice(2);
const mostDone = most === undefined ? Number.POSITIVE_INFINITY : Number(most);
const [lotId, tierId] = [Number(lot), Number(tier)];
// It is killed before it would keep what it compiled, and started again at once.
flushCompileCache();
const book = await openBook(folder, { clock: () => new Date() });

if (most !== undefined) book.connection.pragma('wal_autocheckpoint = 60');
if (synchronous !== undefined) book.connection.pragma(`synchronous = ${synchronous}`);

const tell = (key: string, entries: number) => writeSync(1, `${key} ${entries}\n`);
/** Half of the requests wait for a slow disk before they commit, whichever way it tells: a kill falls into that too. */
const waitForDisk = () => {
  if (most === undefined && Math.random() < 0.5)
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 8);
};
const some = (most: number) => 1 + Math.floor(Math.random() * most);
const ticks = (most: number) => ({ lengthTicks: some(most) * 1600, typed: '' });

const KINDS: readonly ((tx: Tx, pieceId: number, lastKey: string) => unknown)[] = [
  (tx) =>
    verbs.receivePiece(tx, {
      kind: 'bolt',
      lotId,
      usableWidthTicks: 235_200,
      placeId: null,
      costMinor: some(5000),
      ...ticks(1000),
    }),
  (tx, pieceId) => verbs.splitPiece(tx, pieceId, ticks(300)),
  (tx, pieceId) => verbs.holdLength(tx, pieceId, tierId, ticks(300)),
  (tx, pieceId) => {
    const length = ticks(300);
    const leftover = { lengthTicks: length.lengthTicks, widthTicks: some(235_200), placeId: null };
    verbs.cutLength(tx, pieceId, { ...length, tierId, strips: 1, leftover });
  },
  (tx, pieceId) => verbs.writeOffLength(tx, pieceId, { ...ticks(100), why: 'End' }),
  (tx, _, lastKey) => undoRequest(tx, lastKey),
];

let lastKey = '';
let done = 0;
for (let at = 0; done < mostDone; at += 1) {
  const key = `request-${process.pid}-${at}`;
  const pieces = book.all(book.db.selectFrom('piece').select('id').where('on_hand_ticks', '>', 0).limit(50));
  const turn = most === undefined ? some(KINDS.length) - 1 : at % KINDS.length;
  const kind = KINDS[pieces.length === 0 ? 0 : turn] ?? KINDS[0];
  const pieceId = pieces[some(pieces.length) - 1]?.id ?? 0;
  let entries = 0;
  try {
    book.write({ key, asked: at, personId: 1 }, (tx) => {
      kind?.(tx, pieceId, lastKey);
      const made = tx.db.selectFrom('entry').select('id').where('request_key', '=', key);
      entries = tx.all(made).length;
      if (when === 'before') tell(key, entries);
      waitForDisk();
      return { location: '/', said: 'Done.' };
    });
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    // The disk failed: nothing more is taken until the book is opened again.
    if (book.trouble) break;
    if (error.message.includes('Nothing was saved')) {
      writeSync(1, `${key} unsaved\n`);
      done += 1;
    }
    continue;
  }
  if (when === 'after') tell(key, entries);
  lastKey = key;
  done += 1;
}
book.close();
