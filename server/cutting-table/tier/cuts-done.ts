import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { mintKey } from '../../kit/request-key.ts';
import { inForce } from '../../ledger/standing.ts';
import { whichCanUndo } from '../../ledger/undo.ts';
import { selectEntries, shapeEntries } from '../../shelf/ledger/entries.ts';
import type { Asker } from '../../web/house.ts';

const LAST_CUTS = 10;

const cutsInForce = prepared((db, tierId: Param<number>, most: Param<number>) =>
  selectEntries(db)
    .where('entry.tier_id', '=', tierId)
    .where('entry.kind', '=', 'cut')
    .where(inForce('entry'))
    .orderBy('entry.id', 'desc')
    .limit(most),
);

/** The last cuts of a tier that are in force, the newest first. */
export function readCutsDone(reader: Reader, tierId: number, asker: Asker, most = LAST_CUTS) {
  const rows = reader.all(cutsInForce(tierId, most));
  const undoable = whichCanUndo(
    reader,
    rows.map((row) => row.request_key),
    asker,
  );
  return shapeEntries(reader, rows, asker).map((entry, place) => ({
    entry,
    strips: rows[place]?.strips ?? 0,
    /** a fresh key for its Undo form; '' where undoing it would not be granted */
    undoKey: undoable.has(entry.requestKey) ? mintKey() : '',
  }));
}
