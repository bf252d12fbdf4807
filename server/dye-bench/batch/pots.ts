import type { Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { readVessels, type Vessel } from '../vessels/store.ts';

/** The pots that were named for the baths of a batch, in the order of the baths; null for one that has none of its own. */
export function readPots(reader: Reader, batchId: number): (Vessel | null)[] {
  const rows = readBathPlans(reader, batchId);
  const vessels = new Map(readVessels(reader).map((vessel) => [vessel.id, vessel]));
  const last = Math.max(0, ...rows.map(({ bath }) => bath));
  return Array.from({ length: last }, (_, at) => {
    const row = rows.find(({ bath }) => bath === at + 1);
    return row ? (vessels.get(row.vessel_id) ?? null) : null;
  });
}

const bathPlans = prepared((db, batchId: Param<number>) =>
  db.selectFrom('batch_bath').selectAll().where('batch_id', '=', batchId).orderBy('bath'),
);

/** What was said of the baths of a batch: their pots, and when they are to begin. */
export function readBathPlans(reader: Reader, batchId: number) {
  return reader.all(bathPlans(batchId));
}

/** Says the pot of a bath and when it is to begin, in the place of what was said before. */
export function keepBathPlan(
  tx: Tx,
  batchId: number,
  bath: number,
  plan: { readonly vesselId: number; readonly beginsAt: string | null },
): void {
  const row = { vessel_id: plan.vesselId, begins_at: plan.beginsAt };
  tx.run(
    tx.db
      .insertInto('batch_bath')
      .values({ batch_id: batchId, bath, ...row })
      .onConflict((on) => on.columns(['batch_id', 'bath']).doUpdateSet(row)),
  );
}
