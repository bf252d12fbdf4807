import { type Expression, expressionBuilder, type SqlBool, sql } from 'kysely';
import type { Reader } from '../../database/book.ts';
import type { Schema } from '../../database/schema.ts';
import { preparedByShape, type ShapeOf } from '../../database/statements.ts';
import type { PieceSums } from '../piece/list.ts';
import type { Filters } from './filters.ts';

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

export type LotSums = ReturnType<typeof readLotSums>[number];

/** What the filters let through of each lot, in the order of the shelf by shade or by cloth. */
export function readLotSums(reader: Reader, filters: Filters, by: 'shade' | 'cloth') {
  return reader.all(by === 'shade' ? sumsByShade(filters) : sumsByCloth(filters));
}

function lotSums(db: Reader['db'], filters: ShapeOf<Filters>) {
  const sums = db
    .selectFrom('piece')
    .select([
      'piece.lot_id as lotId',
      sql<number>`count(*)`.as('pieces'),
      sql<number>`sum(piece.on_hand_ticks > piece.held_ticks)`.as('freePieces'),
      sql<number>`max(piece.on_hand_ticks - piece.held_ticks)`.as('longestFree'),
      sql<number>`sum(piece.on_hand_ticks - piece.held_ticks)`.as('free'),
      sql<number>`max(piece.on_hand_ticks)`.as('longestOnHand'),
    ])
    .where(({ and }) => and(conditionsOn(filters)))
    .groupBy('piece.lot_id');
  return db
    .selectFrom(sums.as('sums'))
    .innerJoin('lot', 'lot.id', 'sums.lotId')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .selectAll('sums')
    .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId']);
}

const sumsByShade = preparedByShape((db, filters: ShapeOf<Filters>) =>
  lotSums(db, filters).orderBy('shade.name').orderBy('cloth.name').orderBy('lot.id'),
);
const sumsByCloth = preparedByShape((db, filters: ShapeOf<Filters>) =>
  lotSums(db, filters).orderBy('cloth.name').orderBy('shade.name').orderBy('lot.id'),
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
