import type { Basket, Mix, SupplierSum } from '../../../src/buying/basket/job.ts';
import { dayAfter } from '../../kit/when.ts';
import {
  type BasketCase,
  type BasketSeller,
  boughtFrom,
  clothAndSupplies,
  type SupplyInBasket,
} from './job.ts';

/** What is bought of one supplier: cloth and supplies in one order, and what it comes to. */
export interface Shop {
  readonly seller: BasketSeller;
  /** of cloth */
  readonly mixes: readonly Mix[];
  readonly supplies: readonly SupplyInBasket[];
  readonly sum: SupplierSum;
}

/** A basket by suppliers. Discount, freight and tax are of cloth and supplies together. */
export function shopsOf(basket: BasketCase, bought: Basket): Shop[] {
  return bought.sums.map((sum) => {
    const { seller, mixes } = boughtFrom(basket, bought, sum);
    const { cloth, supplies } = clothAndSupplies(basket, mixes);
    return { seller, mixes: cloth, supplies, sum };
  });
}

/** The day by which all that is bought of a supplier would be here; null where it is not known of something. */
export function expectedOn(
  basket: BasketCase,
  { mixes, supplies }: Omit<Shop, 'sum' | 'seller'>,
  today: string,
) {
  const days = [
    ...mixes.map(({ offer }) => basket.offers[offer]?.leadDays ?? null),
    ...supplies.map(({ offer }) => offer.leadDays),
  ];
  return days.includes(null) ? null : dayAfter(today, Math.max(0, ...days.map((count) => count ?? 0)));
}
