import { labelTiers } from '../../src/garment/tier-labels.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { grouped } from '../kit/grouped.ts';

const neighboursOf = prepared((db, tierIds: Param<readonly number[]>) =>
  db
    .selectFrom('tier')
    .select(['id', 'garment_id as garmentId', 'position', 'name', 'taken_out_at as takenOutAt'])
    .select(['drop_ticks as dropTicks', 'on_tier_id as onTierId', 'height_ticks as heightTicks'])
    .select('garment_part_id as partId')
    .where('garment_id', 'in', (of) =>
      of.selectFrom('tier').select('garment_id').where('id', 'in', inList(tierIds)),
    )
    .orderBy('id'),
);

/** What tiers are called, by their numbers: "Lantern ruffle (2r)", "Tier 2r"; what is cut for a part by the part's name. */
export function readTierNames(
  reader: Reader,
  tierIds: readonly (number | null)[],
): (tierId: number | null) => string {
  const asked = [...new Set(tierIds.flatMap((id) => id ?? []))];
  const rows = asked.length === 0 ? [] : reader.all(neighboursOf(asked));
  const names = new Map(rows.map(({ id, name }) => [id, name]));
  const tiers = rows.filter(({ partId }) => partId === null);
  for (const ofOne of grouped(tiers, ({ garmentId }) => garmentId).values()) {
    for (const [id, { name }] of labelTiers(ofOne)) names.set(id, name);
  }
  return (tierId) => names.get(tierId ?? 0) ?? 'a tier';
}
