import { METRIC } from '../../../src/quantity/length-show.ts';
import { type SupplyMeasure, unitOfMeasure, writeSupplyAmount } from '../../../src/supply/amount.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { readSupplies } from '../../supplies/store.ts';
import { amount, type ListOut, text } from './cells.ts';

/** An amount exactly, whatever the reader's units: "250 g", "5000 m", "48". */
function exact(of: number, measure: SupplyMeasure): string {
  const written = writeSupplyAmount(of, measure, METRIC);
  return measure === 'length' && /^[\d.]+$/.test(written) ? `${written} m` : written;
}

export const SUPPLIES: ListOut = {
  name: 'supplies',
  what: 'Dyes, chemicals, thread, trims, notions and small tools, and what there is of each.',
  heading: [
    'Name',
    'Kind',
    'Measured in',
    'On hand',
    'Held',
    'Least',
    'Cost',
    'Currency',
    'Place',
    'Supplier',
    'Note',
    'Put away',
  ],
  rows: (reader) => {
    const { currency } = readWorkroom(reader);
    return readSupplies(reader).map((row) => [
      row.name,
      row.kind,
      unitOfMeasure(row.measure, METRIC),
      exact(row.onHand, row.measure),
      exact(row.held, row.measure),
      row.least === null ? '' : exact(row.least, row.measure),
      amount(row.costMinor, currency),
      currency,
      row.place,
      row.supplier,
      row.note,
      row.gone === '' ? 'no' : 'yes',
    ]);
  },
};

export const SUPPLY_LOTS: ListOut = {
  name: 'supply-lots',
  what: 'Supplies received by lot or single length, and what is left.',
  heading: ['Supply', 'Lot', 'Opened', 'Came', 'On hand', 'Held', 'Cost', 'Currency', 'Supplier'],
  rows: (reader) => {
    const { currency } = readWorkroom(reader);
    return reader
      .all(
        reader.db
          .selectFrom('supply_lot')
          .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
          .innerJoin('supply_entry as came', (join) =>
            join.onRef('came.supply_lot_id', '=', 'supply_lot.id').on('came.kind', '=', 'received'),
          )
          .leftJoin('supplier', 'supplier.id', 'supply_lot.supplier_id')
          .selectAll('supply_lot')
          .select('came.amount as came')
          .select(['supply.name', 'supply.measure', 'supplier.name as supplier'])
          .orderBy('supply_lot.id'),
      )
      .map((row) => [
        row.name,
        row.lot,
        text(row.opened_on),
        exact(row.came, row.measure),
        exact(row.on_hand, row.measure),
        exact(row.held, row.measure),
        amount(row.cost_minor, currency),
        currency,
        text(row.supplier),
      ]);
  },
};

export const SUPPLY_OFFERS: ListOut = {
  name: 'supply-offers',
  what: 'What suppliers offer of supplies, by the put-up, with every price that was written down.',
  heading: [
    'Supplier',
    'Supply',
    'Article',
    'From',
    'Ended',
    'Put-up',
    'Holds',
    'From how many',
    'Price',
    'Currency',
  ],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('supply_offer')
          .innerJoin('supply_offer_price', 'supply_offer_price.offer_id', 'supply_offer.id')
          .innerJoin('supplier', 'supplier.id', 'supply_offer.supplier_id')
          .innerJoin('supply', 'supply.id', 'supply_offer.supply_id')
          .select(['supplier.name as supplier', 'supply.name', 'supply.measure', 'article', 'from_on'])
          .select(['withdrawn', 'supply_offer.currency', 'put_up', 'amount', 'from_count', 'price_minor'])
          .orderBy('supply_offer.id')
          .orderBy('amount')
          .orderBy('from_count'),
      )
      .map((row) => [
        row.supplier,
        row.name,
        row.article,
        row.from_on,
        row.withdrawn === 1 ? 'yes' : 'no',
        row.put_up,
        exact(row.amount, row.measure),
        text(row.from_count),
        amount(row.price_minor, row.currency),
        row.currency,
      ]),
};

export const SUPPLY_ORDERS: ListOut = {
  name: 'supply-orders',
  what: 'Every line that was ordered of a supply, and what became of its order.',
  heading: [
    'Order',
    'Supplier',
    'Supply',
    'How many',
    'Put-up',
    'Each holds',
    'Drafted',
    'Expected',
    'Sent',
    'Closed',
    'Cancelled',
  ],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('supply_order_line')
          .innerJoin('order', 'order.id', 'supply_order_line.order_id')
          .innerJoin('supplier', 'supplier.id', 'order.supplier_id')
          .innerJoin('supply', 'supply.id', 'supply_order_line.supply_id')
          .select(['order.code', 'supplier.name as supplier', 'supply.name', 'supply.measure'])
          .select(['put_ups', 'put_up', 'amount', 'drafted_at', 'expected_on', 'sent_at', 'closed_at'])
          .select('cancelled_at')
          .orderBy('supply_order_line.id'),
      )
      .map((row) => [
        row.code,
        row.supplier,
        row.name,
        text(row.put_ups),
        row.put_up,
        exact(row.amount, row.measure),
        row.drafted_at,
        text(row.expected_on),
        text(row.sent_at),
        text(row.closed_at),
        text(row.cancelled_at),
      ]),
};

export const SUPPLIES_DELIVERED: ListOut = {
  name: 'supplies-delivered',
  what: 'Every lot and length of a supply that came, and what it cost by parts. Tax to reclaim is in no cost.',
  heading: [
    'Receipt',
    'Received',
    'Supplier',
    'Supply',
    'Lot',
    'Amount',
    'Cost',
    'Goods alone',
    'Freight',
    'Tax',
    'Tax to reclaim',
    'Currency',
  ],
  rows: (reader) => {
    const { currency } = readWorkroom(reader);
    const rows = reader.all(
      reader.db
        .selectFrom('supply_entry')
        .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
        .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
        .leftJoin('supplier', 'supplier.id', 'supply_lot.supplier_id')
        .leftJoin('supply_received_cost as parts', 'parts.supply_entry_id', 'supply_entry.id')
        .leftJoin('supply_entry as undone', 'undone.reverses_id', 'supply_entry.id')
        .select([
          'supply_entry.at',
          'supply_entry.amount',
          'supply_entry.cost_minor',
          'supply_entry.receipt_id',
        ])
        .select(['supply.name', 'supply.measure', 'supply_lot.lot', 'supplier.name as supplier'])
        .select(['goods_minor', 'freight_minor', 'tax_minor', 'reclaimed_minor'])
        .where('supply_entry.kind', '=', 'received')
        .where('supply_entry.split_of_id', 'is', null)
        .where('undone.id', 'is', null)
        .orderBy('supply_entry.id'),
    );
    // Without parts the cost is told as it stands.
    const part = (minor: number | null) => (minor === null ? '' : amount(minor, currency));
    return rows.map((row) => [
      text(row.receipt_id),
      row.at,
      text(row.supplier),
      row.name,
      row.lot,
      exact(row.amount, row.measure),
      amount(row.cost_minor, currency),
      part(row.goods_minor),
      part(row.freight_minor),
      part(row.tax_minor),
      part(row.reclaimed_minor),
      currency,
    ]);
  },
};
