import { z } from 'zod';
import type { Charges } from '../../../src/buying/invoice.ts';
import type { PricePerLength } from '../../../src/quantity/money.ts';
import { nextId, type Tx } from '../../database/book.ts';
import { putLotAsked } from './lot-asked.ts';
import { type DraftSupply, putSupplyLines } from './supply-lines.ts';

/** The length and the price of a line as they were typed; a draft made without a form has neither. */
export const LINE_TYPED = z.object({ length: z.string().default(''), price: z.string().default('') });
export type LineTyped = Readonly<z.output<typeof LINE_TYPED>>;

/** A line to be ordered: so many bolts of an offer, or a length off the bolt. */
export interface DraftLine {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lengthTicks: number;
  readonly price: PricePerLength | null;
  /** null: by the length */
  readonly bolts: number | null;
  readonly offerId: number | null;
  /** what is asked of its lot: one whichever, the number of a lot to match, or nothing */
  readonly lot?: 'one' | number | null;
  readonly typed: LineTyped;
}

/** What an order is paid in, and what comes off its lines and on top of them. */
export interface DraftTerms extends Charges {
  readonly currency: string;
  readonly rateMillionths: number;
  readonly freightMinor: number;
  /** whether the tax comes back from the tax office, and so is no cost */
  readonly taxReclaimed: boolean;
}

export interface OrderDraft {
  readonly supplierId: number;
  readonly note: string;
  readonly supplierNumber?: string;
  readonly expectedOn: string | null;
  readonly terms: DraftTerms;
  readonly lines: readonly DraftLine[];
  readonly supplies: readonly DraftSupply[];
}

/** Writes a draft. Gives its code. */
export function putOrder(tx: Tx, draft: OrderDraft): string {
  const code = `P${nextId(tx, 'order')}`;
  const { lastId } = tx.run(
    tx.db.insertInto('order').values({
      code,
      supplier_id: draft.supplierId,
      note: draft.note,
      supplier_number: draft.supplierNumber ?? '',
      drafted_at: tx.at,
      expected_on: draft.expectedOn,
      sent_at: null,
      closed_at: null,
      cancelled_at: null,
    }),
  );
  putInto(tx, lastId, draft);
  return code;
}

/** Puts a changed draft in the place of what it was. */
export function replaceOrder(tx: Tx, orderId: number, draft: OrderDraft): void {
  const { supplierId, note, expectedOn, supplierNumber = '' } = draft;
  tx.run(
    tx.db
      .updateTable('order')
      .set({ supplier_id: supplierId, note, expected_on: expectedOn, supplier_number: supplierNumber })
      .where('id', '=', orderId),
  );
  // Nothing else points at the lines of a draft yet.
  const lines = tx.db.selectFrom('order_line').select('id').where('order_id', '=', orderId);
  tx.run(tx.db.deleteFrom('order_line_offer').where('line_id', 'in', lines));
  tx.run(tx.db.deleteFrom('order_line_lot').where('line_id', 'in', lines));
  tx.run(tx.db.deleteFrom('order_line').where('order_id', '=', orderId));
  tx.run(tx.db.deleteFrom('supply_order_line').where('order_id', '=', orderId));
  tx.run(tx.db.deleteFrom('order_terms').where('order_id', '=', orderId));
  putInto(tx, orderId, draft);
}

function putInto(tx: Tx, orderId: number, { terms, lines, supplies }: OrderDraft): void {
  putSupplyLines(tx, orderId, supplies);
  tx.run(
    tx.db.insertInto('order_terms').values({
      order_id: orderId,
      currency: terms.currency,
      rate_millionths: terms.rateMillionths,
      freight_minor: terms.freightMinor,
      tax_bp: terms.taxBp,
      tax_reclaimed: terms.taxReclaimed ? 1 : 0,
      discount_bp: terms.discountBp,
      cut_fee_minor: terms.cutFeeMinor,
    }),
  );
  for (const line of lines) {
    const { lastId } = tx.run(
      tx.db.insertInto('order_line').values({
        order_id: orderId,
        cloth_id: line.clothId,
        shade_id: line.shadeId,
        length_ticks: line.lengthTicks,
        price_minor: line.price?.minor ?? null,
        price_ticks: line.price?.perTicks ?? null,
        typed: JSON.stringify(LINE_TYPED.parse(line.typed)),
      }),
    );
    putLotAsked(tx, lastId, line.lot ?? null);
    if (line.bolts === null && line.offerId === null) continue;
    tx.run(
      tx.db
        .insertInto('order_line_offer')
        .values({ line_id: lastId, offer_id: line.offerId, bolts: line.bolts }),
    );
  }
}
