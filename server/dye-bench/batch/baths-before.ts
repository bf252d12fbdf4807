import type { BathBefore } from '../../../src/dye/card-warnings.ts';
import { capital } from '../../../src/dye/fibre.ts';
import { lastChemicals } from '../../../src/dye/order-of-work.ts';
import type { Reader } from '../../database/book.ts';
import { readRecipe } from '../recipe/store.ts';
import { readKeptCard } from './kept-card.ts';

/** The last bath that a vessel held and those that dyed pieces come from: what may be left in the one or the other. */
export function readBathsBefore(
  reader: Reader,
  vessel: { readonly id: number; readonly name: string },
  pieces: readonly { readonly code: string; readonly lotId: number }[],
): BathBefore[] {
  const started = reader.db
    .selectFrom('batch')
    .select(['batch.code', 'batch.recipe_id', 'batch.card'])
    .where('batch.card', 'is not', null);
  const held = reader.first(
    started
      .innerJoin('entry', 'entry.batch_id', 'batch.id')
      .where('batch.vessel_id', '=', vessel.id)
      .where('entry.kind', '=', 'sent-to-dye')
      .orderBy('entry.id', 'desc')
      .limit(1),
  );
  const dyed = pieces.flatMap(({ code, lotId }) => {
    const batch = reader.first(
      started.innerJoin('lot', 'lot.batch_id', 'batch.id').where('lot.id', '=', lotId),
    );
    return batch ? [{ says: `${code} was dyed in ${batch.code}.`, batch }] : [];
  });
  return [
    ...(held ? [{ says: `${capital(vessel.name)} held ${held.code} last.`, batch: held }] : []),
    ...dyed,
  ].map(({ says, batch }) => ({ says, chemicals: chemicalsLeft(reader, batch) }));
}

function chemicalsLeft(
  reader: Reader,
  { recipe_id, card }: { readonly recipe_id: number; readonly card: string | null },
): BathBefore['chemicals'] {
  const work = card === null ? [] : (readKeptCard(card).work ?? []);
  return lastChemicals(readRecipe(reader, recipe_id).recipe, work);
}
