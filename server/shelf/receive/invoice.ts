import { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { optionalText } from '../../kit/fields.ts';
import { receiptPath } from '../../kit/paths.ts';
import { unknown } from '../../refusal.ts';

/** The number of the supplier's invoice for a delivery, by which it is found too. */
export const INVOICE_FIELDS = {
  invoice_number: optionalText({ max: 60, label: 'Number of the invoice', size: 'mid' }),
};
export const INVOICE_FORM = z.strictObject(INVOICE_FIELDS);

export function setInvoiceNumber(tx: Tx, receiptId: number, form: z.output<typeof INVOICE_FORM>): Answer {
  const { changes } = tx.run(
    tx.db.updateTable('receipt').set({ invoice_number: form.invoice_number }).where('id', '=', receiptId),
  );
  if (changes === 0) throw unknown(`receipt ${receiptId}`);
  const said =
    form.invoice_number === ''
      ? 'The delivery has no invoice number now.'
      : `The invoice is ${form.invoice_number}.`;
  return { location: receiptPath(receiptId), said };
}
