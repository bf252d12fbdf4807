import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import type { Book, Tx } from '../../../server/database/book.ts';
import { openBook } from '../../../server/database/open.ts';
import { post } from '../../../server/ledger/post.ts';
import { undoRequest } from '../../../server/ledger/undo.ts';
import * as verbs from '../../../server/ledger/verbs.ts';
import { length, makeBolt, makeLot, makeStock, makeTier, NOON, newKey, openTestBook } from '../support.ts';
import { makeBatch } from './dyeing.ts';

/**
 * A closed book with work of every kind in it, whose figures are worked out beside it; gives its folder.
 *
 * Paid: B1 10 m for 100.00, B2 4 m for 20.00, B3 1 m for 4.00. Of B1, 3 m (30.00) is cut and half of the width
 * kept as R4 (15.00), 1 m (10.00) is split off as R5 and later counted as nothing, 0.5 m (5.00) is written off
 * and 0.5 m (5.00) returned: 5 m for 50.00 is left. Of B2, 2 m (10.00) is sent to dye and comes back as B6
 * with 1.96 m, 1 m (5.00) is in the pot: 1 m for 5.00 is left. B3 is dyed for 2.00 and comes back as B7.
 */
export async function makeWorkedBook(): Promise<string> {
  const { book, write, putDown, close } = await openTestBook();
  const { bolts, tierId, batch } = write((tx) => {
    const stock = makeStock(tx, { ground: true });
    const lotId = makeLot(tx, stock.clothId, stock.shadeId);
    return {
      bolts: [
        makeBolt(tx, lotId, '10 m', 10_000),
        makeBolt(tx, lotId, '4 m', 2_000),
        makeBolt(tx, lotId, '1 m', 400),
      ],
      tierId: makeTier(tx, stock),
      batch: makeBatch(tx, stock),
    };
  });
  const [b1 = 0, b2 = 0, b3 = 0] = bolts.map(({ id }) => id);
  const metres = (text: string) => ({ lengthTicks: length(text), typed: text });
  write((tx) => verbs.holdLength(tx, b1, tierId, metres('2.5 m')));
  write((tx) => verbs.releaseLength(tx, b1, tierId, metres('50 cm')));
  write((tx) =>
    verbs.cutLength(tx, b1, {
      ...metres('3 m'),
      tierId,
      strips: 2,
      leftover: { lengthTicks: length('3 m'), widthTicks: length('73.5 cm'), placeId: null },
    }),
  );
  const r5 = write((tx) => verbs.splitPiece(tx, b1, metres('1 m')));
  write((tx) => verbs.writeOffLength(tx, b1, { ...metres('50 cm'), why: 'Oil on it' }));
  write((tx) => verbs.returnLength(tx, b1, metres('50 cm')));
  write((tx) => verbs.holdLength(tx, b1, tierId, metres('2 m')));
  write((tx) => verbs.recountPiece(tx, r5.id, metres('0 m')));

  const back = { lotId: batch.lotId, usableWidthTicks: length('147 cm') };
  const sent = write((tx) => verbs.sendPieceToDye(tx, b2, batch.batchId, metres('2 m')));
  write((tx) =>
    verbs.bringBackFromDye(tx, sent, { ...back, measuredTicks: length('1.96 m'), typed: '1.96 m' }),
  );
  write((tx) => verbs.sendPieceToDye(tx, b2, batch.batchId, metres('1 m')));
  const whole = write((tx) => verbs.sendPieceToDye(tx, b3, batch.batchId, metres('1 m')));
  write((tx) => {
    const { lastId } = tx.run(
      tx.db.insertInto('piece').values({
        code: 'B7',
        kind: 'bolt',
        lot_id: batch.lotId,
        usable_width_ticks: back.usableWidthTicks,
        place_id: null,
        parent_id: b3,
      }),
    );
    const dyed = { kind: 'back-from-dye', lengthTicks: length('1 m'), heldTicks: 0, costMinor: 600 } as const;
    post(tx, lastId, dyed, { batchId: batch.batchId }, { pairId: whole });
  });

  // A split that is undone, and a cut that is undone: nothing of either is left.
  const undone: ((tx: Tx) => unknown)[] = [
    (tx) => verbs.splitPiece(tx, b1, metres('1 m')),
    (tx) => verbs.cutLength(tx, b1, { ...metres('1 m'), tierId, strips: 1 }),
  ];
  for (const work of undone) {
    const key = newKey();
    book.write({ key, asked: null, personId: 1 }, (tx) => {
      work(tx);
      return { location: '/', said: 'Done.' };
    });
    write((tx) => undoRequest(tx, key));
  }
  const folder = putDown();
  close();
  return folder;
}

/** A copy of a closed book after another program, which minds no rule, has been at it; gives its folder. */
export function tamper(folder: string, statements: readonly string[]): string {
  const copy = mkdtempSync(join(tmpdir(), 'clothroom-test-'));
  cpSync(folder, copy, { recursive: true });
  const raw = new BetterSqlite3(join(copy, 'clothroom.db'));
  raw.pragma('foreign_keys = OFF');
  raw.pragma('ignore_check_constraints = ON');
  // The triggers are taken out as the rows that they are in the file: dropped one by one they would take most of a test's time.
  raw.unsafeMode(true);
  raw.pragma('writable_schema = ON');
  const triggers = raw.prepare("SELECT * FROM sqlite_schema WHERE type = 'trigger'").all();
  raw.exec("DELETE FROM sqlite_schema WHERE type = 'trigger'");
  raw.pragma('writable_schema = RESET');
  for (const statement of statements) raw.exec(statement);
  raw.pragma('writable_schema = ON');
  const putBack = raw.prepare('INSERT INTO sqlite_schema VALUES (@type, @name, @tbl_name, @rootpage, @sql)');
  raw.transaction(() => {
    for (const trigger of triggers) putBack.run(trigger);
  })();
  raw.close();
  return copy;
}

/** The same, opened again. */
export function tamperWith(folder: string, statements: readonly string[]): Promise<Book> {
  return openBook(tamper(folder, statements), { clock: () => NOON });
}

export function discard(book: Book): void {
  book.close();
  rmSync(join(book.file, '..'), { recursive: true, force: true });
}
