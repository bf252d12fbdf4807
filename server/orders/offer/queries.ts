import type { InferResult } from 'kysely';
import type { PutUps } from '../../../src/buying/offer.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import type { ShadeColour } from '../../kit/chip.ts';
import type { Typed } from '../../kit/typed.ts';
import { readTyped } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';

/** A cloth of a supplier, in one shade or in any, with its prices from some day on. */
export interface Offer extends PutUps {
  readonly id: number;
  readonly supplierId: number;
  readonly supplierName: string;
  readonly clothId: number;
  readonly clothName: string;
  readonly clothUsableTicks: number;
  /** null: any shade */
  readonly shadeId: number | null;
  readonly shade: ShadeColour | null;
  readonly article: string;
  readonly widthTicks: number | null;
  /** the offer's own, else the supplier's; null where neither is known */
  readonly leadDays: number | null;
  readonly fromOn: string;
  readonly currency: string;
  readonly withdrawn: boolean;
  readonly typed: Typed;
}

function inTime(db: Reader['db']) {
  return offersQuery(db).orderBy('offer.from_on').orderBy('offer.id');
}

function offersUntil(db: Reader['db'], today: Param<string>) {
  return inTime(db).where('offer.from_on', '<=', today);
}

const offersEver = prepared((db, supplierId: Param<number>) =>
  inTime(db).where('offer.supplier_id', '=', supplierId),
);
const allOffers = prepared((db, today: Param<string>) => offersUntil(db, today));
const offersOfSupplier = prepared((db, today: Param<string>, supplierId: Param<number>) =>
  offersUntil(db, today).where('offer.supplier_id', '=', supplierId),
);
const offersOfCloths = prepared((db, today: Param<string>, clothIds: Param<readonly number[]>) =>
  offersUntil(db, today).where('offer.cloth_id', 'in', inList(clothIds)),
);

/** The offers in force on a day, the newest of each cloth and shade of a supplier; those withdrawn are left out. */
export function readOffers(
  reader: Reader,
  today: string,
  of: { readonly supplierId?: number; readonly clothIds?: readonly number[] } = {},
): Offer[] {
  const rows = reader.all(
    of.clothIds
      ? offersOfCloths(today, of.clothIds)
      : of.supplierId === undefined
        ? allOffers(today)
        : offersOfSupplier(today, of.supplierId),
  );
  return withPrices(reader, inForce(rows)).sort(
    (a, b) =>
      a.clothName.localeCompare(b.clothName) ||
      (a.shade?.name ?? '').localeCompare(b.shade?.name ?? '') ||
      a.supplierName.localeCompare(b.supplierName),
  );
}

/** What a supplier does not offer on a day but did before, or will: the newest of each cloth and shade. */
export function readOffersAside(reader: Reader, today: string, supplierId: number): Offer[] {
  const offered = new Set(inForce(reader.all(offersOfSupplier(today, supplierId))).map(keyOf));
  const rows = newest(reader.all(offersEver(supplierId))).filter((row) => !offered.has(keyOf(row)));
  return withPrices(reader, rows).sort((a, b) => a.clothName.localeCompare(b.clothName));
}

function inForce(rows: readonly OfferRow[]): OfferRow[] {
  return newest(rows).filter(({ withdrawn }) => withdrawn === 0);
}

/** The newest offer of each cloth and shade of a supplier; the rows are in the order of their days. */
function newest(rows: readonly OfferRow[]): OfferRow[] {
  return [...new Map(rows.map((row) => [keyOf(row), row])).values()];
}

/** @throws {Refusal} unknown */
export function readOffer(reader: Reader, id: number): Offer {
  const [offer] = withPrices(reader, reader.all(offersQuery(reader.db).where('offer.id', '=', id)));
  if (!offer) throw unknown('such offer');
  return offer;
}

/** All that a supplier asked for this cloth and shade over time, the newest first. */
export function readOfferHistory(reader: Reader, offer: Offer): Offer[] {
  const rows = reader.all(
    offersQuery(reader.db)
      .where('offer.supplier_id', '=', offer.supplierId)
      .where('offer.cloth_id', '=', offer.clothId)
      .where('offer.shade_id', offer.shadeId === null ? 'is' : '=', offer.shadeId)
      .orderBy('offer.from_on', 'desc')
      .orderBy('offer.id', 'desc')
      .limit(50),
  );
  return withPrices(reader, rows);
}

type OfferRow = InferResult<ReturnType<typeof offersQuery>>[number];

function offersQuery(db: Reader['db']) {
  return db
    .selectFrom('offer')
    .innerJoin('supplier', 'supplier.id', 'offer.supplier_id')
    .innerJoin('cloth', 'cloth.id', 'offer.cloth_id')
    .leftJoin('shade', 'shade.id', 'offer.shade_id')
    .selectAll('offer')
    .select([
      'supplier.name as supplierName',
      'supplier.lead_days as supplierDays',
      'cloth.name as clothName',
      'cloth.usable_width_ticks as clothUsableTicks',
      'shade.name as shadeName',
      'shade.lab_l',
      'shade.lab_a',
      'shade.lab_b',
    ]);
}

function keyOf(row: OfferRow): string {
  return `${row.supplier_id} ${row.cloth_id} ${row.shade_id ?? 'any'}`;
}

const pricesOf = prepared((db, ids: Param<readonly number[]>) =>
  db.selectFrom('offer_price').selectAll().where('offer_id', 'in', inList(ids)).orderBy('length_ticks'),
);

function withPrices(reader: Reader, rows: readonly OfferRow[]): Offer[] {
  if (rows.length === 0) return [];
  const ids = rows.map(({ id }) => id);
  const prices = reader.all(pricesOf(ids));
  return rows.map((row) => {
    const own = prices.filter(({ offer_id }) => offer_id === row.id);
    const byLength = own.filter(({ put_up }) => put_up === 'length');
    return {
      id: row.id,
      supplierId: row.supplier_id,
      supplierName: row.supplierName,
      clothId: row.cloth_id,
      clothName: row.clothName,
      clothUsableTicks: row.clothUsableTicks,
      shadeId: row.shade_id,
      shade:
        row.shadeName === null
          ? null
          : { name: row.shadeName, lab_l: row.lab_l, lab_a: row.lab_a, lab_b: row.lab_b },
      article: row.article,
      widthTicks: row.width_ticks,
      leadDays: row.lead_days ?? row.supplierDays,
      fromOn: row.from_on,
      currency: row.currency,
      withdrawn: row.withdrawn === 1,
      typed: readTyped(row.typed),
      bolts: own
        .filter(({ put_up }) => put_up === 'bolt')
        .map((price) => ({ lengthTicks: price.length_ticks, priceMinor: price.price_minor })),
      byLength:
        row.step_ticks === null || row.least_ticks === null || byLength.length === 0
          ? null
          : {
              stepTicks: row.step_ticks,
              leastTicks: row.least_ticks,
              prices: byLength.map((price) => ({
                fromTicks: price.length_ticks,
                price: { minor: price.price_minor, perTicks: price.price_ticks },
              })),
            },
    };
  });
}
