import { sql } from 'kysely';
import type { SupplyLotLeft } from '../../src/supply/taking.ts';
import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { readWhat } from '../kit/auxiliary-choices.ts';
import { grouped } from '../kit/grouped.ts';
import { readTyped } from '../kit/typed.ts';
import { showMoment } from '../kit/when.ts';
import { unknown } from '../refusal.ts';

/** A supply with what there is of it in all its lots; amounts are of its measure, money in minor units. */
export type StockedSupply = ReturnType<typeof shapeSupply>;

const suppliesByName = prepared((db) =>
  db
    .selectFrom('supply')
    .leftJoin('supply_lot', 'supply_lot.supply_id', 'supply.id')
    .leftJoin('place', 'place.id', 'supply.place_id')
    .leftJoin('supplier', 'supplier.id', 'supply.supplier_id')
    .leftJoin('dye', 'dye.id', 'supply.dye_id')
    .selectAll('supply')
    .select((of) => [
      of.fn.coalesce(of.fn.sum<number>('supply_lot.on_hand'), of.val(0)).as('on_hand'),
      of.fn.coalesce(of.fn.sum<number>('supply_lot.held'), of.val(0)).as('held'),
      of.fn.coalesce(of.fn.sum<number>('supply_lot.cost_minor'), of.val(0)).as('cost_minor'),
      of.fn.count<number>('supply_lot.id').as('lots'),
    ])
    .select(['place.name as place', 'supplier.name as supplier', 'dye.name as dye'])
    .groupBy('supply.id')
    .orderBy('supply.name'),
);

/** All supplies by name, those put away too. */
export function readSupplies(reader: Reader): StockedSupply[] {
  const lengths = readFreeLengths(reader);
  return readRows(reader).map((row) => shapeSupply(row, lengths));
}

function readRows(reader: Reader) {
  return reader.all(suppliesByName());
}

type Row = ReturnType<typeof readRows>[number];

function shapeSupply(row: Row, lengths: ReadonlyMap<number, readonly number[]>) {
  return {
    id: row.id,
    name: row.name,
    kind: row.kind,
    measure: row.measure,
    note: row.note,
    /** what is to be kept; null where nobody has said it */
    least: row.least,
    placeId: row.place_id,
    place: row.place ?? '',
    supplierId: row.supplier_id,
    supplier: row.supplier ?? '',
    dyeId: row.dye_id,
    /** the name of the dye of the list that it is; '' where it is none */
    dye: row.dye ?? '',
    /** the chemical that it is in recipes; null where it is none */
    auxiliary: readChemical(row),
    typed: readTyped(row.typed),
    onHand: row.on_hand,
    /** promised to garments */
    held: row.held,
    free: row.on_hand - row.held,
    /** what is free of each of its lengths; null where it is not kept by single lengths */
    freeLengths: isInLengths(row) ? (lengths.get(row.id) ?? []) : null,
    costMinor: row.cost_minor,
    lots: row.lots,
    /** when it was put away, '' while it is kept */
    gone: row.gone_at === null ? '' : showMoment(row.gone_at),
  };
}

function readChemical({ auxiliary_kind: kind, auxiliary_form: form }: Row) {
  const read = readWhat(`${kind}/${form}`);
  return read.ok ? read.value : null;
}

/** A supply by its number. @throws {Refusal} unknown */
export function readSupply(reader: Reader, id: number): StockedSupply {
  const supply = readSupplies(reader).find((each) => each.id === id);
  if (!supply) throw unknown('such supply');
  return supply;
}

/** Whether less of it is there than is to be kept. */
export function isLow({ onHand, least }: Pick<StockedSupply, 'onHand' | 'least'>): boolean {
  return least !== null && onHand < least;
}

const lotsOfSupply = prepared((db, supplyId: Param<number>) =>
  db
    .selectFrom('supply_lot')
    .innerJoin('supply_entry', (join) =>
      join.onRef('supply_entry.supply_lot_id', '=', 'supply_lot.id').on('supply_entry.kind', '=', 'received'),
    )
    .leftJoin('supplier', 'supplier.id', 'supply_lot.supplier_id')
    .selectAll('supply_lot')
    .select(['supplier.name as supplier', 'supply_entry.at as received_at'])
    .select('supply_entry.amount as came')
    .where('supply_id', '=', supplyId)
    .orderBy('supply_lot.id'),
);

/** One lot of a supply as the book has it. */
export type SupplyLot = SupplyLotLeft & {
  /** promised to garments */
  readonly held: number;
  readonly supplierId: number | null;
  readonly supplier: string;
  readonly receivedAt: string;
  /** so much it held when it came */
  readonly came: number;
  /** whether it was opened, or some of it is gone */
  readonly begun: boolean;
};

/** What is free of a lot: on hand less held. */
export function freeOf({ onHand, held }: Pick<SupplyLot, 'onHand' | 'held'>): number {
  return onHand - held;
}

/** What came of a supply, lot by lot, the used up ones too. */
export function readSupplyLots(reader: Reader, supplyId: number): SupplyLot[] {
  return reader.all(lotsOfSupply(supplyId)).map((row) => ({
    id: row.id,
    lot: row.lot,
    openedOn: row.opened_on,
    onHand: row.on_hand,
    held: row.held,
    costMinor: row.cost_minor,
    supplierId: row.supplier_id,
    supplier: row.supplier ?? '',
    receivedAt: row.received_at,
    came: row.came,
    begun: row.opened_on !== null || row.on_hand < row.came,
  }));
}

/** Whether each lot of it is one length: what is cut off it is cut in one, unless it may be joined. Thread is wound off. */
export function isInLengths({ measure, kind }: Pick<Row, 'measure' | 'kind'>): boolean {
  return measure === 'length' && kind !== 'thread';
}

const freeLengths = prepared((db) =>
  db
    .selectFrom('supply_lot')
    .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
    .select(['supply_id as supplyId', sql<number>`on_hand - held`.as('ticks')])
    .where('supply.measure', '=', 'length')
    .where(sql<number>`on_hand - held`, '>', 0)
    .orderBy('supply_lot.id'),
);

/** What is free of each length of the supplies that are kept by length, by supply, in ticks. */
function readFreeLengths(reader: Reader): ReadonlyMap<number, readonly number[]> {
  const lengths = grouped(reader.all(freeLengths()), ({ supplyId }) => supplyId);
  return new Map([...lengths].map(([id, rows]) => [id, rows.map(({ ticks }) => ticks)]));
}

const entriesOfSupply = prepared((db, supplyId: Param<number>, most: Param<number>) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
    .innerJoin('person', 'person.id', 'supply_entry.person_id')
    .leftJoin('garment', 'garment.id', 'supply_entry.garment_id')
    .leftJoin('batch_log', 'batch_log.id', 'supply_entry.batch_log_id')
    .leftJoin('batch', 'batch.id', 'batch_log.batch_id')
    .leftJoin('supply_entry as undone', 'undone.reverses_id', 'supply_entry.id')
    .selectAll('supply_entry')
    .select(['supply_lot.lot', 'person.name as person', 'garment.code as garment', 'batch.code as batch'])
    .leftJoin('person as undoer', 'undoer.id', 'undone.person_id')
    .select(['undoer.name as undone_by', 'undone.at as undone_at'])
    .where('supply_lot.supply_id', '=', supplyId)
    .orderBy('supply_entry.id', 'desc')
    .limit(most),
);

/** The last entries of a supply, the newest first. */
export function readSupplyEntries(reader: Reader, supplyId: number, most: number) {
  return reader.all(entriesOfSupply(supplyId, most));
}
