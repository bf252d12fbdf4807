import { z } from 'zod';
import { type LengthUnit, MOST_LENGTH_TICKS, readLength, TICKS_PER } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import {
  type Choice,
  chosenField,
  clothChoices,
  optionalChosen,
  placeChoices,
  shadeChoices,
  supplierChoices,
} from '../../kit/choices.ts';
import {
  choiceField,
  field,
  optionalLength,
  optionalMoney,
  optionalText,
  type Quantity,
  rowsField,
} from '../../kit/fields.ts';
import { countTyped } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { invalid } from '../../refusal.ts';
import { type TypedRow, typedRows } from '../../web/typed-rows.ts';
import type { ReceivedPiece } from './receiving.ts';

/** What the selects of a delivery offer. */
export interface ReceivingChoices {
  readonly cloths: readonly Choice[];
  readonly shades: readonly Choice[];
  readonly places: readonly Choice[];
  readonly suppliers: readonly Choice[];
}

export function receivingChoices(reader: Reader): ReceivingChoices {
  return {
    cloths: clothChoices(reader),
    shades: shadeChoices(reader),
    places: placeChoices(reader),
    suppliers: supplierChoices(reader),
  };
}

export const MOST_ROWS = 100;

/** A price that the ledger can carry, in minor units. */
export const MOST_COST_MINOR = 1_000_000_000_000;

/** The widest that a piece can be: 10 m. */
export const MOST_WIDTH_TICKS = 10 * TICKS_PER.m;

/** One length, or several with semicolons between them: bolts that are alike but for their length. */
function lengthsField(unit: LengthUnit) {
  return field((typed, refuse): Quantity[] => {
    const parts = typed.split(';').map((part) => part.trim());
    const written = parts.length > 1 ? parts.filter((part) => part !== '') : parts;
    if (written.length > MOST_ROWS) return refuse(`That is more than ${MOST_ROWS} pieces at once.`);
    return written.map((part) => {
      const read = readLength(part, unit);
      if (!read.ok) return refuse(read.reason);
      if (read.value < 1) return refuse('The length is too small.');
      if (read.value > MOST_LENGTH_TICKS) return refuse('The length is too large.');
      return { value: read.value, typed: part };
    });
  });
}

/** A row for each length that a row lists. */
export function rowForEach<R extends { readonly length: readonly Quantity[] }>(
  rows: readonly R[],
): (Omit<R, 'length'> & { readonly length: Quantity })[] {
  const each = rows.flatMap((row) => row.length.map((length) => ({ ...row, length })));
  if (each.length <= MOST_ROWS) return each;
  throw invalid('pieces', `That is more than ${MOST_ROWS} pieces at once.`);
}

/** What is measured on any received piece, whether it came by an order or without one. */
export function measuredFields(units: Units, places: readonly Choice[]) {
  return {
    mill_lot: optionalText({ max: 60 }).transform((typed) => (typed === '-' ? '' : typed)),
    length: lengthsField(lengthUnit(units)),
    usable_width: optionalLength(sizeUnit(units), { min: 1, max: MOST_WIDTH_TICKS, what: 'usable width' }),
    place_id: optionalChosen(places, 'a place'),
  };
}

/** The rows `pieces.0.cloth_id` and so on; a row that was left open in places takes them from the row above. */
export function receivedRows(asker: { units: Units; currency: string }, choices: ReceivingChoices) {
  const row = z.strictObject({
    kind: choiceField(['', 'bolt', 'remnant'], 'bolt or remnant'),
    cloth_id: chosenField(choices.cloths, 'a cloth'),
    shade_id: chosenField(choices.shades, 'a shade'),
    price: optionalMoney(asker.currency, { max: MOST_COST_MINOR }),
    ...measuredFields(asker.units, choices.places),
  });
  return z.preprocess(fillDown, rowsField(row, { max: MOST_ROWS, what: 'pieces' }));
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

const PIECE_FIELDS = [
  'kind',
  'cloth_id',
  'shade_id',
  'mill_lot',
  'length',
  'usable_width',
  'price',
  'place_id',
] as const;

/** One row of the form as it was typed, for drawing it again. */
export type TypedPiece = TypedRow<(typeof PIECE_FIELDS)[number]>;

/** The rows of the list `pieces` as typed, with blank ones after them up to `least`. */
export function typedPieces(typed: Typed, least: number): TypedPiece[] {
  return typedRows(typed, 'pieces', PIECE_FIELDS, Math.min(Math.max(least, rowsIn(typed)), MOST_ROWS));
}

/** How many rows a form that was sent had. */
export function rowsIn(typed: Typed): number {
  return Math.min(countTyped(typed, 'pieces'), MOST_ROWS);
}

/** How freight is shared by the pieces of a delivery; by what they cost where nobody says. */
export function sharedByField() {
  return choiceField(['', 'value', 'length'], 'how the freight is shared').transform((by) =>
    by === 'length' ? ('length' as const) : ('value' as const),
  );
}
