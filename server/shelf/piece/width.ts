import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { piecePath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { readPiece } from '../../ledger/state.ts';
import { invalid } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { PieceForm } from './forms.ts';

/**
 * Puts the usable width of a piece as it was measured again in the place of the one in the book, and keeps who did it.
 * Lays that are planned on it and need more width fall out by themselves: the bench says which.
 */
export function measureWidth(tx: Tx, pieceId: number, form: PieceForm<'width'>, asker: Asker): Answer {
  const piece = readPiece(tx, pieceId);
  const widthTicks = form.width.value;
  const show = (ticks: number) => showSize(ticks, asker.units, 'near');
  if (widthTicks === piece.usableWidthTicks) {
    throw invalid(
      'width',
      `${piece.code} is ${show(widthTicks)} wide in the book already: enter the width only if it differs.`,
    );
  }
  tx.run(
    tx.db.insertInto('piece_width').values({
      piece_id: pieceId,
      was_ticks: piece.usableWidthTicks,
      width_ticks: widthTicks,
      why: form.why,
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  tx.run(tx.db.updateTable('piece').set({ usable_width_ticks: widthTicks }).where('id', '=', pieceId));
  const said = `${piece.code} is ${show(widthTicks)} wide in use now; it was booked as ${show(piece.usableWidthTicks)}.`;
  return { location: piecePath(piece.code), said };
}

const widthsOf = prepared((db, pieceId: Param<number>) =>
  db
    .selectFrom('piece_width')
    .innerJoin('person', 'person.id', 'piece_width.person_id')
    .select(['was_ticks', 'width_ticks', 'why', 'at', 'person.name'])
    .where('piece_id', '=', pieceId)
    .orderBy('piece_width.id', 'desc')
    .limit(20),
);

/** What the usable width of a piece was measured as before, the newest first. */
export function readWidths(reader: Reader, pieceId: number, units: Units) {
  const rows = reader.all(widthsOf(pieceId));
  return rows.map((row) => ({
    was: showSize(row.was_ticks, units, 'near'),
    width: showSize(row.width_ticks, units, 'near'),
    who: row.name,
    when: showMoment(row.at),
    why: row.why,
  }));
}
