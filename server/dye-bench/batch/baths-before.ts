import { AUXILIARY_KINDS, groupsOf } from '../../../src/dye/auxiliaries.ts';
import type { BathBefore } from '../../../src/dye/card-warnings.ts';
import { capital } from '../../../src/dye/fibre.ts';
import { lastChemicals } from '../../../src/dye/order-of-work.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { readLog } from '../pot/log-store.ts';
import { readRecipe } from '../recipe/store.ts';
import { readKeptCard } from './kept-card.ts';

function startedBatches(db: Reader['db']) {
  return db
    .selectFrom('batch')
    .select(['batch.id', 'batch.code', 'batch.recipe_id', 'batch.card'])
    .where('batch.card', 'is not', null);
}

const lastIn = prepared((db, vesselId: Param<number>) =>
  startedBatches(db)
    .innerJoin('entry', 'entry.batch_id', 'batch.id')
    .leftJoin('batch_bath', (join) =>
      join
        .onRef('batch_bath.batch_id', '=', 'batch.id')
        .on((of) => of('batch_bath.bath', '=', of.fn.coalesce('entry.bath', of.val(1)))),
    )
    .where((of) => of(of.fn.coalesce('batch_bath.vessel_id', 'batch.vessel_id'), '=', vesselId))
    .where('entry.kind', '=', 'sent-to-dye')
    .orderBy('entry.id', 'desc')
    .limit(1),
);

const batchOfLot = prepared((db, lotId: Param<number>) =>
  startedBatches(db).innerJoin('lot', 'lot.batch_id', 'batch.id').where('lot.id', '=', lotId),
);

/** The last bath that each vessel held and those that dyed pieces come from: what may be left in the one or the other. */
export function readBathsBefore(
  reader: Reader,
  vessels: readonly { readonly id: number; readonly name: string }[],
  pieces: readonly { readonly code: string; readonly lotId: number }[],
): BathBefore[] {
  const held = vessels.flatMap((vessel) => {
    const batch = reader.first(lastIn(vessel.id));
    return batch ? [{ says: `${capital(vessel.name)} held ${batch.code} last.`, batch }] : [];
  });
  const dyed = pieces.flatMap(({ code, lotId }) => {
    const batch = reader.first(batchOfLot(lotId));
    if (!batch) return [];
    const { dyeClass } = readRecipe(reader, batch.recipe_id).recipe;
    return [{ says: `${code} was dyed in ${batch.code}.`, batch, dyed: dyeClass }];
  });
  return [...held, ...dyed].map(({ batch, ...told }) => ({
    ...told,
    chemicals: chemicalsLeft(reader, batch),
  }));
}

function chemicalsLeft(
  reader: Reader,
  { id, recipe_id, card }: { readonly id: number; readonly recipe_id: number; readonly card: string | null },
): BathBefore['chemicals'] {
  const work = card === null ? [] : (readKeptCard(card).work ?? []);
  return [...lastChemicals(readRecipe(reader, recipe_id).recipe, work), ...addedByHand(reader, id)];
}

/** What went in beside the plan counts too, whichever of its baths it was. */
function addedByHand(reader: Reader, batchId: number): BathBefore['chemicals'] {
  return readLog(reader, batchId).flatMap(({ auxiliary, what }) => {
    const kind = AUXILIARY_KINDS.find((each) => each === auxiliary?.kind);
    return auxiliary && kind ? [{ name: what, groups: groupsOf(kind, auxiliary.form) ?? [] }] : [];
  });
}
