import type BetterSqlite3 from 'better-sqlite3';
import { setUpConnection } from '../../server/database/open.ts';

/**
 * A durable cut by SQLite alone, set up as the program sets it up: an entry and its request in one transaction, past all
 * guards of the file, as the program writes them.
 */
export function bareCut(
  book: BetterSqlite3.Database,
): (pieceCode: string, tierId: number, key: string) => void {
  setUpConnection(book);
  const entry = book.prepare(`INSERT INTO entry
    (piece_id, kind, length_ticks, held_ticks, cost_minor, at, person_id, request_key, tier_id, strips)
    SELECT id, 'cut', -160, 0, 0, ?, 1, ?, ?, 1 FROM piece WHERE code = ?`);
  const request = book.prepare(
    'INSERT INTO request (key, asked_hash, at, person_id, answer) VALUES (?, ?, ?, 1, ?)',
  );
  const answer = JSON.stringify({ location: '/', said: 'Cut.' });
  const cut = book.transaction((pieceCode: string, tierId: number, key: string) => {
    const at = new Date().toISOString();
    entry.run(at, key, tierId, pieceCode);
    request.run(key, '0'.repeat(64), at, answer);
  });
  return (...asked) => cut.immediate(...asked);
}
