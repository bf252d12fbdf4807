import { z } from 'zod';
import { type LengthUnit, readLength } from '../../src/quantity/length.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Reading } from '../../src/quantity/reading.ts';
import { writeSize } from '../../src/quantity/written-length.ts';
import { readStored } from '../database/stored.ts';
import { lengthUnit, sizeUnit } from './units.ts';

/**
 * What was typed is kept beside the figures that were read from it, and shown again as it was typed. A bare number
 * means another length to a reader of the other system. So either each text gets its unit before it is kept
 * (`withUnits`), or the system is kept beside the texts (`keepTyped`) and the unit is added where it is read
 * (`typedAgain`).
 */

/** What a form sent, as text by field name: `name`, or `pieces.0.length` for the first row of a list. */
export type Typed = Readonly<Record<string, string>>;

const TYPED = z.record(z.string(), z.string());
// Rows made without a form have neither.
const KEPT = z.object({ system: z.enum(['metric', 'imperial']).optional(), texts: TYPED.optional() });

/** Rows of a list as a form sends them. */
export function rowsAsTyped(list: string, rows: readonly Typed[]): Typed {
  return Object.fromEntries(
    rows.flatMap((row, at) => Object.entries(row).map(([name, text]) => [`${list}.${at}.${name}`, text])),
  );
}

/** Texts as they were typed, and the system of lengths in which a bare number was meant. */
export interface Kept {
  readonly system: Units['system'];
  readonly texts: Typed;
}

/** Texts that read the same for everybody, as they are stored. */
export function storeTyped(typed: Typed): string {
  return JSON.stringify(TYPED.parse(typed));
}

export function readTyped(json: string): Typed {
  return readStored(TYPED, json);
}

/** What is stored beside the figures that were read. */
export function keepTyped(units: Units, texts: Typed): string {
  return JSON.stringify({ system: units.system, texts } satisfies Kept);
}

/** What was stored, for a form that shows it again; rows made without a form have no texts. */
export function readKept(json: string): Kept | null {
  const { system, texts } = readStored(KEPT, json);
  return system && texts ? { system, texts } : null;
}

/**
 * A length for a form: as it was typed, where that reads as what is stored. A bare number gets its unit for a reader
 * of the other system, so that 95 inches never become 95 cm. Without a text the length is written out exactly.
 */
export function typedAgain(kept: Kept | null, field: string, ticks: number | null, units: Units): string {
  const typed = kept?.texts[field];
  // An allowance that was left blank is nothing.
  if (ticks === null || (ticks === 0 && typed === '')) return '';
  if (kept && typed !== undefined) {
    const meant = sizeUnit(kept);
    if (reads(typed, meant, ticks)) {
      const same = kept.system === units.system || reads(typed, sizeUnit(units), ticks);
      return same ? typed : `${typed} ${meant}`;
    }
  }
  return writeSize(ticks, units);
}

function reads(typed: string, unit: 'cm' | 'in', ticks: number): boolean {
  const reading = readLength(typed, unit);
  return reading.ok && reading.value === ticks;
}

/** A bare number takes the unit it was typed under, so that it reads the same for whoever opens it next. */
export function withUnit(typed: string, unit: LengthUnit): string {
  const own = readLength(typed, unit);
  const other = readLength(typed, unit === 'yd' ? 'ft' : 'yd');
  return own.ok && other.ok ? withOwnUnit(typed, unit, own, other) : typed;
}

/** A text that two bare units read alike has its own unit; another gets the one that it was typed under. */
export function withOwnUnit(
  typed: string,
  unit: string,
  one: Reading<number>,
  other: Reading<number>,
): string {
  return one.ok && other.ok && one.value === other.value ? typed : `${typed} ${unit}`;
}

/** What was typed in a form, each number with its unit: `lengths` and `sizes` match the names of such fields. */
export function withUnits(
  typed: Typed,
  units: Units,
  fields: { readonly lengths: RegExp; readonly sizes: RegExp },
): Record<string, string> {
  const kept = Object.entries(typed).filter(([name, text]) => text !== '' && name !== 'request_key');
  return Object.fromEntries(
    kept.map(([name, text]) => {
      if (fields.sizes.test(name)) return [name, withUnit(text, sizeUnit(units))];
      return [name, fields.lengths.test(name) ? withUnit(text, lengthUnit(units)) : text];
    }),
  );
}
