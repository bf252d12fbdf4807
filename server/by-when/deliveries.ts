import { bufferDays } from '../../src/by-when/late-record.ts';
import type { DayWait } from '../../src/by-when/waits.ts';
import { dayNumber } from '../../src/by-when/work-days.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { grouped } from '../kit/grouped.ts';
import { dayOf } from '../kit/when.ts';
import { inForce } from '../ledger/standing.ts';
import { readOffers } from '../orders/offer/queries.ts';
import { readSupplyOffers } from '../supplies/offered.ts';
import type { StockedSupply } from '../supplies/store.ts';

/** Deliveries of a supplier that are looked at: older ones tell of another time. */
const MOST_DELIVERIES = 20;

const delivered = prepared((db, supplierIds: Param<readonly number[]>) =>
  db
    .selectFrom('order')
    .innerJoin('order_line', 'order_line.order_id', 'order.id')
    .innerJoin('entry', 'entry.order_line_id', 'order_line.id')
    .select((of) => [
      'order.supplier_id as supplierId',
      'order.code',
      'order.expected_on as expectedOn',
      of.fn.max('entry.at').as('at'),
    ])
    .where('order.supplier_id', 'in', inList(supplierIds))
    .where('order.expected_on', 'is not', null)
    .where('entry.kind', '=', 'received')
    .where(inForce('entry'))
    .groupBy('order.id')
    .orderBy('order.id', 'desc'),
);

/** How late a supplier was: days of each delivery, the newest first, and the days that are kept for it. */
export interface LateRecord {
  readonly lateDays: readonly number[];
  /** null without a delivery that had a day */
  readonly bufferDays: number | null;
}

/** The record of suppliers of being late: an order counts by the last of its deliveries. */
export function readLateRecords(reader: Reader, supplierIds: readonly number[]): Map<number, LateRecord> {
  if (supplierIds.length === 0) return new Map();
  const rows = reader.all(delivered([...new Set(supplierIds)]));
  return new Map(
    [...grouped(rows, ({ supplierId }) => supplierId)].map(([supplierId, own]) => {
      const lateDays = own
        .slice(0, MOST_DELIVERIES)
        .map(({ at, expectedOn }) => Math.max(0, dayNumber(dayOf(at)) - dayNumber(expectedOn ?? '')));
      return [supplierId, { lateDays, bufferDays: bufferDays(lateDays) }];
    }),
  );
}

/** How a cloth and shade, or a supply, is delivered: by whom, in how many days, and with how many to spare. */
export interface ClothDelivery {
  readonly supplierId: number;
  readonly supplier: string;
  readonly leadDays: number;
  readonly bufferDays: number;
  /** of how many deliveries the days to spare are; 0 where they are the workroom's own */
  readonly deliveries: number;
}

const clothSuppliers = prepared((db, clothIds: Param<readonly number[]>) =>
  db
    .selectFrom('cloth')
    .innerJoin('supplier', 'supplier.id', 'cloth.supplier_id')
    .select([
      'cloth.id as clothId',
      'supplier.id as supplierId',
      'supplier.name',
      'supplier.lead_days as leadDays',
    ])
    .where('cloth.id', 'in', inList(clothIds)),
);

interface DeliveryRules {
  readonly today: string;
  readonly spareDays: number;
  /** days that a supplier is later, for a look at what would move */
  readonly laterBy: (supplierId: number) => number;
}

/** How a supplier delivers, with its days to spare; none where nobody has said in how many days. */
function deliveriesBy(records: ReadonlyMap<number, LateRecord>, { spareDays, laterBy }: DeliveryRules) {
  return (supplierId: number, supplier: string, leadDays: number | null): ClothDelivery[] => {
    const record = records.get(supplierId);
    if (leadDays === null) return [];
    return [
      {
        supplierId,
        supplier,
        leadDays: leadDays + laterBy(supplierId),
        bufferDays: record?.bufferDays ?? spareDays,
        deliveries: record?.lateDays.length ?? 0,
      },
    ];
  };
}

interface ClothWanted {
  readonly clothId: number;
  readonly shadeId: number;
}

/** How each cloth and shade comes soonest with its days to spare: by an offer in force, else from the cloth's own supplier. */
export function readDeliveries(
  reader: Reader,
  wanted: readonly ClothWanted[],
  rules: DeliveryRules,
): (of: ClothWanted) => ClothDelivery | null {
  const clothIds = [...new Set(wanted.map(({ clothId }) => clothId))];
  if (clothIds.length === 0) return () => null;
  const offers = readOffers(reader, rules.today, { clothIds });
  const own = reader.all(clothSuppliers(clothIds));
  const records = readLateRecords(reader, [
    ...offers.map(({ supplierId }) => supplierId),
    ...own.map(({ supplierId }) => supplierId),
  ]);
  const deliveryOf = deliveriesBy(records, rules);
  return ({ clothId, shadeId }) => {
    const offered = offers
      .filter((offer) => offer.clothId === clothId && (offer.shadeId === null || offer.shadeId === shadeId))
      .flatMap((offer) => deliveryOf(offer.supplierId, offer.supplierName, offer.leadDays));
    const found =
      offered.length > 0
        ? offered
        : own
            .filter((row) => row.clothId === clothId)
            .flatMap((row) => deliveryOf(row.supplierId, row.name, row.leadDays));
    return found.sort((a, b) => totalDays(a) - totalDays(b))[0] ?? null;
  };
}

const supplierDays = prepared((db, supplierIds: Param<readonly number[]>) =>
  db
    .selectFrom('supplier')
    .select(['id', 'name', 'lead_days as leadDays'])
    .where('id', 'in', inList(supplierIds)),
);

/** How each of some supplies comes soonest: by an offer in force, else from its own supplier. */
export function readSupplyDeliveries(
  reader: Reader,
  supplies: readonly Pick<StockedSupply, 'id' | 'supplierId'>[],
  rules: DeliveryRules,
): (supply: Pick<StockedSupply, 'id' | 'supplierId'>) => ClothDelivery | null {
  if (supplies.length === 0) return () => null;
  const ids = new Set(supplies.map(({ id }) => id));
  const offers = readSupplyOffers(reader, rules.today).filter(({ supplyId }) => ids.has(supplyId));
  const own = supplies.flatMap(({ supplierId }) => supplierId ?? []);
  const suppliers = own.length === 0 ? [] : reader.all(supplierDays([...new Set(own)]));
  const records = readLateRecords(reader, [...offers.map(({ supplierId }) => supplierId), ...own]);
  const deliveryOf = deliveriesBy(records, rules);
  return (supply) => {
    const offered = offers
      .filter(({ supplyId }) => supplyId === supply.id)
      .flatMap((offer) => deliveryOf(offer.supplierId, offer.supplierName, offer.leadDays));
    const usual = suppliers
      .filter(({ id }) => id === supply.supplierId)
      .flatMap(({ id, name, leadDays }) => deliveryOf(id, name, leadDays));
    const found = offered.length > 0 ? offered : usual;
    return found.sort((a, b) => totalDays(a) - totalDays(b))[0] ?? null;
  };
}

export function totalDays({ leadDays, bufferDays: buffer }: ClothDelivery): number {
  return leadDays + buffer;
}

/** What passes from the order until the cloth can be used. */
export function waitsOf(delivery: ClothDelivery, receivingDays: number): DayWait[] {
  return [
    { days: totalDays(delivery), of: 'calendar' },
    { days: receivingDays, of: 'open' },
  ];
}
