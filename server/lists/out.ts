import { FIBRE_CODES, type Share, showContent } from '../../src/fibre.ts';
import { TICKS_PER } from '../../src/length.ts';
import { METRIC } from '../../src/length-show.ts';
import { minorDigits } from '../../src/money.ts';
import { writeLength } from '../../src/written-length.ts';
import type { Reader } from '../database/book.ts';
import { readWorkroom } from '../workroom.ts';

/** A list that goes out: its heading, and its rows some hundreds at a time, so that a long one is never held whole. */
export interface ListOut {
  readonly name: string;
  readonly what: string;
  readonly heading: readonly string[];
  rows(reader: Reader): Iterable<readonly string[]>;
}

const AT_ONCE = 500;

/** A length exactly, whatever the reader's units: metres for cloth. */
const metres = (ticks: number | null) => (ticks === null ? '' : `${writeLength(ticks, METRIC)} m`);
const centimetres = (ticks: number | null) => (ticks === null ? '' : `${ticks / TICKS_PER.cm} cm`);

/** Minor units as a plain decimal: 1234 of two digits is 12.34. */
function amount(minor: number | null, currency: string): string {
  if (minor === null) return '';
  const digits = minorDigits(currency);
  const text = String(Math.abs(minor)).padStart(digits + 1, '0');
  const sign = minor < 0 ? '-' : '';
  return digits === 0 ? `${sign}${text}` : `${sign}${text.slice(0, -digits)}.${text.slice(-digits)}`;
}

/** Pages through a table by its id, so that each step costs the same. */
function* paged<R extends { id: number }>(read: (after: number) => R[]): Generator<R> {
  for (let after = 0; ; ) {
    const rows = read(after);
    yield* rows;
    const last = rows.at(-1);
    if (!last || rows.length < AT_ONCE) return;
    after = last.id;
  }
}

/** The fibre content of every cloth that has one, as a label gives it. */
function readFibres(reader: Reader): ReadonlyMap<number, string> {
  const contents = new Map<number, Share[]>();
  for (const row of reader.all(reader.db.selectFrom('cloth_fibre').selectAll())) {
    const fibre = FIBRE_CODES.find((code) => code === row.fibre);
    if (fibre)
      contents.set(row.cloth_id, [...(contents.get(row.cloth_id) ?? []), { fibre, shareBp: row.share_bp }]);
  }
  return new Map([...contents].map(([clothId, content]) => [clothId, showContent(content)]));
}

const PIECES: ListOut = {
  name: 'pieces',
  what: 'Pieces on the shelf. This list comes in again as it went out.',
  heading: [
    'Code',
    'Kind',
    'Cloth',
    'Construction',
    'Fibres',
    'Cloth width',
    'Cloth usable width',
    'Mass per area',
    'Shade',
    'Undyed',
    'Lot',
    'Length',
    'Usable width',
    'Place',
    'Supplier',
    'Cost',
    'Held',
  ],
  *rows(reader) {
    const { currency } = readWorkroom(reader);
    const fibres = readFibres(reader);
    const query = reader.db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .leftJoin('place', 'place.id', 'piece.place_id')
      .leftJoin('supplier', 'supplier.id', 'lot.supplier_id')
      .select([
        'piece.id',
        'piece.code',
        'piece.kind',
        'piece.on_hand_ticks',
        'piece.held_ticks',
        'piece.cost_minor',
      ])
      .select([
        'piece.usable_width_ticks',
        'cloth.name as cloth',
        'cloth.id as cloth_id',
        'cloth.construction',
        'cloth.width_ticks',
      ])
      .select([
        'cloth.usable_width_ticks as cloth_usable_ticks',
        'cloth.mass_per_area_mg_m2',
        'shade.name as shade',
      ])
      .select([
        'shade.ground',
        'lot.code as lot_code',
        'lot.mill_lot',
        'place.name as place',
        'supplier.name as supplier',
      ])
      .where('piece.on_hand_ticks', '>', 0)
      .orderBy('piece.id')
      .limit(AT_ONCE);
    for (const row of paged((after) => reader.all(query.where('piece.id', '>', after))))
      yield [
        row.code,
        row.kind,
        row.cloth,
        row.construction,
        fibres.get(row.cloth_id) ?? '',
        centimetres(row.width_ticks),
        centimetres(row.cloth_usable_ticks),
        row.mass_per_area_mg_m2 === null ? '' : `${row.mass_per_area_mg_m2 / 1000} g/m²`,
        row.shade,
        row.ground === 1 ? 'yes' : 'no',
        row.mill_lot === '' ? row.lot_code : row.mill_lot,
        metres(row.on_hand_ticks),
        centimetres(row.usable_width_ticks),
        row.place ?? '',
        row.supplier ?? '',
        amount(row.cost_minor, currency),
        metres(row.held_ticks),
      ];
  },
};

