import { sql } from 'kysely';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import type { PricePerLength } from '../../src/quantity/money.ts';
import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';

/** A price in the workroom's money, and where it comes from. */
export interface KnownPrice extends PricePerLength {
  readonly from: 'shelf' | 'order';
}

/**
 * What a length of each cloth and shade costs: on the average what lies on the shelf at a cost, else what it was last
 * ordered at in the workroom's own currency. Nothing is invented where neither is known.
 */
export function readPrices(reader: Reader, wanted: readonly ClothShade[]): ReadonlyMap<string, KnownPrice> {
  const found = new Map<string, KnownPrice>();
  for (const each of wanted) {
    const price =
      onShelf(reader, each.clothId, each.shadeId) ?? lastOrdered(reader, each.clothId, each.shadeId);
    if (price) found.set(needKey(each), price);
  }
  return found;
}

const costOnShelf = prepared((db, clothId: Param<number>, shadeId: Param<number>) =>
  db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select([
      sql<number>`sum(piece.cost_minor)`.as('minor'),
      sql<number>`sum(piece.on_hand_ticks)`.as('ticks'),
    ])
    .where('lot.cloth_id', '=', clothId)
    .where('lot.shade_id', '=', shadeId)
    .where('piece.on_hand_ticks', '>', 0)
    .where('piece.cost_minor', '>', 0),
);

function onShelf(reader: Reader, clothId: number, shadeId: number): KnownPrice | null {
  const sum = reader.first(costOnShelf(clothId, shadeId));
  return sum?.ticks ? { minor: sum.minor, perTicks: sum.ticks, from: 'shelf' } : null;
}

const lastPrice = prepared((db, clothId: Param<number>, shadeId: Param<number>) =>
  db
    .selectFrom('order_line')
    .leftJoin('order_terms', 'order_terms.order_id', 'order_line.order_id')
    .innerJoin('workroom', (join) => join.onTrue())
    .select(['price_minor', 'price_ticks'])
    .where('cloth_id', '=', clothId)
    .where('shade_id', '=', shadeId)
    .where('price_minor', 'is not', null)
    .where((e) =>
      e.or([
        e('order_terms.currency', 'is', null),
        e('order_terms.currency', '=', e.ref('workroom.currency')),
      ]),
    )
    .orderBy('order_line.id', 'desc')
    .limit(1),
);

function lastOrdered(reader: Reader, clothId: number, shadeId: number): KnownPrice | null {
  const line = reader.first(lastPrice(clothId, shadeId));
  if (!line || line.price_minor === null || line.price_ticks === null) return null;
  return { minor: line.price_minor, perTicks: line.price_ticks, from: 'order' };
}
