import type { WorkedTier } from '../../../src/garment/tiers.ts';
import type { WeighedStrips } from '../../../src/garment/weight.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';

/** What the answers need to know of a cloth. */
export interface SewnClothFacts {
  readonly id: number;
  readonly name: string;
  readonly usableWidthTicks: number;
  /** null where nobody has measured it */
  readonly massPerAreaMgM2: number | null;
}

const clothFacts = prepared((db, clothIds: Param<readonly number[]>) =>
  db
    .selectFrom('cloth')
    .select([
      'id',
      'name',
      'usable_width_ticks as usableWidthTicks',
      'mass_per_area_mg_m2 as massPerAreaMgM2',
    ])
    .where('id', 'in', inList(clothIds)),
);

export function readClothFacts(reader: Reader, clothIds: readonly number[]): Map<number, SewnClothFacts> {
  if (clothIds.length === 0) return new Map();
  const rows = reader.all(clothFacts([...new Set(clothIds)]));
  return new Map(rows.map((row) => [row.id, row]));
}

/** The strips of a tier with what their cloths weigh. */
export function weighedStrips(
  { cutDepthTicks, count }: WorkedTier,
  cloths: ReadonlyMap<number, SewnClothFacts>,
): WeighedStrips[] {
  return count.perShade.map((shade) => ({
    depthTicks: cutDepthTicks,
    lengthTicks: shade.stripLengthTicks,
    count: shade.count,
    massPerAreaMgM2: cloths.get(shade.clothId)?.massPerAreaMgM2 ?? null,
  }));
}

const threadShades = prepared((db, tierIds: Param<readonly number[]>) =>
  db.selectFrom('tier_thread').select(['tier_id', 'shade_id']).where('tier_id', 'in', inList(tierIds)),
);

/** The shade of thread that was chosen for a tier, by the tier; most tiers have none chosen. */
export function readThreadShades(reader: Reader, tierIds: readonly number[]): Map<number, number> {
  if (tierIds.length === 0) return new Map();
  const rows = reader.all(threadShades(tierIds));
  return new Map(rows.map((row) => [row.tier_id, row.shade_id]));
}