const LEDGER: ListOut = {
  name: 'ledger',
  what: 'Every entry of the ledger, from the first.',
  heading: [
    'Entry',
    'When',
    'Who',
    'Piece',
    'Kind',
    'Length',
    'Held',
    'Cost',
    'Garment',
    'Tier',
    'Strips',
    'Batch',
    'Why',
  ],
  *rows(reader) {
    const { currency } = readWorkroom(reader);
    const query = reader.db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('person', 'person.id', 'entry.person_id')
      .leftJoin('tier', 'tier.id', 'entry.tier_id')
      .leftJoin('garment', 'garment.id', 'tier.garment_id')
      .leftJoin('batch', 'batch.id', 'entry.batch_id')
      .select([
        'entry.id',
        'entry.at',
        'entry.kind',
        'entry.length_ticks',
        'entry.held_ticks',
        'entry.cost_minor',
      ])
      .select(['entry.strips', 'entry.why', 'piece.code', 'person.name as who', 'tier.name as tier'])
      .select(['garment.code as garment', 'batch.code as batch'])
      .orderBy('entry.id')
      .limit(AT_ONCE);
    const signed = (ticks: number) => (ticks < 0 ? `-${metres(-ticks)}` : metres(ticks));
    for (const row of paged((after) => reader.all(query.where('entry.id', '>', after))))
      yield [
        String(row.id),
        row.at,
        row.who,
        row.code,
        row.kind,
        signed(row.length_ticks),
        signed(row.held_ticks),
        amount(row.cost_minor, currency),
        row.garment ?? '',
        row.tier ?? '',
        row.strips === null ? '' : String(row.strips),
        row.batch ?? '',
        row.why,
      ];
  },
};

/** A list that is a table of names and plain columns. */
function plain(
  name: string,
  what: string,
  heading: readonly string[],
  rows: (reader: Reader) => Iterable<readonly string[]>,
): ListOut {
  return { name, what, heading, rows };
}

const text = (value: string | number | null) => (value === null ? '' : String(value));

const CLOTHS = plain(
  'cloths',
  'Cloths as they are described.',
  [
    'Cloth',
    'Construction',
    'Fibres',
    'Width',
    'Usable width',
    'Mass per area',
    'Finish',
    'Supplier',
    'Article',
    'Note',
  ],
  (reader) => {
    const fibres = readFibres(reader);
    const query = reader.db
      .selectFrom('cloth')
      .leftJoin('supplier', 'supplier.id', 'cloth.supplier_id')
      .selectAll('cloth')
      .select('supplier.name as supplier')
      .orderBy('cloth.id');
    return reader
      .all(query)
      .map((row) => [
        row.name,
        row.construction,
        fibres.get(row.id) ?? '',
        centimetres(row.width_ticks),
        centimetres(row.usable_width_ticks),
        row.mass_per_area_mg_m2 === null ? '' : `${row.mass_per_area_mg_m2 / 1000} g/m²`,
        row.finish,
        row.supplier ?? '',
        row.article,
        row.note,
      ]);
  },
);

