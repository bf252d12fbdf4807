import { FIBRE_CODES, type FibreShare, showContent } from '../../../src/dye/fibre.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { METRIC } from '../../../src/quantity/length-show.ts';
import { minorDigits } from '../../../src/quantity/money.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import type { ShelfTold } from '../../shelf/told.ts';

/** A list that goes out: its heading, and its rows some hundreds at a time, so that a long one is never held whole. */
export type ReadNeeded = ShelfTold['readNeeded'];

export interface ListOut {
  readonly name: string;
  readonly what: string;
  readonly heading: readonly string[];
  /** `readNeeded` tells what open garments need of the pieces */
  rows(reader: Reader, readNeeded: ReadNeeded): Iterable<readonly string[]>;
}

export const AT_ONCE = 500;

/** A length exactly, whatever the reader's units: metres for cloth. */
export const metres = (ticks: number | null) => (ticks === null ? '' : `${writeLength(ticks, METRIC)} m`);
export const centimetres = (ticks: number | null) => (ticks === null ? '' : `${ticks / TICKS_PER.cm} cm`);

/** Minor units as a plain decimal: 1234 of two digits is 12.34. */
export function amount(minor: number | null, currency: string): string {
  if (minor === null) return '';
  const digits = minorDigits(currency);
  const text = String(Math.abs(minor)).padStart(digits + 1, '0');
  const sign = minor < 0 ? '-' : '';
  return digits === 0 ? `${sign}${text}` : `${sign}${text.slice(0, -digits)}.${text.slice(-digits)}`;
}

/** Pages through a table by its id, so that each step costs the same. */
export function* paged<R extends { id: number }>(read: (after: number) => R[]): Generator<R> {
  for (let after = 0; ; ) {
    const rows = read(after);
    yield* rows;
    const last = rows.at(-1);
    if (!last || rows.length < AT_ONCE) return;
    after = last.id;
  }
}

/** The fibre content of every cloth that has one, as a label gives it. */
export function readFibres(reader: Reader): ReadonlyMap<number, string> {
  const contents = new Map<number, FibreShare[]>();
  for (const row of reader.all(reader.db.selectFrom('cloth_fibre').selectAll())) {
    const fibre = FIBRE_CODES.find((code) => code === row.fibre);
    if (fibre)
      contents.set(row.cloth_id, [...(contents.get(row.cloth_id) ?? []), { fibre, shareBp: row.share_bp }]);
  }
  return new Map([...contents].map(([clothId, content]) => [clothId, showContent(content)]));
}

export const text = (value: string | number | null) => (value === null ? '' : String(value));
