import { z } from 'zod';
import { freeTicks } from '../../../src/ledger/entries.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { choiceField } from '../../kit/fields.ts';
import { PLEATING_PATH, pleatingPath, stripsPleatedPath } from '../../kit/paths.ts';
import { openOtherUse } from '../../ledger/other-use.ts';
import { readPiece } from '../../ledger/state.ts';
import { cutLength, holdForUse } from '../../ledger/verbs.ts';
import { conflict, invalid } from '../../refusal.ts';
import { readPartOrAll } from '../piece/forms.ts';
import type { BackForm, SendForm } from './form.ts';
import { readOneStripsPleated, readPleating } from './store.ts';

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

/** What was sent of strips is back, or measured anew. */
export function takeBackStrips(tx: Tx, id: number, form: BackForm): Answer {
  const row = readOneStripsPleated(tx, id);
  if (form.back_on < row.sent_on) throw invalid('back_on', 'Back on: enter a day after it was sent.');
  const back = {
    back_on: form.back_on,
    back_length_ticks: form.length.value,
    back_width_ticks: form.width.value,
  };
  tx.run(tx.db.updateTable('strips_pleated').set(back).where('id', '=', id));
  return {
    location: stripsPleatedPath(id),
    said: `${row.tier} of ${row.garment} is back from ${row.pleater}.`,
  };
}

/** What becomes of strips that were sent by mistake, or are not back after all. */
export const STRIPS_STEP = z.strictObject({ step: choiceField(['still out', 'not sent'], 'what happened') });

export function stepStripsPleated(tx: Tx, id: number, { step }: z.output<typeof STRIPS_STEP>): Answer {
  const row = readOneStripsPleated(tx, id);
  if (step === 'still out') {
    const out = { back_on: null, back_length_ticks: null, back_width_ticks: null };
    tx.run(tx.db.updateTable('strips_pleated').set(out).where('id', '=', id));
    return {
      location: stripsPleatedPath(id),
      said: `${row.tier} of ${row.garment} is at ${row.pleater} still.`,
    };
  }
  if (!row.isOut)
    throw conflict('It is back already: say first that it is still out.', {
      text: 'As it is now',
      href: stripsPleatedPath(id),
    });
  tx.run(tx.db.updateTable('strips_pleated').set({ called_off: 1 }).where('id', '=', id));
  return { location: PLEATING_PATH, said: `${row.tier} of ${row.garment} was not sent to ${row.pleater}.` };
}
