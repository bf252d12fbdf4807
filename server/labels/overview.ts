import { sql } from 'kysely';
import type { Reader } from '../database/book.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { showMoment } from '../kit/when.ts';
import type { Page } from '../web/page-frame.ts';
import { ADDRESS_FIELDS, isOwnMachine, readAddress } from './address-form.ts';
import { readSheets } from './sheets.ts';

const MOST_LISTED = 200;

/** The address in the codes, the sheets, what was printed lately, and which labels lead to an old address. */
export function labelsPage(reader: Reader, reachedAt: string, typed: Typed = {}) {
  const address = readAddress(reader);
  const old = readOldLabels(reader);
  const data = {
    requestKey: mintKey(),
    /** the address in force, '' where none was written down yet */
    address: address?.address ?? '',
    ownMachine: isOwnMachine(address?.address ?? ''),
    field: drawFields(ADDRESS_FIELDS, { address: address?.address ?? reachedAt, ...typed }).address,
    sheets: readSheets(reader).map((sheet) => ({
      name: sheet.name,
      what: `${sheet.columns} by ${sheet.rows} on ${sheet.paper}`,
      href: `/setup/labels/sheets/${sheet.id}`,
      test: `/setup/labels/sheets/${sheet.id}/test`,
    })),
    runs: readRuns(reader),
    /** codes of pieces on the shelf, batches and places whose last label leads to an older address */
    old,
    oldHref: `/setup/labels/runs/new?${new URLSearchParams({ things: old.join(',') })}`,
  };
  return { view: 'labels/overview', data, title: 'Labels', room: 'setup' } satisfies Page;
}

function readRuns(reader: Reader) {
  const rows = reader.all(
    reader.db
      .selectFrom('label_run')
      .innerJoin('person', 'person.id', 'label_run.person_id')
      .select((e) => [
        'label_run.id',
        'label_run.at',
        'person.name as who',
        e
          .selectFrom('label')
          .select((l) => l.fn.countAll<number>().as('n'))
          .whereRef('label.label_run_id', '=', 'label_run.id')
          .as('labels'),
      ])
      .orderBy('label_run.id', 'desc')
      .limit(20),
  );
  return rows.map((row) => ({
    when: showMoment(row.at),
    who: row.who,
    labels: row.labels ?? 0,
    href: `/setup/labels/runs/${row.id}`,
  }));
}

/**
 * The codes of what is still about and bears, as its last label, one of an address that is no longer in force. Used-up
 * pieces do not count.
 */
export function readOldLabels(reader: Reader): string[] {
  const address = readAddress(reader);
  if (!address) return [];
  const { db } = reader;
  const lastAddress = (column: 'piece_id' | 'batch_id' | 'place_id', id: string) =>
    sql<number>`(SELECT label_address_id FROM label JOIN label_run ON label_run.id = label.label_run_id
      WHERE ${sql.ref(`label.${column}`)} = ${sql.ref(id)} ORDER BY label_run.id DESC LIMIT 1)`;
  const pieces = db
    .selectFrom('piece')
    .select('code')
    .where('on_hand_ticks', '>', 0)
    .where(lastAddress('piece_id', 'piece.id'), '<>', address.id);
  const batches = db
    .selectFrom('batch')
    .select('code')
    .where(lastAddress('batch_id', 'batch.id'), '<>', address.id);
  const places = db
    .selectFrom('place')
    .select('name as code')
    .where(lastAddress('place_id', 'place.id'), '<>', address.id);
  return [
    ...reader.all(pieces.orderBy('id').limit(MOST_LISTED)),
    ...reader.all(batches.orderBy('id').limit(MOST_LISTED)),
    ...reader.all(places.orderBy('id').limit(MOST_LISTED)),
  ].map(({ code }) => code);
}
