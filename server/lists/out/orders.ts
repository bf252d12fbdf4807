import { readWorkroom } from '../../kit/workroom.ts';
import { inForce } from '../../ledger/standing.ts';
import { AT_ONCE, amount, type ListOut, metres, paged, text } from './cells.ts';

export const SUPPLIERS: ListOut = {
  name: 'suppliers',
  what: 'Who sells to the workroom, and how long they take.',
  heading: ['Supplier', 'Days to deliver', 'Note'],
  rows: (reader) =>
    reader
      .all(reader.db.selectFrom('supplier').select(['name', 'lead_days', 'note']).orderBy('id'))
      .map((row) => [row.name, text(row.lead_days), row.note]),
};

export const OFFERS: ListOut = {
  name: 'offers',
  what: 'What suppliers offer, with every price that was written down.',
  heading: [
    'Supplier',
    'Cloth',
    'Shade',
    'Article',
    'From',
    'Ended',
    'Put up',
    'Length',
    'Price',
    'For',
    'Currency',
  ],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('offer')
          .innerJoin('offer_price', 'offer_price.offer_id', 'offer.id')
          .innerJoin('supplier', 'supplier.id', 'offer.supplier_id')
          .innerJoin('cloth', 'cloth.id', 'offer.cloth_id')
          .leftJoin('shade', 'shade.id', 'offer.shade_id')
          .select(['supplier.name as supplier', 'cloth.name as cloth', 'shade.name as shade'])
          .select(['offer.article', 'offer.from_on', 'offer.withdrawn', 'offer.currency', 'put_up'])
          .select(['length_ticks', 'price_minor', 'price_ticks'])
          .orderBy('offer.id')
          .orderBy('put_up')
          .orderBy('length_ticks'),
      )
      .map((row) => [
        row.supplier,
        row.cloth,
        row.shade ?? 'any',
        row.article,
        row.from_on,
        row.withdrawn === 1 ? 'yes' : 'no',
        row.put_up,
        metres(row.length_ticks),
        amount(row.price_minor, row.currency),
        metres(row.price_ticks),
        row.currency,
      ]),
};

export const ORDERS: ListOut = {
  name: 'orders',
  what: 'Every line that was ordered, and what became of its order.',
  heading: [
    'Order',
    'Supplier',
    'Cloth',
    'Shade',
    'Length',
    'Lot asked',
    'Lot to match',
    'Came as asked',
    'Their number',
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
          .selectFrom('order_line')
          .innerJoin('order', 'order.id', 'order_line.order_id')
          .innerJoin('supplier', 'supplier.id', 'order.supplier_id')
          .innerJoin('cloth', 'cloth.id', 'order_line.cloth_id')
          .innerJoin('shade', 'shade.id', 'order_line.shade_id')
          .leftJoin('order_line_lot', 'order_line_lot.line_id', 'order_line.id')
          .leftJoin('lot', 'lot.id', 'order_line_lot.lot_id')
          .select(['order.code', 'supplier.name as supplier', 'cloth.name as cloth', 'shade.name as shade'])
          .select(['order_line.length_ticks', 'drafted_at', 'expected_on', 'sent_at', 'closed_at'])
          .select([
            'cancelled_at',
            'order.supplier_number',
            'order_line_lot.line_id as one',
            'lot.code as lot',
          ])
          // The least of what deliveries said: one that was not as asked counts.
          .select((of) =>
            of
              .selectFrom('lot_answer')
              .select(({ fn }) => fn.min('met').as('met'))
              .whereRef('lot_answer.line_id', '=', 'order_line.id')
              .as('met'),
          )
          .orderBy('order_line.id'),
      )
      .map((row) => [
        row.code,
        row.supplier,
        row.cloth,
        row.shade,
        metres(row.length_ticks),
        row.one === null ? '' : 'one',
        row.lot ?? '',
        row.met === null ? '' : row.met === 1 ? 'yes' : 'no',
        row.supplier_number,
        row.drafted_at,
        row.expected_on ?? '',
        row.sent_at ?? '',
        row.closed_at ?? '',
        row.cancelled_at ?? '',
      ]),
};

export const DELIVERED: ListOut = {
  name: 'delivered',
  what: 'Every piece that came, and what it cost by parts. Tax to reclaim is in no cost.',
  heading: [
    'Receipt',
    'Received',
    'Supplier',
    'Order',
    'Invoice',
    'Piece',
    'Cloth',
    'Shade',
    'Length',
    'Cost',
    'Cloth alone',
    'Cut fees',
    'Freight',
    'Tax',
    'Tax to reclaim',
    'Freight shared by',
    'Currency',
  ],
  *rows(reader) {
    const { currency } = readWorkroom(reader);
    const query = reader.db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .leftJoin('received_cost', 'received_cost.entry_id', 'entry.id')
      .leftJoin('receipt', 'receipt.id', 'entry.receipt_id')
      .leftJoin('supplier', 'supplier.id', 'receipt.supplier_id')
      .leftJoin('order', 'order.id', 'receipt.order_id')
      .select(['entry.id', 'entry.at', 'entry.length_ticks', 'entry.cost_minor', 'entry.receipt_id'])
      .select(['piece.code', 'cloth.name as cloth', 'shade.name as shade', 'supplier.name as supplier'])
      .select(['order.code as order', 'cloth_minor', 'cut_fees_minor', 'freight_minor', 'tax_minor'])
      .select(['reclaimed_minor', 'share_by', 'receipt.invoice_number as invoice'])
      .where('entry.kind', '=', 'received')
      .where(inForce('entry'))
      .orderBy('entry.id')
      .limit(AT_ONCE);
    for (const row of paged((after) => reader.all(query.where('entry.id', '>', after))))
      yield [
        text(row.receipt_id),
        row.at,
        row.supplier ?? '',
        row.order ?? '',
        row.invoice ?? '',
        row.code,
        row.cloth,
        row.shade,
        metres(row.length_ticks),
        amount(row.cost_minor, currency),
        amount(row.cloth_minor, currency),
        amount(row.cut_fees_minor, currency),
        amount(row.freight_minor, currency),
        amount(row.tax_minor, currency),
        amount(row.reclaimed_minor, currency),
        row.share_by ?? '',
        currency,
      ];
  },
};
