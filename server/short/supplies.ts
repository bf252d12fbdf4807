import { showMoney } from '../../src/quantity/money.ts';
import type { SupplyCall, SupplyOnOrder } from '../../src/supply/short.ts';
import type { Reader } from '../database/book.ts';
import { keptUntilWritten } from '../database/kept.ts';
import { readToWeigh } from '../dye-bench/batch/to-weigh.ts';
import { supplierPath } from '../kit/paths.ts';
import { supplyBuyer } from '../orders/offer/supply-choice.ts';
import { readAwaitedSupplies } from '../orders/order/queries.ts';
import { readCalledFor, type SuppliesTold, shapeCall } from '../supplies/called.ts';
import type { SupplyOrderLine } from '../supplies/ordered.ts';
import type { StockedSupply } from '../supplies/store.ts';
import { sayPutUps } from '../supplies/words.ts';
import type { Asker } from '../web/house.ts';

/** What the stock of supplies is told of batches and of orders. */
export const SUPPLIES_TOLD: SuppliesTold = {
  readToWeigh,
  readOnOrder: (reader) => {
    const onOrder = new Map<number, SupplyOnOrder>();
    for (const { line } of readAwaitedSupplies(reader)) {
      const before = onOrder.get(line.supplyId) ?? { amount: 0, lengths: [] };
      onOrder.set(line.supplyId, {
        amount: before.amount + line.awaitedAmount,
        lengths: [...before.lengths, ...awaitedLengths(line)],
      });
    }
    return onOrder;
  },
};

/** The put-ups that are still to come of a line, each of its length; what is left of one that came in part last. */
function awaitedLengths({ awaitedAmount, amount }: SupplyOrderLine): number[] {
  const whole = Array.from({ length: Math.floor(awaitedAmount / amount) }, () => amount);
  const rest = awaitedAmount % amount;
  return rest > 0 ? [...whole, rest] : whole;
}

/** Every supply that is short, for whatever takes it. */
const readAllShort = keptUntilWritten((reader): readonly SupplyCall<StockedSupply>[] =>
  readCalledFor(reader, SUPPLIES_TOLD).calls.filter(({ shortBy }) => shortBy > 0),
);

/** The supplies that batches and garments are short of, those to get first; of one garment those that it wants. */
export function readShortSupplies(
  reader: Reader,
  only: string | null = null,
): readonly SupplyCall<StockedSupply>[] {
  const short = readAllShort(reader);
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
    const { supply, toGet, lengthsToGet } = call;
    const buy = toGet === 0 ? null : buyer(supply.id, toGet, lengthsToGet);
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
