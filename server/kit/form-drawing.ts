import { z } from 'zod';
import type { Typed } from './typed.ts';

/** How a field is asked for on a page: what stands beside it, and what kind of control it is. */
export interface Asking {
  readonly label?: string;
  readonly kind?: 'text' | 'number' | 'select' | 'textarea' | 'checkbox' | 'date' | 'search' | 'password';
  /** a sentence under the label */
  readonly hint?: string;
  /** behind the control: "cm" */
  readonly unit?: string;
  readonly options?: readonly { readonly value: string; readonly label: string }[];
  /** false where it may be left blank, which the page says */
  readonly required?: boolean;
  /** neither required nor marked as optional */
  readonly filter?: boolean;
  readonly size?: 'short' | 'mid' | 'long';
  readonly rows?: number;
  readonly maxlength?: number;
  /** texts to offer */
  readonly suggest?: readonly string[];
}

/** A field as the page draws it: what is asked, its name, and the text in it. */
export interface DrawnField extends Asking {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly checked?: boolean;
  /** under the control: what was understood of the text */
  readonly echo?: string;
}

interface Bounds {
  readonly what?: string;
  readonly min?: number;
  readonly max?: number;
  readonly lines?: boolean;
  readonly blank?: string;
  readonly sayBound?: (value: number) => string;
}

type Fields = Readonly<Record<string, z.ZodType>>;

/** A list of rows in a form: the fields of one, how many stand there at least, and blank below others, and at most. */
interface RowsAsked<Row extends Fields = Fields> {
  readonly rowFields: Row;
  readonly rows: number;
  readonly spare: number;
  readonly mostRows: number;
}

/** Says of a reader that checks a list of rows further that it is drawn as these rows. */
export function askedAs<T extends z.ZodType, Row extends Fields>(reader: T, rows: RowsAsked<Row>) {
  const { rowFields, rows: least, spare, mostRows } = rows;
  return Object.assign(reader, { rowFields, rows: least, spare, mostRows });
}

interface Unasked {
  readonly unasked: true;
}

/** Says of a reader that it has no field on the page: a button sends it, or the form is read with it. */
export function unasked<T extends z.ZodType>(reader: T): T & Unasked {
  return Object.assign(reader, { unasked: true } as const);
}

/** A form as it is drawn: its fields by name, its lists as rows of fields. */
export type Drawn<F extends Fields> = {
  readonly [Name in keyof F as F[Name] extends Unasked ? never : Name]: F[Name] extends RowsAsked<infer Row>
    ? readonly DrawnRow<Row>[]
    : DrawnField;
};
type DrawnRow<Row extends Fields> = Drawn<Row> & { readonly index: number };

const ASKED = new WeakMap<z.core.$ZodType, Asking>();

/** Keeps with the reader of a field how it is asked for; of its bounds the page needs nothing. */
export function asked<T extends z.ZodType>(reader: T, asking: Asking & Bounds): T {
  const {
    what: _what,
    min: _min,
    max: _max,
    lines: _lines,
    blank: _blank,
    sayBound: _say,
    ...shown
  } = asking;
  ASKED.set(reader, shown);
  return reader;
}

/**
 * The fields of a form, drawn with what was typed. A list has as many rows as were typed, and at least those that it
 * asks for; `rows` asks for other numbers by the list's name.
 */
export function drawFields<const F extends Fields>(
  fields: F,
  typed: Typed,
  rows: Readonly<Record<string, number>> = {},
): Drawn<F> {
  return drawAll(fields, typed, '', rows);
}

function drawAll<const F extends Fields>(
  fields: F,
  typed: Typed,
  prefix: string,
  rows: Readonly<Record<string, number>>,
): Drawn<F> {
  const shown = Object.entries(fields).filter(([, reader]) => !('unasked' in reader));
  const drawn = shown.map(([name, reader]) => [
    name,
    isRows(reader) ? drawRows(name, reader, typed, rows[name]) : drawField(reader, prefix + name, typed),
  ]);
  return Object.fromEntries(drawn);
}

function drawRows(list: string, asks: RowsAsked, typed: Typed, least = asks.rows) {
  const { rowFields, spare, mostRows } = asks;
  const length = Math.min(Math.max(least, countTyped(typed, list) + spare), mostRows);
  return Array.from({ length }, (_, index) => drawRow(list, rowFields, index, typed));
}

/** One row of a list, wherever it stands in the form: where the page decides which rows there are. */
export function drawRow<const Row extends Fields>(
  list: string,
  rowFields: Row,
  index: number,
  typed: Typed,
): DrawnRow<Row> {
  return { index, ...drawAll(rowFields, typed, `${list}.${index}.`, {}) };
}

function isRows(reader: object): reader is RowsAsked {
  return 'rowFields' in reader;
}

function drawField(reader: z.ZodType, name: string, typed: Typed): DrawnField {
  const asking = askingOf(reader);
  const text = typed[name] ?? '';
  const field = { label: '', ...asking, name };
  return asking.kind === 'checkbox'
    ? { ...field, value: 'yes', checked: text !== '' }
    : { ...field, value: text };
}

/** A reader that checks or changes further what another read is asked for as that one is. */
function askingOf(reader: z.core.$ZodType): Asking {
  const inner = reader._zod.parent ?? (reader instanceof z.ZodPipe ? reader.in : undefined);
  return ASKED.get(reader) ?? (inner ? askingOf(inner) : {});
}

/** How many rows of a list a form had, those between that were left blank counted in. */
export function countTyped(typed: Typed, list: string): number {
  const row = new RegExp(`^${list}\\.(\\d+)\\.`);
  return Math.max(-1, ...Object.keys(typed).map((name) => Number(row.exec(name)?.[1] ?? -1))) + 1;
}
