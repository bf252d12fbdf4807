import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { count } from '../../shelf/piece/list.ts';
import type { Page } from '../../web/page-frame.ts';
import { SUPPLIER_FIELDS } from './form.ts';

export function suppliersPage(reader: Reader, typed: Typed = {}) {
  const rows = reader.all(
    reader.db
      .selectFrom('supplier')
      .leftJoin('order', 'order.supplier_id', 'supplier.id')
      .selectAll('supplier')
      .select((supplier) => supplier.fn.count<number>('order.id').as('orders'))
      .groupBy('supplier.id')
      .orderBy('supplier.name'),
  );
  const data = {
    requestKey: mintKey(),
    suppliers: rows.map((row) => ({
      id: row.id,
      name: row.name,
      leadDays: row.lead_days === null ? '' : count(row.lead_days, 'day'),
      note: row.note,
      orders: row.orders,
    })),
    fields: drawFields(SUPPLIER_FIELDS, typed),
  };
  return { view: 'orders/supplier/suppliers', data, title: 'Suppliers', room: 'orders' } satisfies Page;
}
