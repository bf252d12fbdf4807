import { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { optionalText } from '../../kit/fields.ts';
import { type Order, readOrder, refuseUnless } from './queries.ts';

/** Marks a draft as sent: the workroom sends it in its own way, and Short counts on it from now on. */
export function sendOrder(tx: Tx, code: string): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['draft']);
  setTimes(tx, order, { sent_at: tx.at });
  return { location: `/orders/${code}`, said: `Order ${code} to ${order.supplierName} is marked as sent.` };
}

/** The rest is not awaited any more: what came stays. */
export function closeOrder(tx: Tx, code: string): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['sent', 'part', 'received']);
  setTimes(tx, order, { closed_at: tx.at });
  return { location: `/orders/${code}`, said: `Order ${code} is closed; nothing more is awaited.` };
}

/** Only what nobody has delivered on can be cancelled. */
export function cancelOrder(tx: Tx, code: string): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['draft', 'sent']);
  setTimes(tx, order, { cancelled_at: tx.at });
  return {
    location: `/orders/${code}`,
    said: `Order ${code} is cancelled: add the swatch to another batch. It can be taken up again.`,
  };
}

/** Takes a closed or cancelled order up again, as it was. */
export function reopenOrder(tx: Tx, code: string): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['closed', 'cancelled']);
  setTimes(tx, order, { closed_at: null, cancelled_at: null });
  return { location: `/orders/${code}`, said: `Order ${code} is taken up again.` };
}

/** The number that the supplier gave an order, by which it is found too. */
export const NUMBER_FIELDS = {
  supplier_number: optionalText({ max: 60, label: 'Supplier’s number of the order', size: 'mid' }),
};
export const NUMBER_FORM = z.strictObject(NUMBER_FIELDS);

export function setSupplierNumber(tx: Tx, code: string, form: z.output<typeof NUMBER_FORM>): Answer {
  const order = readOrder(tx, code);
  tx.run(
    tx.db.updateTable('order').set({ supplier_number: form.supplier_number }).where('id', '=', order.id),
  );
  const said =
    form.supplier_number === ''
      ? `Order ${code} has no number of the supplier now.`
      : `Order ${code} is ${form.supplier_number} at ${order.supplierName}.`;
  return { location: `/orders/${code}`, said };
}

type Times = Partial<Record<'sent_at' | 'closed_at' | 'cancelled_at', string | null>>;

function setTimes(tx: Tx, order: Order, times: Times): void {
  tx.run(tx.db.updateTable('order').set(times).where('id', '=', order.id));
}
