import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { address } from '../kit/address.ts';

/** What a page at a bench shows: a garment at the cutting table, or a batch at the pot. */
export type Shown = { readonly garment: string } | { readonly batch: string };

/**
 * How far the book had come when a page was drawn: the last entry, row of a batch's log, flaw and measured width, and the
 * version of the garment. What was written since is above these numbers.
 */
export interface Pulse {
  readonly entry: number;
  readonly log: number;
  readonly flaw: number;
  readonly width: number;
  readonly version: number;
}

const latest = prepared((db, garment: Param<string>) => {
  const max = (table: 'entry' | 'batch_log' | 'piece_flaw' | 'piece_width') =>
    db.selectFrom(table).select((of) => of.fn.max('id').as('id'));
  return db.selectNoFrom([
    max('entry').as('entry'),
    max('batch_log').as('log'),
    max('piece_flaw').as('flaw'),
    max('piece_width').as('width'),
    db
      .selectFrom('garment_version')
      .innerJoin('garment', 'garment.id', 'garment_version.garment_id')
      .select((of) => of.fn.max('number').as('number'))
      .where('garment.code', '=', garment)
      .as('version'),
  ]);
});

export function readPulse(reader: Reader, shown: Shown): Pulse {
  const row = reader.first(latest('garment' in shown ? shown.garment : ''));
  return {
    entry: row?.entry ?? 0,
    log: row?.log ?? 0,
    flaw: row?.flaw ?? 0,
    width: row?.width ?? 0,
    version: row?.version ?? 0,
  };
}

export const PULSE_PATH = '/pulse';

/** Where a page asks whether somebody else changed what it shows, since now. */
export function pulseAddress(reader: Reader, shown: Shown): string {
  const { entry, log, flaw, width, version } = readPulse(reader, shown);
  return address(PULSE_PATH, { ...shown, since: [entry, log, flaw, width, version].join('.') });
}

/** @returns null for anything that no page asks */
export function readSince(text: string): Pulse | null {
  if (!/^\d{1,15}(\.\d{1,15}){4}$/.test(text)) return null;
  const [entry = 0, log = 0, flaw = 0, width = 0, version = 0] = text.split('.').map(Number);
  return { entry, log, flaw, width, version };
}