const SHADES = plain(
  'shades',
  'Shades with their CIELAB values.',
  ['Shade', 'Undyed', 'L*', 'a*', 'b*', 'How', 'Note'],
  (reader) =>
    reader
      .all(reader.db.selectFrom('shade').selectAll().orderBy('id'))
      .map((row) => [
        row.name,
        row.ground === 1 ? 'yes' : 'no',
        text(row.lab_l),
        text(row.lab_a),
        text(row.lab_b),
        row.lab_how ?? '',
        row.note,
      ]),
);

const SUPPLIERS = plain('suppliers', 'Suppliers.', ['Supplier', 'Days to deliver', 'Note'], (reader) =>
  reader
    .all(reader.db.selectFrom('supplier').select(['name', 'lead_days', 'note']).orderBy('id'))
    .map((row) => [row.name, text(row.lead_days), row.note]),
);

const PLACES = plain('places', 'Places.', ['Place'], (reader) =>
  reader.all(reader.db.selectFrom('place').select('name').orderBy('id')).map(({ name }) => [name]),
);

const ORDERS = plain(
  'orders',
  'Order lines.',
  ['Order', 'Supplier', 'Cloth', 'Shade', 'Length', 'Drafted', 'Expected', 'Sent', 'Closed', 'Cancelled'],
  (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('order_line')
          .innerJoin('order', 'order.id', 'order_line.order_id')
          .innerJoin('supplier', 'supplier.id', 'order.supplier_id')
          .innerJoin('cloth', 'cloth.id', 'order_line.cloth_id')
          .innerJoin('shade', 'shade.id', 'order_line.shade_id')
          .select(['order.code', 'supplier.name as supplier', 'cloth.name as cloth', 'shade.name as shade'])
          .select([
            'order_line.length_ticks',
            'drafted_at',
            'expected_on',
            'sent_at',
            'closed_at',
            'cancelled_at',
          ])
          .orderBy('order_line.id'),
      )
      .map((row) => [
        row.code,
        row.supplier,
        row.cloth,
        row.shade,
        metres(row.length_ticks),
        row.drafted_at,
        row.expected_on ?? '',
        row.sent_at ?? '',
        row.closed_at ?? '',
        row.cancelled_at ?? '',
      ]),
);

const GARMENTS = plain('garments', 'Garments.', ['Code', 'Garment', 'Due', 'Finished', 'Note'], (reader) =>
  reader
    .all(reader.db.selectFrom('garment').selectAll().orderBy('id'))
    .map((row) => [row.code, row.name, row.due_on ?? '', row.finished_at ?? '', row.note]),
);

const BATCHES = plain(
  'batches',
  'Dye batches.',
  ['Batch', 'Recipe', 'Version', 'Shade', 'Vessel', 'Planned', 'Wanted', 'Cancelled', 'Note'],
  (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('batch')
          .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
          .innerJoin('shade', 'shade.id', 'recipe.shade_id')
          .innerJoin('vessel', 'vessel.id', 'batch.vessel_id')
          .select([
            'batch.code',
            'recipe.name as recipe',
            'recipe.version',
            'shade.name as shade',
            'vessel.name as vessel',
          ])
          .select(['batch.planned_at', 'batch.due_on', 'batch.cancelled_at', 'batch.note'])
          .orderBy('batch.id'),
      )
      .map((row) => [
        row.code,
        row.recipe,
        text(row.version),
        row.shade,
        row.vessel,
        row.planned_at,
        row.due_on ?? '',
        row.cancelled_at ?? '',
        row.note,
      ]),
);

/** Every list that goes out, in the order of the page. */
export const LISTS_OUT: readonly ListOut[] = [
  PIECES,
  LEDGER,
  CLOTHS,
  SHADES,
  PLACES,
  SUPPLIERS,
  ORDERS,
  GARMENTS,
  BATCHES,
];
