import type { Tx } from '../../../server/database/book.ts';
import { nextName } from '../names.ts';
import type { Stock } from '../support.ts';

/** A batch of a recipe in a vessel, and its lot of the stock's cloth. */
export function makeBatch(
  tx: Tx,
  stock: Pick<Stock, 'clothId' | 'shadeId'>,
): { batchId: number; lotId: number } {
  const named = nextName('batch');
  const { lastId: vesselId } = tx.run(
    tx.db.insertInto('vessel').values({ name: `Pot ${named}`, volume_ml: 20_000, gone_at: null }),
  );
  const { lastId: recipeId } = tx.run(
    tx.db.insertInto('recipe').values({
      name: `Recipe ${named}`,
      version: 1,
      follows_id: null,
      shade_id: stock.shadeId,
      fibre: 'nylon',
      dye_class: 'acid',
      liquor_ratio_milli: 30_000,
      temperature_c: 95,
      hold_minutes: 45,
      shrinkage_bp: 200,
      typed: '{}',
    }),
  );
  const { lastId: batchId } = tx.run(
    tx.db.insertInto('batch').values({
      code: `D${named}`,
      recipe_id: recipeId,
      vessel_id: vesselId,
      due_on: null,
      planned_at: tx.at,
      person_id: tx.personId,
      cancelled_at: null,
      cancelled_by: null,
      card: null,
    }),
  );
  const { lastId: lotId } = tx.run(
    tx.db.insertInto('lot').values({
      code: `Dyed ${named}`,
      cloth_id: stock.clothId,
      shade_id: stock.shadeId,
      origin: 'dyed',
      supplier_id: null,
      batch_id: batchId,
    }),
  );
  return { batchId, lotId };
}
