import { type Expression, expressionBuilder, type SqlBool, sql } from 'kysely';
import type { Reader } from '../../database/book.ts';
import type { Schema } from '../../database/schema.ts';
import type { PieceSums } from '../piece/list.ts';
import type { Filters } from './filters.ts';

/** What the filters let through, as conditions on the piece alone, so that an index answers for all pieces of a lot. */
export function conditionsOn(filters: Filters): Expression<SqlBool>[] {
  const piece = expressionBuilder<Schema, 'piece'>();
  const { clothId, shadeId, placeId, fibre, lot, leastFreeTicks, leastWidthTicks } = filters;
  const lots = piece
    .selectFrom('lot as of')
    .select('of.id')
    .$if(clothId !== null, (of) => of.where('of.cloth_id', '=', clothId))
    .$if(shadeId !== null, (of) => of.where('of.shade_id', '=', shadeId))
    .$if(fibre !== null, (of) =>
      of.where('of.cloth_id', 'in', (cloth) =>
        cloth
          .selectFrom('cloth_fibre')
          .select('cloth_fibre.cloth_id')
          .where('cloth_fibre.fibre', '=', fibre ?? ''),
      ),
    )
    .$if(lot !== '', (of) =>
      of.where((or) =>
        or.or([or(sql`of.code collate nocase`, '=', lot), or(sql`of.mill_lot collate nocase`, '=', lot)]),
      ),
    );
  const isOfSome = clothId !== null || shadeId !== null || fibre !== null || lot !== '';
  return [
    ...(filters.gone ? [] : [piece('piece.on_hand_ticks', '>', 0)]),
    ...(isOfSome ? [piece('piece.lot_id', 'in', lots)] : []),
    ...(placeId === 'none' ? [piece('piece.place_id', 'is', null)] : []),
    ...(typeof placeId === 'number' ? [piece('piece.place_id', '=', placeId)] : []),
    ...(leastFreeTicks === null
      ? []
      : [piece(sql<number>`piece.on_hand_ticks - piece.held_ticks`, '>=', leastFreeTicks)]),
    ...(leastWidthTicks === null ? [] : [piece('piece.usable_width_ticks', '>=', leastWidthTicks)]),
  ];
}

export type LotSums = ReturnType<typeof readLotSums>[number];

/** What the filters let through of each lot, in the order of the shelf by shade or by cloth. */
export function readLotSums(reader: Reader, filters: Filters, by: 'shade' | 'cloth') {
  const sums = reader.db
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
  return reader.all(
    reader.db
      .selectFrom(sums.as('sums'))
      .innerJoin('lot', 'lot.id', 'sums.lotId')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .selectAll('sums')
      .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId'])
      .orderBy(by === 'shade' ? 'shade.name' : 'cloth.name')
      .orderBy(by === 'shade' ? 'cloth.name' : 'shade.name')
      .orderBy('lot.id'),
  );
}

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
