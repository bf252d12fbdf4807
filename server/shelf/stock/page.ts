import { sql } from 'kysely';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { address, queryNumber } from '../../kit/address.ts';
import { PAGE_ROWS, sliceOf } from '../../kit/paging.ts';
import { sayTapeStep } from '../../kit/tape.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type Lengths, type LengthsOf, type Needed, shapeLengths } from '../lengths.ts';
import {
  longest,
  longestFreeFirst,
  type PieceSums,
  SUMS,
  selectPieces,
  shapeShelfPieces,
  shapeTotals,
} from '../piece/list.ts';
import type { ShelfTold } from '../told.ts';
import { type Filters, readFilters, type ShelfFilters, type Sort } from './filters.ts';
import { groupPieces } from './groups.ts';

/** The shelf: what is on it, narrowed by the address. */
export function stockPage(
  reader: Reader,
  query: unknown,
  asker: Asker,
  { readNeeded, readLengths }: Pick<ShelfTold, 'readNeeded' | 'readLengths'>,
) {
  const read = readFilters(reader, query, asker.units);
  const needed = readNeeded(reader);
  const shown = read.filters.gone
    ? listWithGone(reader, read, query, asker.units, needed)
    : listOnHand(reader, read, query, asker.units, needed);
  const data = {
    waiting: needed.waiting,
    /** of the cloth or shade that the list is narrowed to; null where it is narrowed otherwise, or not at all */
    lengths: lengthsOf(read, asker, (of) => readLengths(reader, of)),
    ...read,
    ...shown,
    /** true where the shelf has never had a piece or has none left */
    empty:
      reader.first(reader.db.selectFrom('piece').select('id').where('on_hand_ticks', '>', 0).limit(1)) ===
      undefined,
    ways: {
      withGone: address('/shelf', { ...read.asked, sort: null, gone: 'yes' }),
      withoutFilters: '/shelf',
      take: address('/take', { cloth: read.filters.clothId, shade: read.filters.shadeId }),
    },
  };
  return { view: 'shelf/stock/stock', data, title: 'Shelf', room: 'shelf' } satisfies Page;
}

function lengthsOf({ filters }: ShelfFilters, { units }: Asker, read: (of: LengthsOf) => Lengths) {
  const { clothId, shadeId, placeId, fibre, lot, leastFreeTicks, leastWidthTicks, gone } = filters;
  const isOther = [placeId, fibre, leastFreeTicks, leastWidthTicks].some((filter) => filter !== null);
  if ((clothId === null && shadeId === null) || isOther || lot !== '' || gone) return null;
  const of = { ...(clothId === null ? {} : { clothId }), ...(shadeId === null ? {} : { shadeId }) };
  return shapeLengths(read(of), units);
}

function listOnHand(reader: Reader, read: ShelfFilters, query: unknown, units: Units, needed: Needed) {
  const onHand = narrow(selectPieces(reader), read.filters);
  const sums = reader.first(
    onHand
      .clearSelect()
      .select([...SUMS, sql<number>`coalesce(max(piece.on_hand_ticks), 0)`.as('longest_on_hand')]),
  );
  if (!sums) throw new Error('a sum has always one row');
  const { offset, pager } = sliceOf(query, {
    total: sums.pieces,
    noun: 'pieces',
    path: '/shelf',
    kept: { ...read.asked, sort: read.asked.sort === 'shade' ? '' : read.asked.sort },
  });
  const rows = reader.all(inOrder(onHand, read.asked.sort).limit(PAGE_ROWS).offset(offset));
  // One scale for the whole list, whichever page of it is looked at.
  const scale = Math.max(1, sums.longest_on_hand);
  const pieces = shapeShelfPieces(reader, rows, units, needed, scale);
  const grouped = read.asked.sort === 'shade' || read.asked.sort === 'cloth';
  return {
    /** of all that the filters let through, on this page and on others; null where gone pieces are listed too */
    totals: shapeTotals(sums, units),
    /** by shade or by cloth, then lot; empty where the list has an order of its own */
    groups: grouped
      ? groupPieces(rows, pieces, read.asked.sort === 'cloth' ? 'cloth' : 'shade', {
          units,
          sumsBy: (column, ids) => readSumsBy(reader, read.filters, column, ids),
        })
      : [],
    /** the list in an order of its own; empty where it is grouped */
    list: grouped ? [] : pieces,
    pager,
    older: null,
    tapeStep: sayTapeStep(scale, units),
  };
}

