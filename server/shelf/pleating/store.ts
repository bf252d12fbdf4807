import { sql } from 'kysely';
import { freeTicks } from '../../../src/ledger/entries.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { prepared } from '../../database/statements.ts';
import { garmentPath, piecePath, pleatingPath } from '../../kit/paths.ts';
import { daysBetween, showDay } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import { openOtherUse } from '../../ledger/other-use.ts';
import { inForce } from '../../ledger/standing.ts';
import { readPiece } from '../../ledger/state.ts';
import { cutLength, holdForUse } from '../../ledger/verbs.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';
import { readPartOrAll } from '../piece/forms.ts';
import type { BackForm, SendForm } from './form.ts';

const allPleatings = prepared((db) =>
  db
    .selectFrom('pleating')
    .innerJoin('piece', 'piece.id', 'pleating.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .innerJoin('other_use', 'other_use.id', 'pleating.other_use_id')
    .leftJoin('garment', 'garment.id', 'other_use.garment_id')
    .leftJoin('pleating_back as back', (join) =>
      join.on(
        'back.id',
        '=',
        sql<number>`(SELECT max(id) FROM pleating_back WHERE pleating_id = pleating.id)`,
      ),
    )
    .selectAll('pleating')
    .select(['piece.code as piece', 'cloth.name as cloth', 'shade.name as shade', 'lot.code as lot'])
    .select(['garment.code as garment', 'garment.name as garmentName'])
    .select([
      'back.back_on as backOn',
      'back.length_ticks as backTicks',
      'back.width_ticks as backWidthTicks',
    ])
    .select([
      sql<number>`(SELECT coalesce(sum(held_ticks), 0) FROM entry WHERE other_use_id = other_use.id)`.as(
        'heldTicks',
      ),
      sql<number>`(SELECT count(*) FROM entry AS cut WHERE cut.other_use_id = other_use.id AND cut.kind = 'cut' AND ${inForce('cut')})`.as(
        'cuts',
      ),
    ])
    .orderBy('pleating.expected_on')
    .orderBy('pleating.id'),
);

/** What was sent to pleaters and is out or back, the one expected first before the others; what was undone is left out. */
export function readPleatings(reader: Reader) {
  return reader
    .all(allPleatings())
    .filter(({ heldTicks, cuts }) => heldTicks > 0 || cuts > 0)
    .map((row) => ({ ...row, isOut: row.heldTicks > 0 }));
}

export type Pleating = ReturnType<typeof readPleatings>[number];

/** What of a piece is out. */
export function readAtPleater(reader: Reader, pieceId: number, units: Units) {
  return readPleatings(reader)
    .filter(({ piece_id: id, isOut }) => isOut && id === pieceId)
    .map((row) => shapePleating(row, units, null));
}

/** What should be back by a day, and is not. */
export function readLatePleatings(reader: Reader, units: Units, today: string) {
  return readPleatings(reader)
    .map((row) => shapePleating(row, units, today))
    .filter(({ late }) => late !== '');
}

/** @throws {Refusal} unknown, also where its sending was undone */
export function readPleating(reader: Reader, pleatingId: number): Pleating {
  const found = readPleatings(reader).find(({ id }) => id === pleatingId);
  if (!found) throw unknown('such cloth at a pleater');
  return found;
}

/** A pleating as pages show it; how late it is on a day that is given. */
export function shapePleating(row: Pleating, units: Units, today: string | null) {
  const late = row.isOut && today !== null ? Math.max(0, daysBetween(row.expected_on, today)) : 0;
  const size = (lengthTicks: number, widthTicks: number) =>
    `${showLength(lengthTicks, units, 'near')} × ${showSize(widthTicks, units, 'near')}`;
  return {
    href: pleatingPath(row.id),
    pleater: row.pleater,
    asked: row.asked,
    piece: { code: row.piece, href: piecePath(row.piece) },
    cloth: row.cloth,
    shade: row.shade,
    lot: row.lot,
    garment: row.garment
      ? { code: row.garment, name: row.garmentName ?? '', href: garmentPath(row.garment) }
      : null,
    sent: showDay(row.sent_on),
    expected: showDay(row.expected_on),
    isOut: row.isOut,
    /** "3 days late"; '' where it is not */
    late: late === 0 ? '' : `${late} ${wordFor(late, 'day', 'days')} late`,
    before: size(row.length_ticks, row.width_ticks),
    /** '' while it is out, or where nobody measured it */
    after: row.isOut || row.backOn === null ? '' : size(row.backTicks ?? 0, row.backWidthTicks ?? 0),
    back: row.isOut || row.backOn === null ? '' : showDay(row.backOn),
  };
}

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
