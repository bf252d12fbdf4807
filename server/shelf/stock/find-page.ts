import { sql } from 'kysely';
import type { Reader } from '../../database/book.ts';
import { batchPath, garmentPath, lotPath, orderPath, piecePath, receiptPath } from '../../kit/paths.ts';
import type { Page } from '../../web/page-frame.ts';
import { findPiece } from '../piece/facts.ts';

const COLUMNS = ['lot', 'batch', 'order', 'garment'] as const;
const PATH = { lot: lotPath, batch: batchPath, order: orderPath, garment: garmentPath };

/**
 * The page of the piece, else of the lot, batch, order or garment with a code, else of the order or the delivery with this
 * number of the supplier's, whatever the case of its letters.
 */
export function findByCode(reader: Reader, code: string): string | undefined {
  if (code === '') return undefined;
  const piece = findPiece(reader, code);
  if (piece) return piecePath(piece.code);
  for (const table of COLUMNS) {
    const found = reader.first(
      reader.db.selectFrom(table).select('code').where(sql`code collate nocase`, '=', code).orderBy('id'),
    );
    if (found) return PATH[table](found.code);
  }
  const order = reader.first(
    reader.db
      .selectFrom('order')
      .select('code')
      .where('supplier_number', '<>', '')
      .where(sql`supplier_number collate nocase`, '=', code)
      .orderBy('id', 'desc'),
  );
  if (order) return orderPath(order.code);
  const receipt = reader.first(
    reader.db
      .selectFrom('receipt')
      .select('id')
      .where('invoice_number', '<>', '')
      .where(sql`invoice_number collate nocase`, '=', code)
      .orderBy('id', 'desc'),
  );
  return receipt && receiptPath(receipt.id);
}

/** What is said of a code that nothing has. */
export function findPage(reader: Reader, code: string) {
  const newest = reader.all(reader.db.selectFrom('piece').select('code').orderBy('id', 'desc').limit(3));
  const data = {
    code,
    /** the pieces that came last, as an example of how codes look */
    newest: newest.map((row) => ({ code: row.code, href: piecePath(row.code) })),
  };
  return { view: 'shelf/stock/find', data, title: 'No such code', room: null } satisfies Page;
}
