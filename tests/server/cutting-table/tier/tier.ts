import type { Tx } from '../../../../server/database/book.ts';
import { length, makeStock, makeTier, type Stock, type TestHouse } from '../../support.ts';

/** A tier on the table, with the cloth and shade that it wants. */
export interface OnTable {
  readonly stock: Stock;
  readonly tierId: number;
  readonly code: string;
  /** of its cut list */
  readonly path: string;
}

/**
 * A ring of 116 cm at fullness 3, so 348 cm flat: of strips as long as the cloth is wide in use (147 cm, 145 cm
 * without seams) it takes 3; of 49 cm (47 cm without seams) it takes 8, three of them in a cut length. The cut depth is
 * 30 + 1 + 1 = 32 cm.
 */
export function putOnTable(
  house: TestHouse,
  options: { strip?: string; lots?: 'one' | 'any' } = {},
): OnTable {
  return house.write((tx) => {
    const stock = makeStock(tx);
    const tierId = makeTier(tx, stock);
    if (options.strip) {
      const strip = { strip_length_ticks: length(options.strip) };
      tx.run(tx.db.updateTable('tier').set(strip).where('id', '=', tierId));
    }
    if (options.lots) {
      tx.run(tx.db.updateTable('colour_block').set({ lots: options.lots }).where('tier_id', '=', tierId));
    }
    const code = codeOf(tx, tierId);
    return { stock, tierId, code, path: `/cutting-table/${code}/${tierId}` };
  });
}

/** Another tier like the first, in the same garment. */
export function addTierLike(house: TestHouse, { tierId }: OnTable, name: string): number {
  return house.write((tx) => {
    const tier = tx.first(tx.db.selectFrom('tier').selectAll().where('id', '=', tierId));
    const blocks = tx.all(tx.db.selectFrom('colour_block').selectAll().where('tier_id', '=', tierId));
    if (!tier) throw new Error('the first tier is there');
    const { id: _, ...columns } = tier;
    const { lastId } = tx.run(
      tx.db.insertInto('tier').values({ ...columns, name, position: columns.position + 1 }),
    );
    for (const block of blocks)
      tx.run(tx.db.insertInto('colour_block').values({ ...block, tier_id: lastId }));
    return lastId;
  });
}

export function balanceOf(house: TestHouse, code: string) {
  const { db } = house.book;
  const row = house.book.first(db.selectFrom('piece').selectAll().where('code', '=', code));
  if (!row) throw new Error(`there is a piece ${code}`);
  return {
    onHand: row.on_hand_ticks,
    held: row.held_ticks,
    cost: row.cost_minor,
    width: row.usable_width_ticks,
  };
}

/** How many entries the ledger has. */
export function entries(house: TestHouse): number {
  const { db } = house.book;
  return house.book.all(db.selectFrom('entry').select('id')).length;
}

function codeOf(tx: Tx, tierId: number): string {
  const row = tx.first(
    tx.db
      .selectFrom('tier')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      .select('garment.code')
      .where('tier.id', '=', tierId),
  );
  if (!row) throw new Error('the tier has a garment');
  return row.code;
}
