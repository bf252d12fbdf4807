import { ABOUT } from '../../../src/quantity/figure-show.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { MACHINE_ID } from '../../database/device-tables.ts';
import { batchPath, garmentPath, orderPath, piecePath, receiptPath, tierPlace } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { OTHER_USE_FACTS, sayOtherUse } from '../../ledger/other-use.ts';
import { readTierNames } from '../../ledger/tier-names.ts';
import { KIND_WORDS } from '../../ledger/words.ts';
import type { Asker } from '../../web/house.ts';

/** Entries with all that they name, not yet narrowed or ordered. */
export function selectEntries(db: Reader['db']) {
  return db
    .selectFrom('entry')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .innerJoin('person', 'person.id', 'entry.person_id')
    .leftJoin('tier', 'tier.id', 'entry.tier_id')
    .leftJoin('garment', 'garment.id', 'tier.garment_id')
    .leftJoin('other_use', 'other_use.id', 'entry.other_use_id')
    .leftJoin('garment as use_garment', 'use_garment.id', 'other_use.garment_id')
    .leftJoin('batch', 'batch.id', 'entry.batch_id')
    .leftJoin('receipt', 'receipt.id', 'entry.receipt_id')
    .leftJoin('order', 'order.id', 'receipt.order_id')
    .leftJoin('entry as pair', 'pair.id', 'entry.pair_id')
    .leftJoin('piece as pair_piece', 'pair_piece.id', 'pair.piece_id')
    .leftJoin('entry as undone', 'undone.id', 'entry.reverses_id')
    .leftJoin('entry as undoing', 'undoing.reverses_id', 'entry.id')
    .leftJoin('person as undoer', 'undoer.id', 'undoing.person_id')
    .leftJoin('request', 'request.key', 'entry.request_key')
    .leftJoin('device', 'device.id', 'request.device_id')
    .select([
      'entry.id',
      'entry.at',
      'entry.kind',
      'entry.length_ticks',
      'entry.held_ticks',
      'entry.cost_minor',
      'entry.why',
      'entry.typed',
      'entry.strips',
      'entry.request_key',
      'entry.receipt_id',
      'entry.tier_id',
      'piece.code as piece_code',
      'person.name as person_name',
      'garment.code as garment_code',
      'batch.code as batch_code',
      'order.code as order_code',
      'pair_piece.code as pair_piece_code',
      'undone.kind as undone_kind',
      'undoing.at as undoing_at',
      'undoer.name as undoer_name',
      'request.device_id',
      'request.done_at',
      'device.name as device_name',
      ...OTHER_USE_FACTS,
    ]);
}

type Query = ReturnType<typeof selectEntries>;
type EntryRecord = Query extends { execute(): Promise<(infer R)[]> } ? R : never;

/**
 * One entry as a person reads it. Changes are signed; '' stands where an entry changes nothing, and null where the person
 * is told no prices.
 */
function shapeEntry(row: EntryRecord, tierName: string, { units, currency, seesPrices }: Asker) {
  return {
    id: row.id,
    at: row.at,
    when: showMoment(row.at),
    who: row.person_name,
    /** when it was done, where it was entered later; else '' */
    doneWhen: row.done_at === null ? '' : showMoment(row.done_at),
    /** the device that it was made on; '' for the workroom's computer */
    device: row.device_id === null || row.device_id === MACHINE_ID ? '' : (row.device_name ?? ''),
    kind: row.kind,
    kindWords: sayKind(row),
    piece: { text: row.piece_code, href: piecePath(row.piece_code) },
    lengthTicks: row.length_ticks,
    heldTicks: row.held_ticks,
    costMinor: seesPrices ? row.cost_minor : null,
    length: signed(row.length_ticks, (ticks) => showLength(ticks, units, 'down')),
    held: signed(row.held_ticks, (ticks) => showLength(ticks, units, 'down')),
    cost: seesPrices ? signed(row.cost_minor, (minor) => showMoney(minor, currency)) : null,
    why: sayWhy(row),
    /** the length as it was typed, where it was */
    typed: row.typed,
    /** what it was cut or held for besides a tier: "repair of G3 Plum skirt: torn ruffle"; else '' */
    otherUse: sayOtherUse(row),
    /** what the entry was for or came from */
    links: linksOf(row, tierName),
    /** who undid it and when, else '' */
    undone:
      row.undoing_at === null ? '' : `Undone by ${row.undoer_name ?? ''}, ${showMoment(row.undoing_at)}`,
    requestKey: row.request_key,
  };
}

export type EntryRow = ReturnType<typeof shapeEntry>;

/** Entries as a person reads them, in their order. */
export function shapeEntries(reader: Reader, rows: readonly EntryRecord[], asker: Asker): EntryRow[] {
  const tierName = readTierNames(
    reader,
    rows.map((row) => row.tier_id),
  );
  return rows.map((row) => shapeEntry(row, tierName(row.tier_id), asker));
}

function sayKind(row: EntryRecord): string {
  if (row.undone_kind !== null) return `Undone: ${KIND_WORDS[row.undone_kind].toLowerCase()}`;
  if (row.strips !== null) return `${KIND_WORDS[row.kind]}: ${countOf(row.strips, 'strip', 'strips')}`;
  return KIND_WORDS[row.kind];
}

/** Why it was made, without the batch's code that its link says already. */
function sayWhy({ why, batch_code: code }: EntryRecord): string {
  return code !== null && why.startsWith(`${code}, `) ? why.slice(code.length + 2) : why;
}

function linksOf(row: EntryRecord, tierName: string) {
  const links: { text: string; href: string }[] = [];
  if (row.tier_id !== null && row.garment_code !== null) {
    links.push({
      text: `${tierName} of ${row.garment_code}`,
      href: tierPlace(row.garment_code, row.tier_id),
    });
  }
  if (row.useGarmentCode !== null)
    links.push({ text: row.useGarmentCode, href: garmentPath(row.useGarmentCode) });
  if (row.batch_code !== null)
    links.push({ text: `batch ${row.batch_code}`, href: batchPath(row.batch_code) });
  if (row.receipt_id !== null)
    links.push({ text: `receipt ${row.receipt_id}`, href: receiptPath(row.receipt_id) });
  if (row.order_code !== null)
    links.push({ text: `order ${row.order_code}`, href: orderPath(row.order_code) });
  if (row.pair_piece_code !== null) {
    const from = row.length_ticks > 0 ? 'from' : 'to';
    links.push({ text: `${from} ${row.pair_piece_code}`, href: piecePath(row.pair_piece_code) });
  }
  return links;
}

/** A change with its sign: a plus before what came, a true minus before what went, nothing for no change. */
function signed(value: number, show: (value: number) => string): string {
  if (value === 0) return '';
  const shown = show(value);
  if (value < 0) return shown;
  return shown.startsWith(ABOUT) ? `${ABOUT}+${shown.slice(ABOUT.length)}` : `+${shown}`;
}
