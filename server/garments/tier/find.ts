import type { Reader } from '../../database/book.ts';
import { unknown } from '../../refusal.ts';
import { readGarment, tierOf } from '../garment/records.ts';

/** The tier that an address names, with its garment. @throws {Refusal} unknown */
export function findTier(reader: Reader, params: { readonly code: string; readonly id: string }) {
  const garment = readGarment(reader, params.code);
  if (!/^[1-9][0-9]{0,14}$/.test(params.id)) throw unknown(`such tier of ${garment.code}`);
  return { garment, tier: tierOf(garment, Number(params.id)) };
}
