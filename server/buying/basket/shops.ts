import {
  type Basket,
  goodsOf,
  type Mix,
  type SupplierSum,
  supplierSum,
} from '../../../src/buying/basket/job.ts';
import { dayAfter } from '../../kit/when.ts';
import {
  type BasketCase,
  type BasketSeller,
  boughtFrom,
  boughtOf,
  countedTerms,
  type SupplyInBasket,
} from './job.ts';

/** What is bought of one supplier: cloth and supplies in one order, and what it comes to. */
export interface Shop {
  readonly seller: BasketSeller;
  readonly mixes: readonly Mix[];
  readonly supplies: readonly SupplyInBasket[];
  readonly sum: SupplierSum;
}

/** A basket with its supplies by suppliers, those of cloth first. Discount, freight and tax are of cloth and supplies together. */
export function shopsOf(basket: BasketCase, bought: Basket): Shop[] {
  const shops = bought.sums.map((sum) => {
    const { seller, mixes } = boughtFrom(basket, bought, sum);
    return { seller, mixes };
  });
  const known = new Set(shops.map(({ seller }) => seller.id));
  const further = new Map(
    basket.supplies
      .map(({ buy: { offer, terms } }) => ({ id: offer.supplierId, name: offer.supplierName, terms }))
      .filter(({ id }) => !known.has(id))
      .map((seller) => [seller.id, { seller, mixes: [] }]),
  );
  return [...shops, ...further.values()].map((shop) => {
    const supplies = basket.supplies.filter(({ buy }) => buy.offer.supplierId === shop.seller.id);
    return { ...shop, supplies, sum: sumOf(basket, { ...shop, supplies }) };
  });
}

export function totalOf(shops: readonly Shop[]): number {
  return shops.reduce((total, { sum }) => total + sum.home.totalMinor, 0);
}

function sumOf(basket: BasketCase, { seller, mixes, supplies }: Omit<Shop, 'sum'>): SupplierSum {
  const cloth = mixes.reduce((minor, mix) => minor + goodsOf(boughtOf(basket, mix).offer, mix), 0);
  const listMinor = supplies.reduce((minor, { buy }) => minor + buy.choice.costMinor, cloth);
  const cuts = mixes.filter(({ cutTicks }) => cutTicks > 0).length;
  const job = {
    needs: [],
    offers: [],
    suppliers: [countedTerms(seller.terms)],
    currency: basket.job.currency,
  };
  return supplierSum(job, 0, { listMinor, cuts });
}

/** The day by which all that is bought of a supplier would be here; null where it is not known of something. */
export function expectedOn(
  basket: BasketCase,
  { mixes, supplies }: Omit<Shop, 'sum' | 'seller'>,
  today: string,
) {
  const days = [
    ...mixes.map(({ offer }) => basket.offers[offer]?.leadDays ?? null),
    ...supplies.map(({ buy }) => buy.offer.leadDays),
  ];
  return days.includes(null) ? null : dayAfter(today, Math.max(0, ...days.map((count) => count ?? 0)));
}
