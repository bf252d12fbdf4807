import { z } from 'zod';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { optionalText, optionalWhole, textField } from '../../kit/fields.ts';
import { supplierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import type { Typed } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';
import { count } from '../../shelf/piece/list.ts';
import type { Page } from '../../web/page-frame.ts';

export const SUPPLIER_FORM = z.strictObject({
  name: textField({ max: 120, label: 'The name' }),
  lead_days: optionalWhole({ min: 0, max: 730 }),
  note: optionalText({ max: 2000, lines: true }),
});

type SupplierForm = z.output<typeof SUPPLIER_FORM>;

export interface SuppliersData {
  readonly requestKey: string;
  readonly suppliers: readonly {
    readonly id: number;
    readonly name: string;
    readonly leadDays: string;
    readonly note: string;
    readonly orders: number;
  }[];
  readonly typed: { readonly name: string; readonly lead_days: string; readonly note: string };
}

export function suppliersPage(reader: Reader, typed: Typed = {}): Page {
  const rows = reader.all(
    reader.db
      .selectFrom('supplier')
      .leftJoin('order', 'order.supplier_id', 'supplier.id')
      .selectAll('supplier')
      .select((supplier) => supplier.fn.count<number>('order.id').as('orders'))
      .groupBy('supplier.id')
      .orderBy('supplier.name'),
  );
  const data: SuppliersData = {
    requestKey: mintKey(),
    suppliers: rows.map((row) => ({
      id: row.id,
      name: row.name,
      leadDays: row.lead_days === null ? '' : count(row.lead_days, 'day'),
      note: row.note,
      orders: row.orders,
    })),
    typed: { name: typed.name ?? '', lead_days: typed.lead_days ?? '', note: typed.note ?? '' },
  };
  return { view: 'orders/supplier/suppliers', data, title: 'Suppliers', room: 'orders' };
}

export function addSupplier(tx: Tx, form: SupplierForm): Answer {
  refuseSameName(tx, { table: 'supplier', name: form.name, id: null, hrefOf: supplierPath });
  tx.run(tx.db.insertInto('supplier').values(asRow(form)));
  return { location: '/orders/suppliers', said: `${form.name} is on the list of suppliers.` };
}

export function changeSupplier(tx: Tx, id: number, form: SupplierForm): Answer {
  refuseSameName(tx, { table: 'supplier', name: form.name, id: id, hrefOf: supplierPath });
  const { changes } = tx.run(tx.db.updateTable('supplier').set(asRow(form)).where('id', '=', id));
  if (changes === 0) throw unknown('such supplier');
  return { location: '/orders/suppliers', said: `${form.name} is changed.` };
}

function asRow(form: SupplierForm) {
  return { name: form.name, lead_days: form.lead_days?.value ?? null, note: form.note };
}
