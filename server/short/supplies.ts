import { showMoney } from '../../src/quantity/money.ts';
import type { SupplyCall } from '../../src/supply/short.ts';
import type { Reader } from '../database/book.ts';
import { readToWeigh } from '../dye-bench/batch/to-weigh.ts';
import { supplierPath } from '../kit/paths.ts';
import { supplyBuyer } from '../orders/offer/supply-choice.ts';
import { readAwaitedSupplies } from '../orders/order/queries.ts';
import { readCalledFor, type SuppliesTold, shapeCall } from '../supplies/called.ts';
import type { StockedSupply } from '../supplies/store.ts';
import { sayPutUps } from '../supplies/words.ts';
import type { Asker } from '../web/house.ts';

/** What the stock of supplies is told of batches and of orders. */
export const SUPPLIES_TOLD: SuppliesTold = {
  readToWeigh,
  readOnOrder: (reader) => {
    const onOrder = new Map<number, number>();
    for (const { line } of readAwaitedSupplies(reader))
      onOrder.set(line.supplyId, (onOrder.get(line.supplyId) ?? 0) + line.awaitedAmount);
    return onOrder;
  },
};

/** The supplies that batches and garments are short of, those to get first; of one garment those that it wants. */
export function readShortSupplies(reader: Reader, only: string | null = null): SupplyCall<StockedSupply>[] {
  const short = readCalledFor(reader, SUPPLIES_TOLD).calls.filter(({ shortBy }) => shortBy > 0);
  return only === null ? short : short.filter(({ garments }) => garments.includes(only));
}

/** The supplies to get: beyond what is free and what is on order. */
export function readSuppliesToGet(reader: Reader): SupplyCall<StockedSupply>[] {
  return readShortSupplies(reader).filter(({ toGet }) => toGet > 0);
}

/** What is short of the supplies as Short shows it, with the whole put-ups that are cheapest to buy. */
export function shapeShortSupplies(
  reader: Reader,
  calls: readonly SupplyCall<StockedSupply>[],
  asker: Pick<Asker, 'units' | 'seesPrices'>,
  today: string,
) {
  const buyer = supplyBuyer(reader, today);
  return calls.map((call) => {
    const { supply, toGet } = call;
    const buy = toGet === 0 ? null : buyer(supply.id, toGet);
    return {
      ...shapeCall(call, asker),
      /** null where nothing is to get, or nobody offers it */
      buy: buy && {
        putUps: buy.choice.bought.map((each) => sayPutUps(each.count, each, supply.measure, asker.units)),
        supplier: { name: buy.offer.supplierName, href: supplierPath(buy.offer.supplierId) },
        /** '' for whom prices are not for */
        cost: asker.seesPrices ? showMoney(buy.choice.costMinor, buy.offer.currency) : '',
      },
      isOffered: toGet === 0 || buy !== null,
    };
  });
}
