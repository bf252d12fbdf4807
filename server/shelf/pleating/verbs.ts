import { freeTicks } from '../../../src/ledger/entries.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { pleatingPath } from '../../kit/paths.ts';
import { openOtherUse } from '../../ledger/other-use.ts';
import { readPiece } from '../../ledger/state.ts';
import { cutLength, holdForUse } from '../../ledger/verbs.ts';
import { conflict, invalid } from '../../refusal.ts';
import { readPartOrAll } from '../piece/forms.ts';
import type { BackForm, SendForm } from './form.ts';
import { readPleating } from './store.ts';

/** Sends a free length of a piece: it is held until it is back. */
export function sendToPleater(tx: Tx, pieceId: number, form: SendForm, units: Units): Answer {
  const piece = readPiece(tx, pieceId);
  const length = readPartOrAll(form, freeTicks(piece), piece.code);
  if (form.expected_on < form.sent_on)
    throw invalid('expected_on', 'Expected back: enter the day it is sent, or a later one.');
  const note = `pleating by ${form.pleater}`;
  const otherUseId = openOtherUse(tx, { kind: 'part', garmentId: form.garment, note });
  holdForUse(tx, pieceId, otherUseId, length);
  const { lastId } = tx.run(
    tx.db.insertInto('pleating').values({
      piece_id: pieceId,
      other_use_id: otherUseId,
      pleater: form.pleater,
      asked: form.asked,
      length_ticks: length.lengthTicks,
      width_ticks: piece.usableWidthTicks,
      sent_on: form.sent_on,
      expected_on: form.expected_on,
    }),
  );
  const said = `${showLength(length.lengthTicks, units, 'down')} of ${piece.code} sent to ${form.pleater}.`;
  return { location: pleatingPath(lastId), said };
}

/** What was sent is back: it comes off its piece for what it was pleated for, and its finished size is kept. */
export function takeBackFromPleater(tx: Tx, pleatingId: number, form: BackForm): Answer {
  const row = readPleating(tx, pleatingId);
  if (!row.isOut)
    throw conflict('It is back already.', { text: 'As it is now', href: pleatingPath(pleatingId) });
  if (form.back_on < row.sent_on) throw invalid('back_on', 'Back on: enter a day after it was sent.');
  cutLength(tx, row.piece_id, { lengthTicks: row.heldTicks, typed: '', otherUseId: row.other_use_id });
  tx.run(
    tx.db.insertInto('pleating_back').values({
      pleating_id: pleatingId,
      length_ticks: form.length.value,
      width_ticks: form.width.value,
      back_on: form.back_on,
    }),
  );
  return { location: pleatingPath(pleatingId), said: `Back from ${row.pleater}, taken off ${row.piece}.` };
}
