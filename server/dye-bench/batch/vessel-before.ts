import { chemicalsOf, chemicalsOfDoses } from '../../../src/dye/bath-chemicals.ts';
import type { HeldBefore } from '../../../src/dye/card-warnings.ts';
import type { Reader } from '../../database/book.ts';
import { readRecipe } from '../recipe/store.ts';
import { readKeptCard } from './kept-card.ts';

/** The last bath that a vessel held, of the batch that was sent to it last; null where it held none. */
export function readHeldBefore(reader: Reader, vesselId: number): HeldBefore | null {
  const row = reader.first(
    reader.db
      .selectFrom('batch')
      .innerJoin('entry', 'entry.batch_id', 'batch.id')
      .select(['batch.code', 'batch.recipe_id', 'batch.card'])
      .where('batch.vessel_id', '=', vesselId)
      .where('batch.card', 'is not', null)
      .where('entry.kind', '=', 'sent-to-dye')
      .orderBy('entry.id', 'desc')
      .limit(1),
  );
  if (!row || row.card === null) return null;
  const cleared = readKeptCard(row.card).work?.find(({ kind }) => kind === 'clear');
  const { recipe } = readRecipe(reader, row.recipe_id);
  return {
    code: row.code,
    chemicals: cleared ? chemicalsOfDoses(cleared.doses) : chemicalsOf(recipe),
  };
}
