import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { type Choice, optionalChosen } from '../../kit/choices.ts';
import {
  lengthField,
  optionalLength,
  optionalText,
  type Quantity,
  textField,
  tickField,
} from '../../kit/fields.ts';
import { lotPath, piecePath } from '../../kit/paths.ts';
import { lengthUnit } from '../../kit/units.ts';
import { readPiece } from '../../ledger/state.ts';
import { recountPiece, returnLength, splitPiece, writeOffLength } from '../../ledger/verbs.ts';
import { conflict, invalid } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';

/** The small forms of a piece's page; each posts to a resource of its own. */
export const PIECE_FORMS = {
  split: 'splits',
  recount: 'recounts',
  'write-off': 'write-offs',
  return: 'returns',
  move: 'moves',
  width: 'widths',
} as const;

export type PieceForm = keyof typeof PIECE_FORMS;

const MOST_WHY = 200;
const why = () => optionalText({ max: MOST_WHY });
const most = { max: MOST_LENGTH_TICKS };

export function splitForm(units: Units, places: readonly Choice[]) {
  return z.strictObject({
    length: lengthField(lengthUnit(units), most),
    place_id: optionalChosen(places, 'a place'),
    why: why(),
  });
}

export function writeSplit(
  tx: Tx,
  pieceId: number,
  form: z.output<ReturnType<typeof splitForm>>,
  asker: Asker,
): Answer {
  const piece = readPiece(tx, pieceId);
  const made = splitPiece(tx, pieceId, {
    ...measured(form.length),
    ...(form.place_id === null ? {} : { placeId: form.place_id }),
    why: form.why,
  });
  const length = showLength(form.length.value, asker.units, 'down');
  return { location: piecePath(made.code), said: `${length} split off ${piece.code} as ${made.code}.` };
}

export function recountForm(units: Units) {
  return z.strictObject({ length: lengthField(lengthUnit(units), { min: 0, ...most }), why: why() });
}

export function writeRecount(
  tx: Tx,
  pieceId: number,
  form: z.output<ReturnType<typeof recountForm>>,
  asker: Asker,
): Answer {
  const piece = readPiece(tx, pieceId);
  recountPiece(tx, pieceId, { ...measured(form.length), why: form.why });
  const difference = form.length.value - piece.onHandTicks;
  const show = (ticks: number) => showLength(Math.abs(ticks), asker.units, 'down');
  const said = `${piece.code} recounted: ${show(form.length.value)}, ${show(difference)} ${difference < 0 ? 'less' : 'more'} than was booked.`;
  return { location: piecePath(piece.code), said };
}

export function writeOffForm(units: Units) {
  return z.strictObject({ ...partOrAll(units), why: textField({ max: MOST_WHY, label: 'The reason' }) });
}

export function writeOffFromForm(
  tx: Tx,
  pieceId: number,
  form: z.output<ReturnType<typeof writeOffForm>>,
  asker: Asker,
): Answer {
  const piece = readPiece(tx, pieceId);
  const off = readPartOrAll(form, piece.onHandTicks - piece.heldTicks, piece.code);
  writeOffLength(tx, pieceId, { ...off, why: form.why });
  const length = showLength(off.lengthTicks, asker.units, 'down');
  return { location: piecePath(piece.code), said: `${length} of ${piece.code} written off: ${form.why}.` };
}

export function returnForm(units: Units) {
  return z.strictObject({ ...partOrAll(units), why: why() });
}

export function giveBack(
  tx: Tx,
  pieceId: number,
  form: z.output<ReturnType<typeof returnForm>>,
  asker: Asker,
): Answer {
  const piece = readPiece(tx, pieceId);
  refuseDyed(tx, piece.lotId, piece.code);
  const off = readPartOrAll(form, piece.onHandTicks - piece.heldTicks, piece.code);
  returnLength(tx, pieceId, { ...off, why: form.why });
  const length = showLength(off.lengthTicks, asker.units, 'down');
  return { location: piecePath(piece.code), said: `${length} of ${piece.code} returned to the supplier.` };
}

export function moveForm(places: readonly Choice[]) {
  return z.strictObject({ place_id: optionalChosen(places, 'a place') });
}

/** Puts a piece in another place. No length changes, so the ledger has nothing to say of it. */
export function move(
  tx: Tx,
  pieceId: number,
  form: z.output<ReturnType<typeof moveForm>>,
  places: readonly Choice[],
): Answer {
  const piece = readPiece(tx, pieceId);
  if (piece.placeId === form.place_id) throw invalid('place_id', `${piece.code} is there already.`);
  tx.run(tx.db.updateTable('piece').set({ place_id: form.place_id }).where('id', '=', pieceId));
  const place = places.find(({ value }) => value === String(form.place_id));
  const said = place ? `${piece.code} is in ${place.label} now.` : `${piece.code} has no place now.`;
  return { location: piecePath(piece.code), said };
}

function partOrAll(units: Units) {
  return { length: optionalLength(lengthUnit(units), { min: 1, ...most }), all: tickField() };
}

/** All that is free is asked for by a tick, because a shown length is rounded and typing it would leave a sliver. */
export function readPartOrAll(
  form: { readonly length: Quantity | null; readonly all: boolean },
  freeTicks: number,
  code: string,
): { lengthTicks: number; typed: string } {
  if (form.length && form.all) throw invalid('length', 'Give a length or tick all that is free, not both.');
  if (form.length) return measured(form.length);
  if (!form.all) throw invalid('length', 'Give a length, or tick all that is free.');
  if (freeTicks === 0) throw conflict(`Nothing of ${code} is free.`);
  return { lengthTicks: freeTicks, typed: 'all that is free' };
}

function measured(length: Quantity): { lengthTicks: number; typed: string } {
  return { lengthTicks: length.value, typed: length.typed };
}

function refuseDyed(tx: Tx, lotId: number, code: string): void {
  const lot = tx.first(tx.db.selectFrom('lot').select(['code', 'origin']).where('id', '=', lotId));
  if (lot?.origin === 'dyed') {
    throw conflict(`${code} was dyed here, so no supplier takes it back.`, {
      text: `Lot ${lot.code}`,
      href: lotPath(lot.code),
    });
  }
}
