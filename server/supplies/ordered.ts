import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { readTyped, type Typed } from '../kit/typed.ts';
import type { StockedSupply } from './store.ts';

/** A line of an order that asks for a supply. Amounts are of its measure, money in minor units of the order's currency. */
export interface SupplyOrderLine {
  readonly id: number;
  readonly orderId: number;
  readonly supplyId: number;
  readonly supplyName: string;
  readonly measure: StockedSupply['measure'];
  readonly offerId: number | null;
  /** the supplier's article, '' where the line is of no offer */
  readonly article: string;
  /** so many put-ups are ordered, each of `amount` */
  readonly putUps: number;
  readonly putUp: string;
  readonly amount: number;
  readonly orderedAmount: number;
  /** what came; undone receipts do not count */
  readonly receivedAmount: number;
  /** what is still to come; 0 where as much or more came */
  readonly awaitedAmount: number;
  /** of one put-up */
  readonly priceMinor: number | null;
  readonly costMinor: number | null;
  readonly typed: Typed;
}

const supplyLinesOf = prepared((db, orderIds: Param<readonly number[]>) =>
  db
    .selectFrom('supply_order_line')
    .innerJoin('supply', 'supply.id', 'supply_order_line.supply_id')
    .leftJoin('supply_offer', 'supply_offer.id', 'supply_order_line.offer_id')
    .selectAll('supply_order_line')
    .select(['supply.name', 'supply.measure', 'supply_offer.article'])
    .where('supply_order_line.order_id', 'in', inList(orderIds))
    .orderBy('supply_order_line.id'),
);

/** The lines of some orders that ask for supplies. */
export function readSupplyOrderLines(reader: Reader, orderIds: readonly number[]): SupplyOrderLine[] {
  const rows = orderIds.length === 0 ? [] : reader.all(supplyLinesOf(orderIds));
  if (rows.length === 0) return [];
  const came = new Map(
    reader
      .all(suppliesReceivedOf(rows.map(({ id }) => id)))
      .map(({ lineId, amount }) => [lineId ?? 0, amount]),
  );
  return rows.map((row) => {
    const orderedAmount = row.put_ups * row.amount;
    const receivedAmount = came.get(row.id) ?? 0;
    return {
      id: row.id,
      orderId: row.order_id,
      supplyId: row.supply_id,
      supplyName: row.name,
      measure: row.measure,
      offerId: row.offer_id,
      article: row.article ?? '',
      putUps: row.put_ups,
      putUp: row.put_up,
      amount: row.amount,
      orderedAmount,
      receivedAmount,
      awaitedAmount: Math.max(0, orderedAmount - receivedAmount),
      priceMinor: row.price_minor,
      costMinor: row.price_minor === null ? null : row.price_minor * row.put_ups,
      typed: readTyped(row.typed),
    };
  });
}

const suppliesReceivedOf = prepared((db, lineIds: Param<readonly number[]>) =>
  db
    .selectFrom('supply_entry')
    .leftJoin('supply_entry as undone', 'undone.reverses_id', 'supply_entry.id')
    .select((of) => [
      'supply_entry.order_line_id as lineId',
      of.fn.sum<number>('supply_entry.amount').as('amount'),
    ])
    .where('supply_entry.order_line_id', 'in', inList(lineIds))
    .where('undone.id', 'is', null)
    .groupBy('supply_entry.order_line_id'),
);
