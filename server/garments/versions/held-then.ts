import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { inForce } from '../../ledger/standing.ts';
import { type Garment, readGarment } from '../garment/records.ts';
import { layTier, workTiersOf } from '../garment/worked.ts';
import { wantedNow } from '../tier/view.ts';
import type { WantedNow } from './differences.ts';
import { readVersion, versionAt } from './queries.ts';
import { garmentOf, waysOf, widthsOf } from './snapshot.ts';

/**
 * What tiers wanted when cloth was last held for them, by the version that was in force then, a row for each cloth and
 * shade. What was held before versions were kept has none.
 */
export function readWantedWhenHeld(
  reader: Reader,
  garment: Garment,
  tierIds: readonly number[],
): WantedNow[] {
  return lastHolds(reader, tierIds).flatMap(({ tierId, clothId, shadeId, entryId }) => {
    const version = versionAt(reader, garment.id, entryId);
    const wanted = version === null ? [] : wantedInVersion(reader, garment.code, version.number);
    return wanted.filter(
      (row) => row.tierId === tierId && row.clothId === clothId && row.shadeId === shadeId,
    );
  });
}

/** Most holds of a garment were made in one version. */
const wantedInVersion = keptUntilWritten((reader, code: string, number: number): readonly WantedNow[] => {
  const garment = readGarment(reader, code);
  const { snapshot } = readVersion(reader, garment, number);
  const worked = workTiersOf(garmentOf(garment, snapshot), widthsOf(snapshot));
  const laid = worked.tiers.map((tier) => layTier(tier, widthsOf(snapshot), waysOf(snapshot)));
  return laid.flatMap(wantedNow);
});

const lastHoldsFor = prepared((db, tierIds: Param<readonly number[]>) =>
  db
    .selectFrom('entry')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select((of) => [
      'entry.tier_id as tierId',
      'lot.cloth_id as clothId',
      'lot.shade_id as shadeId',
      of.fn.max('entry.id').as('entryId'),
    ])
    .where('entry.kind', '=', 'held')
    .where('entry.tier_id', 'in', inList(tierIds))
    .where(inForce('entry'))
    .groupBy(['entry.tier_id', 'lot.cloth_id', 'lot.shade_id']),
);

function lastHolds(reader: Reader, tierIds: readonly number[]) {
  if (tierIds.length === 0) return [];
  return reader.all(lastHoldsFor(tierIds));
}
