import { z } from 'zod';
import { MOST_LENGTH_TICKS, TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { type Answer, nextId, type Tx } from '../../database/book.ts';
import { lengthField, optionalLength, optionalText } from '../../kit/fields.ts';
import { piecePath } from '../../kit/paths.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { showMoment } from '../../kit/when.ts';
import { type PieceState, readPiece } from '../../ledger/state.ts';
import { conflict, type Problem, type Refusal, refuseAny, unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { MOST_WIDTH_TICKS } from '../cloth/form.ts';
import { type PieceFlaw, readFlawsOf } from './flaws.ts';

/** How far a flaw without an end reaches along the piece, to each side of where it was found. */
const SPOT_TICKS = TICKS_PER.cm;
const MOST_FLAWS = 200;

/** A flaw as it is typed: along the piece from its free end, across it from the left edge; blank is all the width. */
export function flawFields(units: Units) {
  const along = { min: 0, max: MOST_LENGTH_TICKS, what: 'length' };
  const across = { min: 0, max: MOST_WIDTH_TICKS, what: 'width' };
  return {
    from: lengthField(lengthUnit(units), { ...along, label: 'From the free end' }),
    to: optionalLength(lengthUnit(units), {
      ...along,
      label: 'To',
      hint: 'Blank: a spot, 1 cm to each side.',
    }),
    left: optionalLength(sizeUnit(units), {
      ...across,
      label: 'From the left edge',
      hint: 'Both blank: across the whole width.',
    }),
    right: optionalLength(sizeUnit(units), { ...across, label: 'To' }),
    what: optionalText({
      max: 80,
      label: 'What it is',
      suggest: ['slub', 'hole', 'stain', 'pulled thread', 'crease', 'shade bar'],
    }),
    /** the garment whose bench is gone back to; '' for the piece */
    back: optionalText({ max: 40 }),
  };
}

export function flawForm(units: Units) {
  return z.strictObject(flawFields(units));
}

export const STRIKE_FORM = z.strictObject({ back: optionalText({ max: 40 }) });

type FlawForm = z.output<ReturnType<typeof flawForm>>;

/** Marks a flaw where it lies now; where to go on is the piece's page, or the bench of the garment named in `back`. */
export function markFlaw(tx: Tx, pieceId: number, form: FlawForm, asker: Asker): Answer {
  const piece = readPiece(tx, pieceId);
  const place = readPlace(piece, form, asker.units);
  const what = form.what === '' ? 'flaw' : form.what;
  putFlaw(tx, piece, place, what);
  const said = `Marked on ${piece.code}: ${what}, ${sayFlaw(place, piece.usableWidthTicks, asker.units)}.`;
  return { location: wayBack(piece.code, form.back), said };
}

/** Writes a flaw down as it lies now. Gives its number. */
export function putFlaw(tx: Tx, piece: PieceState, place: Place, what: string): number {
  if (readFlawsOf(tx, piece.id).length >= MOST_FLAWS) {
    throw conflict(`${piece.code} has ${MOST_FLAWS} flaws already: write off what cannot be used.`);
  }
  const { lastId } = tx.run(
    tx.db.insertInto('piece_flaw').values({
      piece_id: piece.id,
      from_ticks: place.fromTicks,
      to_ticks: place.toTicks,
      left_ticks: place.leftTicks,
      right_ticks: place.rightTicks,
      after_entry_id: nextId(tx, 'entry') - 1,
      what,
      at: tx.at,
      person_id: tx.personId,
      struck_at: null,
      struck_by: null,
    }),
  );
  return lastId;
}

/** Along a piece from its free end, across it from the left edge. */
interface Place {
  readonly fromTicks: number;
  readonly toTicks: number;
  readonly leftTicks: number;
  readonly rightTicks: number;
}

function readPlace(piece: PieceState, form: FlawForm, units: Units): Place {
  const { onHandTicks, usableWidthTicks } = piece;
  const from = form.from.value;
  const fromTicks = form.to ? from : Math.max(0, from - SPOT_TICKS);
  const toTicks = Math.min(form.to?.value ?? from + SPOT_TICKS, Math.max(onHandTicks, from));
  const leftTicks = form.left?.value ?? 0;
  const rightTicks = form.right?.value ?? usableWidthTicks;
  const problems: Problem[] = [];
  const long = showLength(onHandTicks, units, 'down');
  const wide = showSize(usableWidthTicks, units, 'down');
  if (from >= onHandTicks)
    problems.push({ field: 'from', message: `${piece.code} is ${long} long: enter a place within it.` });
  else if (form.to && form.to.value <= from)
    problems.push({ field: 'to', message: 'A flaw ends after it begins: enter a larger figure.' });
  else if (form.to && form.to.value > onHandTicks)
    problems.push({ field: 'to', message: `${piece.code} is ${long} long: enter a place within it.` });
  if (leftTicks >= usableWidthTicks)
    problems.push({
      field: 'left',
      message: `${piece.code} is ${wide} wide in use: enter a place within it.`,
    });
  else if (rightTicks > usableWidthTicks)
    problems.push({
      field: 'right',
      message: `${piece.code} is ${wide} wide in use: enter a place within it.`,
    });
  else if (rightTicks <= leftTicks)
    problems.push({ field: 'right', message: 'Enter more than the left edge.' });
  refuseAny(problems);
  return { fromTicks, toTicks, leftTicks, rightTicks };
}

/** "3.2 m to 3.25 m from the free end, 40 cm to 45 cm from the left edge". */
function sayFlaw(place: Place, widthTicks: number, units: Units): string {
  const along = `${showLength(place.fromTicks, units, 'near')} to ${showLength(place.toTicks, units, 'near')} from the free end`;
  if (place.leftTicks === 0 && place.rightTicks >= widthTicks) return `${along}, across the whole width`;
  return `${along}, ${showSize(place.leftTicks, units, 'near')} to ${showSize(place.rightTicks, units, 'near')} from the left edge`;
}

/** Strikes out a flaw that was marked by mistake or has been mended; its row stays. */
export function strikeFlaw(tx: Tx, pieceId: number, flawId: number, back: string, asker: Asker): Answer {
  const piece = readPiece(tx, pieceId);
  const flaw = readFlawsOf(tx, pieceId).find(({ id }) => id === flawId);
  if (!flaw) throw gone(tx, flawId);
  tx.run(
    tx.db
      .updateTable('piece_flaw')
      .set({ struck_at: tx.at, struck_by: tx.personId })
      .where('id', '=', flawId),
  );
  const where = sayFlaw(flaw, piece.usableWidthTicks, asker.units);
  return {
    location: wayBack(piece.code, back),
    said: `Struck out on ${piece.code}: ${flaw.what}, ${where}.`,
  };
}

function gone(tx: Tx, flawId: number): Refusal {
  const struck = tx.first(
    tx.db
      .selectFrom('piece_flaw')
      .innerJoin('person', 'person.id', 'piece_flaw.struck_by')
      .select(['person.name', 'piece_flaw.struck_at as at'])
      .where('piece_flaw.id', '=', flawId),
  );
  if (!struck) return unknown('such flaw');
  return conflict(`This flaw was struck out already by ${struck.name}, ${showMoment(struck.at ?? '')}.`);
}

/** A garment's code leads back to its bench; anything else to the piece. */
function wayBack(code: string, garment: string): string {
  return garment === '' ? `${piecePath(code)}/flaws` : `/cutting-table/${encodeURIComponent(garment)}/bench`;
}

/** Flaws as a page tells them. */
export function shapeFlaws(flaws: readonly PieceFlaw[], widthTicks: number, units: Units) {
  return flaws.map((flaw) => ({
    ...flaw,
    where: sayFlaw(flaw, widthTicks, units),
    when: showMoment(flaw.at),
  }));
}
