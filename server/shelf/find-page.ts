import type { Reader } from '../database/book.ts';
import type { Page } from '../web/page.ts';
import { piecePath } from './address.ts';

export interface FindPageData {
  readonly code: string;
  /** the pieces that came last, as an example of how codes look */
  readonly newest: readonly { readonly code: string; readonly href: string }[];
}

/** What is said of a code that no piece has. */
export function findPage(reader: Reader, code: string): Page {
  const newest = reader.all(reader.db.selectFrom('piece').select('code').orderBy('id', 'desc').limit(3));
  const data: FindPageData = {
    code,
    newest: newest.map((row) => ({ code: row.code, href: piecePath(row.code) })),
  };
  return { view: 'shelf/find', data, title: 'No such piece', room: 'shelf' };
}
