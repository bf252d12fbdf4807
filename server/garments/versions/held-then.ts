import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import { inForce } from '../../ledger/standing.ts';
import type { Garment } from '../garment/records.ts';
import { workedBy } from '../garment/worked.ts';
import { wantedNow } from '../tier/view.ts';
import type { WantedNow } from './differences.ts';
import { type GarmentVersion, versionAt } from './queries.ts';
import { garmentOf, widthsOf } from './snapshot.ts';

/**
 * What tiers wanted when cloth was last held for them, by the version that was in force then, a row for each cloth and
 * shade. What was held before versions were kept has none.
 */
export function readWantedWhenHeld(
  reader: Reader,
  garment: Garment,
  tierIds: readonly number[],
): WantedNow[] {
  const holds = lastHolds(reader, tierIds);
  const versions = new Map<number, { version: GarmentVersion; holds: typeof holds }>();
  for (const hold of holds) {
    const version = versionAt(reader, garment.id, hold.entryId);
    if (!version) continue;
    const same = versions.get(version.number);
    versions.set(version.number, { version, holds: [...(same?.holds ?? []), hold] });
  }
  return [...versions.values()].flatMap(({ version, holds: mine }) => {
    const { snapshot } = version;
    const { tiers } = workedBy(garmentOf(garment, snapshot), widthsOf(snapshot));
    const wanted = grouped(tiers.flatMap(wantedNow), ({ tierId }) => tierId);
    return mine.flatMap(({ tierId, clothId, shadeId }) =>
      (wanted.get(tierId ?? 0) ?? []).filter((row) => row.clothId === clothId && row.shadeId === shadeId),
    );
  });
}

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
