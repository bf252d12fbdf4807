import { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { optionalText, optionalWhole, textField } from '../../kit/fields.ts';
import type { Drawn } from '../../kit/form-drawing.ts';
import { supplierPath } from '../../kit/paths.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import { unknown } from '../../refusal.ts';

export const SUPPLIER_FIELDS = {
  name: textField({ max: 120, what: 'The name', label: 'Name' }),
  lead_days: optionalWhole({ min: 0, max: 730, label: 'Delivers in', unit: 'days' }),
  note: optionalText({ max: 2000, lines: true, label: 'Note', rows: 3 }),
};

export const SUPPLIER_FORM = z.strictObject(SUPPLIER_FIELDS);

/** What views/orders/supplier/form draws. */
export type DrawnSupplier = Drawn<typeof SUPPLIER_FIELDS>;

type SupplierForm = z.output<typeof SUPPLIER_FORM>;

export function addSupplier(tx: Tx, form: SupplierForm): Answer {
  refuseSameName(tx, { table: 'supplier', name: form.name, id: null, hrefOf: supplierPath });
  tx.run(tx.db.insertInto('supplier').values(asRow(form)));
  return { location: '/orders/suppliers', said: `${form.name} is on the list of suppliers.` };
}

export function changeSupplier(tx: Tx, id: number, form: SupplierForm): Answer {
  refuseSameName(tx, { table: 'supplier', name: form.name, id, hrefOf: supplierPath });
  const { changes } = tx.run(tx.db.updateTable('supplier').set(asRow(form)).where('id', '=', id));
  if (changes === 0) throw unknown('such supplier');
  return { location: '/orders/suppliers', said: `${form.name} is changed.` };
}

function asRow(form: SupplierForm) {
  return { name: form.name, lead_days: form.lead_days?.value ?? null, note: form.note };
}
