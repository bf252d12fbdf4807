import type { InferResult } from 'kysely';
import type { PutUpPrice } from '../../src/supply/put-ups.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { readTyped, type Typed } from '../kit/typed.ts';
import { unknown } from '../refusal.ts';
import type { StockedSupply } from './store.ts';

/** What a supplier asks for a supply from some day on, by put-ups. */
export interface SupplyOffer {
  readonly id: number;
  readonly supplierId: number;
  readonly supplierName: string;
  readonly supplyId: number;
  readonly supplyName: string;
  readonly measure: StockedSupply['measure'];
  readonly article: string;
  /** the offer's own, else the supplier's; null where neither is known */
  readonly leadDays: number | null;
  readonly fromOn: string;
  readonly currency: string;
  readonly withdrawn: boolean;
  /** the larger put-up first, each from its lowest number on */
  readonly prices: readonly PutUpPrice[];
  readonly typed: Typed;
}

function supplyOffersQuery(db: Reader['db']) {
  return db
    .selectFrom('supply_offer')
    .innerJoin('supplier', 'supplier.id', 'supply_offer.supplier_id')
    .innerJoin('supply', 'supply.id', 'supply_offer.supply_id')
    .selectAll('supply_offer')
    .select(['supplier.name as supplierName', 'supplier.lead_days as supplierDays'])
    .select(['supply.name as supplyName', 'supply.measure'])
    .orderBy('supply_offer.from_on')
    .orderBy('supply_offer.id');
}

type Row = InferResult<ReturnType<typeof supplyOffersQuery>>[number];

const everySupplyOffer = prepared((db) => supplyOffersQuery(db));
const supplyOfferWithId = prepared((db, id: Param<number>) =>
  supplyOffersQuery(db).where('supply_offer.id', '=', id),
);

/** The offers in force on a day, the newest of each supply of a supplier, by supply; those withdrawn are left out. */
export function readSupplyOffers(reader: Reader, today: string): SupplyOffer[] {
  const rows = reader.all(everySupplyOffer()).filter((row) => row.from_on <= today);
  return withPrices(
    reader,
    newest(rows).filter(({ withdrawn }) => withdrawn === 0),
  );
}

/** What a supplier does not offer on a day but did before, or will: the newest of each supply. */
export function readSupplyOffersAside(reader: Reader, today: string, supplierId: number): SupplyOffer[] {
  const offered = new Set(readSupplyOffers(reader, today).map(keyOf));
  const all = withPrices(
    reader,
    newest(reader.all(everySupplyOffer()).filter((row) => row.supplier_id === supplierId)),
  );
  return all.filter((offer) => !offered.has(keyOf(offer)));
}

/** @throws {Refusal} unknown */
export function readSupplyOffer(reader: Reader, id: number): SupplyOffer {
  const [offer] = withPrices(reader, reader.all(supplyOfferWithId(id)));
  if (!offer) throw unknown('such offer of a supply');
  return offer;
}

/** All that a supplier asked for a supply over time, the newest first. */
export function readSupplyOfferHistory(reader: Reader, of: SupplyOffer): SupplyOffer[] {
  const rows = reader
    .all(everySupplyOffer())
    .filter((row) => row.supplier_id === of.supplierId && row.supply_id === of.supplyId);
  return withPrices(reader, rows).reverse();
}

function newest(rows: readonly Row[]): Row[] {
  return [...new Map(rows.map((row) => [`${row.supplier_id} ${row.supply_id}`, row])).values()];
}

function keyOf({ supplierId, supplyId }: SupplyOffer): string {
  return `${supplierId} ${supplyId}`;
}

const supplyPricesOf = prepared((db, ids: Param<readonly number[]>) =>
  db
    .selectFrom('supply_offer_price')
    .selectAll()
    .where('offer_id', 'in', inList(ids))
    .orderBy('amount', 'desc')
    .orderBy('from_count'),
);

function withPrices(reader: Reader, rows: readonly Row[]): SupplyOffer[] {
  if (rows.length === 0) return [];
  const prices = reader.all(supplyPricesOf(rows.map(({ id }) => id)));
  const offers = rows.map((row) => ({
    id: row.id,
    supplierId: row.supplier_id,
    supplierName: row.supplierName,
    supplyId: row.supply_id,
    supplyName: row.supplyName,
    measure: row.measure,
    article: row.article,
    leadDays: row.lead_days ?? row.supplierDays,
    fromOn: row.from_on,
    currency: row.currency,
    withdrawn: row.withdrawn === 1,
    prices: prices
      .filter(({ offer_id: id }) => id === row.id)
      .map((price) => ({
        putUp: price.put_up,
        amount: price.amount,
        fromCount: price.from_count,
        priceMinor: price.price_minor,
      })),
    typed: readTyped(row.typed),
  }));
  return offers.sort((a, b) => a.supplyName.localeCompare(b.supplyName));
}
