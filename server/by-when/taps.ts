import type { Reader } from '../database/book.ts';
import type { TappedWork } from '../database/by-when-tables.ts';
import { inList, type Param, prepared } from '../database/statements.ts';

const taps = prepared((db, garmentIds: Param<readonly number[]>) =>
  db
    .selectFrom('work_tap')
    .innerJoin('person', 'person.id', 'work_tap.person_id')
    .selectAll('work_tap')
    .select('person.name as person')
    .where('garment_id', 'in', inList(garmentIds))
    .orderBy('work_tap.id'),
);

export type WorkTap = ReturnType<typeof readTaps>[number];

/** All taps of some garments, the first first. */
export function readTaps(reader: Reader, garmentIds: readonly number[]) {
  return garmentIds.length === 0 ? [] : reader.all(taps([...garmentIds]));
}

/** How a work of a garment stands by its last tap; null where nobody tapped it. */
export function lastTap(all: readonly WorkTap[], garmentId: number, work: TappedWork): WorkTap | null {
  return all.findLast((tap) => tap.garment_id === garmentId && tap.work === work) ?? null;
}