/** Gone pieces are many after some years, so they are paged by number, newest first, and never counted. */
function listWithGone(reader: Reader, read: ShelfFilters, query: unknown, units: Units, needed: Needed) {
  const before = queryNumber(query, 'before');
  let asked = narrow(selectPieces(reader), read.filters);
  if (before !== null) asked = asked.where('piece.id', '<', before);
  const rows = reader.all(asked.orderBy('piece.id', 'desc').limit(PAGE_ROWS + 1));
  const here = rows.slice(0, PAGE_ROWS);
  const scale = longest(here);
  const last = here.at(-1);
  return {
    totals: null,
    groups: [],
    list: shapeShelfPieces(reader, here, units, needed, scale),
    pager: null,
    /** the list of gone pieces goes on here; null at its end */
    older: rows.length > PAGE_ROWS && last ? address('/shelf', { ...read.asked, before: last.id }) : null,
    tapeStep: sayTapeStep(scale, units),
  };
}

type PieceQuery = ReturnType<typeof selectPieces>;

function narrow(query: PieceQuery, filters: Filters): PieceQuery {
  let narrowed = query;
  if (!filters.gone) narrowed = narrowed.where('piece.on_hand_ticks', '>', 0);
  if (filters.clothId !== null) narrowed = narrowed.where('lot.cloth_id', '=', filters.clothId);
  if (filters.shadeId !== null) narrowed = narrowed.where('lot.shade_id', '=', filters.shadeId);
  if (filters.placeId === 'none') narrowed = narrowed.where('piece.place_id', 'is', null);
  else if (filters.placeId !== null) narrowed = narrowed.where('piece.place_id', '=', filters.placeId);
  const { fibre, lot, leastFreeTicks, leastWidthTicks } = filters;
  if (fibre !== null) {
    narrowed = narrowed.where('lot.cloth_id', 'in', (where) =>
      where.selectFrom('cloth_fibre').select('cloth_fibre.cloth_id').where('cloth_fibre.fibre', '=', fibre),
    );
  }
  if (lot !== '') {
    narrowed = narrowed.where('piece.lot_id', 'in', (where) =>
      where
        .selectFrom('lot as named')
        .select('named.id')
        .where((or) =>
          or.or([
            or(sql`named.code collate nocase`, '=', lot),
            or(sql`named.mill_lot collate nocase`, '=', lot),
          ]),
        ),
    );
  }
  if (leastFreeTicks !== null) {
    narrowed = narrowed.where(sql<number>`piece.on_hand_ticks - piece.held_ticks`, '>=', leastFreeTicks);
  }
  if (leastWidthTicks !== null) narrowed = narrowed.where('piece.usable_width_ticks', '>=', leastWidthTicks);
  return narrowed;
}

function inOrder(query: PieceQuery, sort: Sort): PieceQuery {
  switch (sort) {
    case 'shade':
      return longestFreeFirst(query.orderBy('shade.name').orderBy('cloth.name').orderBy('lot.id'));
    case 'cloth':
      return longestFreeFirst(query.orderBy('cloth.name').orderBy('shade.name').orderBy('lot.id'));
    case 'longest':
      return longestFreeFirst(query);
    case 'newest':
      return query.orderBy('piece.id', 'desc');
  }
}

/** What the filters let through of each lot, shade or cloth that is named on the page. */
function readSumsBy(
  reader: Reader,
  filters: Filters,
  column: 'lot.id' | 'lot.shade_id' | 'lot.cloth_id',
  ids: readonly number[],
): Map<number, PieceSums> {
  const rows = reader.all(
    narrow(selectPieces(reader), filters)
      .clearSelect()
      .select([...SUMS, sql.ref<number>(column).as('by_id')])
      .where(sql.ref<number>(column), 'in', ids)
      .groupBy(sql.ref(column)),
  );
  return new Map(rows.map((row) => [row.by_id, row]));
}
