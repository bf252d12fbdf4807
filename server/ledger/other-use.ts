import { type OtherUseKind, otherUseIsTold } from '../../src/ledger/entries.ts';
import type { Reader, Tx } from '../database/book.ts';
import { invalid, unknown } from '../refusal.ts';
import { OTHER_USE_WORDS } from './words.ts';

/** A use of cloth besides tiers, as it is first written down. */
export interface NewOtherUse {
  readonly kind: OtherUseKind;
  readonly garmentId: number | null;
  readonly note: string;
}

/**
 * Writes down what a length is about to be cut or held for; gives the number of the use.
 *
 * @throws {Refusal} invalid, where it does not say what it is
 */
export function openOtherUse(tx: Tx, { kind, garmentId, note }: NewOtherUse): number {
  if (!otherUseIsTold(kind, note)) throw invalid('note', 'Say what it is for.');
  const { lastId } = tx.run(
    tx.db.insertInto('other_use').values({
      kind,
      garment_id: garmentId,
      note: note.trim(),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return lastId;
}

/** What a use is, as queries read it; all null where a length is for a tier. */
export interface OtherUseFacts {
  readonly useKind: OtherUseKind | null;
  readonly useNote: string | null;
  readonly useGarmentCode: string | null;
  readonly useGarmentName: string | null;
}

/** "repair of G3 Plum skirt: torn ruffle", "sale: to the school"; '' where a length is for a tier. */
export function sayOtherUse({ useKind, useNote, useGarmentCode, useGarmentName }: OtherUseFacts): string {
  if (useKind === null) return '';
  const garment =
    useGarmentCode === null
      ? ''
      : ` ${useKind === 'repair' ? 'of' : 'for'} ${useGarmentCode} ${useGarmentName ?? ''}`;
  return `${OTHER_USE_WORDS[useKind]}${garment}${useNote ? `: ${useNote}` : ''}`;
}

/** @throws {Refusal} unknown */
export function readOtherUse(reader: Reader, otherUseId: number): OtherUseFacts {
  const use = reader.first(
    reader.db
      .selectFrom('other_use')
      .leftJoin('garment as use_garment', 'use_garment.id', 'other_use.garment_id')
      .select(OTHER_USE_FACTS)
      .where('other_use.id', '=', otherUseId),
  );
  if (!use) throw unknown('such use');
  return use;
}

/** The columns of `OtherUseFacts`, for queries that join `other_use` and its garment as `use_garment`. */
export const OTHER_USE_FACTS = [
  'other_use.kind as useKind',
  'other_use.note as useNote',
  'use_garment.code as useGarmentCode',
  'use_garment.name as useGarmentName',
] as const;
