import { type Expression, expressionBuilder, type SqlBool, sql } from 'kysely';
import type { Reader } from '../../database/book.ts';
import type { Schema } from '../../database/schema.ts';
import { preparedByShape, type ShapeOf } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import type { PieceSums } from '../piece/list.ts';
import type { Filters } from './filters.ts';
import {
  type LotSums,
  type LotsInOrder,
  lotsInOrder,
  putInOrder,
  selectLotSums,
  withLots,
} from './kept-lots.ts';

/** What the filters let through, as conditions on the piece alone, so that an index answers for all pieces of a lot. */
export function conditionsOn(filters: ShapeOf<Filters>): Expression<SqlBool>[] {
  const piece = expressionBuilder<Schema, 'piece'>();
  const { clothId, shadeId, placeId, noPlace, fibre, lot, leastFreeTicks, leastWidthTicks } = filters;
  const lots = piece
    .selectFrom('lot as of')
    .select('of.id')
    .$if(clothId !== null, (of) => of.where('of.cloth_id', '=', clothId))
    .$if(shadeId !== null, (of) => of.where('of.shade_id', '=', shadeId))
    .$if(fibre !== null, (of) =>
      of.where('of.cloth_id', 'in', (cloth) =>
        cloth.selectFrom('cloth_fibre').select('cloth_fibre.cloth_id').where('cloth_fibre.fibre', '=', fibre),
      ),
    )
    .$if(lot !== null, (of) =>
      of.where((or) =>
        or.or([or(sql`of.code collate nocase`, '=', lot), or(sql`of.mill_lot collate nocase`, '=', lot)]),
      ),
    );
  const isOfSome = clothId !== null || shadeId !== null || fibre !== null || lot !== null;
  return [
    ...(filters.gone ? [] : [piece('piece.on_hand_ticks', '>', 0)]),
    ...(isOfSome ? [piece('piece.lot_id', 'in', lots)] : []),
    ...(noPlace ? [piece('piece.place_id', 'is', null)] : []),
    ...(placeId === null ? [] : [piece('piece.place_id', '=', placeId)]),
    ...(leastFreeTicks === null
      ? []
      : [piece(sql<number>`piece.on_hand_ticks - piece.held_ticks`, '>=', leastFreeTicks)]),
    ...(leastWidthTicks === null ? [] : [piece('piece.usable_width_ticks', '>=', leastWidthTicks)]),
  ];
}

/** What the filters let through of each lot, in the order of the shelf by shade or by cloth. */
export function readLotSums(reader: Reader, filters: Filters, by: 'shade' | 'cloth'): LotsInOrder {
  const { clothId, shadeId, ...others } = filters;
  if (Object.values(others).some((asked) => asked !== null && asked !== false))
    return putInOrder(reader, reader.all(sumsOfSome(filters)), by);
  const all = lotsInOrder(reader, by);
  if (clothId === null && shadeId === null) return all;
  const ofShade = shadeId === null ? all.lots : (all.byShade.get(shadeId) ?? []);
  return putInOrder(
    reader,
    ofShade.filter((lot) => lot.clothId === (clothId ?? lot.clothId)),
    by,
  );
}

const sumsOfSome = preparedByShape((db, filters: ShapeOf<Filters>) =>
  withLots(
    db,
    selectLotSums(db).where(({ and }) => and(conditionsOn(filters))),
  ),
);

/** What some lots come to together. */
export function sumUp(lots: readonly LotSums[]): PieceSums {
  const sum = (of: (lot: LotSums) => number) => lots.reduce((total, lot) => total + of(lot), 0);
  return {
    pieces: sum(({ pieces }) => pieces),
    lots: lots.length,
    shades: new Set(lots.map(({ shadeId }) => shadeId)).size,
    free_pieces: sum(({ freePieces }) => freePieces),
    longest_free: lots.reduce((most, { longestFree }) => Math.max(most, longestFree), 0),
    free: sum(({ free }) => free),
  };
}

/** What some lots come to by cloth or by shade, in their order. */
export function sumUpBy(lots: readonly LotSums[], by: 'clothId' | 'shadeId'): Map<number, PieceSums> {
  return new Map([...grouped(lots, (lot) => lot[by])].map(([id, some]) => [id, sumUp(some)]));
}
