import type { ListWriting } from '../../../src/lists/stock-list.ts';
import type { Tx } from '../../database/book.ts';
import { mintKey } from '../../kit/request-key.ts';
import { lengthUnit, massPerAreaUnit, sizeUnit } from '../../kit/units.ts';
import { invalid } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { SentFile } from '../../web/multipart.ts';
import type { Page } from '../../web/page-frame.ts';

export const MOST_FILE_MB = 32;

/** Where a list is handed in: a file, or rows pasted from a spreadsheet. */
export function newListPage(pasted = '') {
  const data = { requestKey: mintKey(), mostMb: MOST_FILE_MB, pasted };
  return { view: 'lists/new', data, title: 'A list of pieces', room: 'setup' } satisfies Page;
}

/** @throws {Refusal} invalid where nothing was handed in, or both */
export function whatCame(file: SentFile | null, pasted: string): SentFile {
  const text = pasted.trim();
  if (file && text !== '') throw invalid('pasted', 'Choose a file or paste rows, not both.');
  if (file) return file;
  if (text === '') throw invalid('file', 'Choose a file, or paste rows below.');
  return { name: 'Pasted rows', bytes: new TextEncoder().encode(text) };
}

/** Notes that a list came; its rows follow. */
export function addList(tx: Tx, name: string, writing: ListWriting): number {
  const plain =
    // By letters: half a letter outside the basic plane is no text.
    [...name.replaceAll(/\p{Cc}/gu, ' ').trim()].slice(0, 200).join('') || 'A list';
  const values = { name: plain, at: tx.at, person_id: tx.personId, writing: JSON.stringify(writing) };
  return tx.run(tx.db.insertInto('list_in').values({ ...values, state: 'reading' })).lastId;
}

/** How bare figures are read unless the list's heading or an earlier list says otherwise. */
export function usualWriting({ units, currency }: Asker): ListWriting {
  return {
    lengthUnit: lengthUnit(units),
    sizeUnit: sizeUnit(units),
    massUnit: massPerAreaUnit(units),
    decimals: 'either',
    currency,
  };
}
