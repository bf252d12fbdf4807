import { z } from 'zod';
import { type LengthUnit, MOST_LENGTH_TICKS, readLength } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import {
  type Choice,
  chosenField,
  clothChoices,
  optionalChosen,
  placeChoices,
  shadeChoices,
} from '../../kit/choices.ts';
import {
  choiceField,
  field,
  optionalLength,
  optionalMoney,
  optionalText,
  placeField,
  type Quantity,
  rowsField,
  withPlaces,
} from '../../kit/fields.ts';
import { asked, countTyped } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { invalid } from '../../refusal.ts';
import { MOST_WIDTH_TICKS } from '../cloth/form.ts';
import { describedChoices } from './described.ts';
import type { ReceivedPiece } from './receiving.ts';

export const FIRST_ROWS = 6;
export const MOST_ROWS = 100;

/** A price that the ledger can carry, in minor units. */
export const MOST_COST_MINOR = 1_000_000_000_000;

/** One length, or several with semicolons between them: bolts that are alike but for their length. */
function lengthsField(unit: LengthUnit) {
  const read = field((typed, refuse): Quantity[] => {
    const parts = typed.split(';').map((part) => part.trim());
    const written = parts.length > 1 ? parts.filter((part) => part !== '') : parts;
    if (written.length > MOST_ROWS) return refuse(`Enter at most ${MOST_ROWS} pieces at once.`);
    return written.map((part) => {
      const length = readLength(part, unit);
      if (!length.ok) return refuse(length.reason);
      if (length.value < 1) return refuse('Enter a length above 0.');
      if (length.value > MOST_LENGTH_TICKS) return refuse('Enter a length up to 100 km.');
      return { value: length.value, typed: part };
    });
  });
  // Some hundred lengths fit a row.
  return asked(read, { label: 'Length', unit, size: 'short', maxlength: 800 });
}

/** A row for each length that a row lists. */
export function rowForEach<R extends { readonly length: readonly Quantity[] }>(
  rows: readonly R[],
): (Omit<R, 'length'> & { readonly length: Quantity })[] {
  const each = rows.flatMap((row) => row.length.map((length) => ({ ...row, length })));
  if (each.length <= MOST_ROWS) return each;
  throw invalid('pieces', `Enter at most ${MOST_ROWS} pieces at once.`);
}

/**
 * What is measured on any received piece, whether it came by an order or without one.
 * @param noPlace what the page says for none
 */
export function measuredFields(units: Units, places: readonly Choice[], noPlace = 'no place yet') {
  return {
    mill_lot: optionalText({ max: 60, label: 'Mill lot', size: 'short' }).transform((typed) =>
      typed === '-' ? '' : typed,
    ),
    length: lengthsField(lengthUnit(units)),
    usable_width: optionalLength(sizeUnit(units), {
      min: 1,
      max: MOST_WIDTH_TICKS,
      label: 'Usable width',
    }),
    place_id: optionalChosen(places, 'a place', { label: 'Place', blank: noPlace }),
  };
}

/**
 * The rows `pieces.0.cloth_id` and so on; a row that was left open in places takes them from the row above.
 * @param typed the form as it is drawn, as far as it is filled in
 */
export function receivedRows(reader: Reader, asker: { units: Units; currency: string }, typed?: Typed) {
  const cloths = [...clothChoices(reader), ...describedChoices('new_cloths', typed)];
  const shades = [...shadeChoices(reader), ...describedChoices('new_shades', typed)];
  const row = z.strictObject({
    place: placeField(),
    kind: choiceField(['', 'bolt', 'remnant'], 'bolt or remnant', {
      label: 'Kind',
      options: [
        { value: '', label: 'bolt' },
        { value: 'remnant', label: 'remnant' },
      ],
    }),
    cloth_id: chosenField(cloths, 'a cloth', { label: 'Cloth', blank: '—' }),
    shade_id: chosenField(shades, 'a shade', { label: 'Shade', blank: '—' }),
    price: optionalMoney(asker.currency, { max: MOST_COST_MINOR, label: 'Price of the piece' }),
    ...measuredFields(asker.units, placeChoices(reader), '—'),
  });
  const prepare = (raw: unknown) => withPlaces(fillDown(raw));
  return rowsField(row, { max: MOST_ROWS, what: 'pieces', rows: FIRST_ROWS, prepare });
}

type Row = z.output<ReturnType<typeof receivedRows>>[number];

export function asReceivedPieces(rows: readonly Row[]): ReceivedPiece[] {
  return rowForEach(rows).map((row) => ({
    kind: row.kind === 'remnant' ? 'remnant' : 'bolt',
    clothId: row.cloth_id,
    shadeId: row.shade_id,
    millLot: row.mill_lot,
    lengthTicks: row.length.value,
    typed: row.length.typed,
    usableWidthTicks: row.usable_width?.value ?? null,
    costMinor: row.price?.value ?? 0,
    placeId: row.place_id,
  }));
}

type RawRow = Record<string, unknown>;

/**
 * Ten bolts of a lot are ten lengths under one filled row: cloth, shade, mill lot and place that were left blank
 * beside a length are those of the row above. The mill's lot and the place go down only where cloth and shade do.
 */
export function fillDown(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  let above: RawRow | null = null;
  return Array.from(raw, (given: unknown) => {
    if (!isRow(given)) return given;
    const filled = above && !isOpen(given.length) ? filledFrom(above, given) : given;
    if (!isOpen(filled.cloth_id)) above = filled;
    return filled;
  });
}

function filledFrom(above: RawRow, given: RawRow): RawRow {
  const take = (name: string) => (isOpen(given[name]) ? above[name] : given[name]);
  const filled: RawRow = { ...given, cloth_id: take('cloth_id'), shade_id: take('shade_id') };
  const same = filled.cloth_id === above.cloth_id && filled.shade_id === above.shade_id;
  return same ? { ...filled, mill_lot: take('mill_lot'), place_id: take('place_id') } : filled;
}

function isRow(given: unknown): given is RawRow {
  return typeof given === 'object' && given !== null;
}

function isOpen(text: unknown): boolean {
  return typeof text !== 'string' || text.trim() === '';
}

/** How many rows a form that was sent had. */
export function rowsIn(typed: Typed): number {
  return Math.min(countTyped(typed, 'pieces'), MOST_ROWS);
}

/** How freight is shared by the pieces of a delivery; by what they cost where nobody says. */
export function sharedByField() {
  const read = choiceField(['', 'value', 'length'], 'how the freight is shared', {
    label: 'Freight is shared by',
    options: [
      { value: 'value', label: 'what the pieces cost' },
      { value: 'length', label: 'their length' },
    ],
  });
  return read.transform((by) => (by === 'length' ? ('length' as const) : ('value' as const)));
}
