import { sql } from 'kysely';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { inList, preparedByShape, type ShapeOf } from '../../database/statements.ts';
import { address, queryNumber } from '../../kit/address.ts';
import { groupsOnPage, PAGE_ROWS, type Slice, sliceOf } from '../../kit/paging.ts';
import { sayTapeStep } from '../../kit/tape.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type Lengths, type LengthsOf, type Needed, shapeLengths } from '../lengths.ts';
import { longest, longestFreeFirst, selectPieces, shapeShelfPieces, shapeTotals } from '../piece/list.ts';
import type { ShelfTold } from '../told.ts';
import { type Filters, readFilters, type ShelfFilters, type Sort } from './filters.ts';
import { groupPieces } from './groups.ts';
import type { LotSums } from './kept-lots.ts';
import { conditionsOn, readLotSums, sumUp } from './lots.ts';

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
    empty: !(shown.totals && shown.totals.pieces > 0) && isShelfEmpty(reader),
    ways: {
      withGone: address('/shelf', { ...read.asked, sort: null, gone: 'yes' }),
      withoutFilters: '/shelf',
      take: address('/take', { cloth: read.filters.clothId, shade: read.filters.shadeId }),
    },
  };
  return { view: 'shelf/stock/stock', data, title: 'Shelf', room: 'shelf' } satisfies Page;
}

function isShelfEmpty(reader: Reader): boolean {
  const any = reader.db.selectFrom('piece').select('id').where('on_hand_ticks', '>', 0);
  // By lot, so that the index of what is on the shelf is asked, and not one piece after the other that is gone.
  return reader.first(any.orderBy('lot_id').limit(1)) === undefined;
}

function lengthsOf({ filters }: ShelfFilters, { units }: Asker, read: (of: LengthsOf) => Lengths) {
  const { clothId, shadeId, placeId, noPlace, fibre, lot, leastFreeTicks, leastWidthTicks, gone } = filters;
  const isOther = [placeId, fibre, lot, leastFreeTicks, leastWidthTicks].some((filter) => filter !== null);
  if ((clothId === null && shadeId === null) || isOther || noPlace || gone) return null;
  const of = { ...(clothId === null ? {} : { clothId }), ...(shadeId === null ? {} : { shadeId }) };
  return shapeLengths(read(of), units);
}

function listOnHand(reader: Reader, read: ShelfFilters, query: unknown, units: Units, needed: Needed) {
  const { sort } = read.asked;
  const by = sort === 'shade' || sort === 'cloth' ? sort : null;
  const lots = readLotSums(reader, read.filters, by ?? 'shade');
  const sums = sumUp(lots.lots);
  const slice = sliceOf(query, {
    total: sums.pieces,
    noun: 'pieces',
    path: '/shelf',
    kept: { ...read.asked, sort: sort === 'shade' ? '' : sort },
  });
  const rows = by === null ? readListed(reader, read, slice) : readGrouped(reader, read, lots.lots, slice);
  // One scale for the whole list, whichever page of it is looked at.
  const scale = lots.lots.reduce((most, { longestOnHand }) => Math.max(most, longestOnHand), 1);
  const pieces = shapeShelfPieces(reader, rows, units, needed, scale);
  return {
    /** of all that the filters let through, on this page and on others; null where gone pieces are listed too */
    totals: shapeTotals(sums, units),
    /** by shade or by cloth, then lot; empty where the list has an order of its own */
    groups: by === null ? [] : groupPieces(rows, pieces, by, { units, lots }),
    /** the list in an order of its own; empty where it is grouped */
    list: by === null ? pieces : [],
    pager: slice.pager,
    older: null,
    tapeStep: sayTapeStep(scale, units),
  };
}

/** Only the lots that the page shows are put in order, so that a page costs the same on any shelf. */
function readGrouped(reader: Reader, read: ShelfFilters, lots: readonly LotSums[], slice: Slice) {
  const { here, skip } = groupsOnPage(lots, slice);
  if (here.length === 0) return [];
  const lotIds = here.map(({ lotId }) => lotId);
  return reader.all(GROUPED[read.asked.sort]({ ...read.filters, lotIds, skip }));
}

/** The pieces of the page are found before their lots, cloths and shades are read. */
function readListed(reader: Reader, { filters, asked: { sort } }: ShelfFilters, { offset }: Slice) {
  return reader.all(LISTED[sort]({ ...filters, skip: offset }));
}

/** Gone pieces are many after some years, so they are paged by number, newest first, and never counted. */
function listWithGone(reader: Reader, read: ShelfFilters, query: unknown, units: Units, needed: Needed) {
  const before = queryNumber(query, 'before');
  const rows = reader.all(piecesBefore({ ...read.filters, before }));
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
type Skipping = ShapeOf<Filters & { readonly skip: number }>;
type Grouping = Skipping & ShapeOf<{ readonly lotIds: readonly number[] }>;
type Before = ShapeOf<Filters & { readonly before: number | null }>;

const GROUPED = bySort((sort) =>
  preparedByShape((db, { lotIds, skip, ...filters }: Grouping) =>
    inOrder(narrow(selectPieces(db), filters).where('piece.lot_id', 'in', inList(lotIds)), sort)
      .limit(PAGE_ROWS)
      .offset(skip),
  ),
);

const LISTED = bySort((sort) =>
  preparedByShape((db, { skip, ...filters }: Skipping) => {
    const ids = db
      .selectFrom('piece')
      .select('piece.id')
      .where(({ and }) => and(conditionsOn(filters)))
      .$if(sort === 'longest', (of) => of.orderBy(sql`piece.on_hand_ticks - piece.held_ticks`, 'desc'))
      .orderBy('piece.id', sort === 'longest' ? 'asc' : 'desc')
      .limit(PAGE_ROWS)
      .offset(skip);
    return inOrder(selectPieces(db).where('piece.id', 'in', ids), sort);
  }),
);

const piecesBefore = preparedByShape((db, { before, ...filters }: Before) =>
  narrow(selectPieces(db), filters)
    .$if(before !== null, (of) => of.where('piece.id', '<', before))
    .orderBy('piece.id', 'desc')
    .limit(PAGE_ROWS + 1),
);

function bySort<Query>(prepare: (sort: Sort) => Query): Readonly<Record<Sort, Query>> {
  return {
    shade: prepare('shade'),
    cloth: prepare('cloth'),
    longest: prepare('longest'),
    newest: prepare('newest'),
  };
}

function narrow(query: PieceQuery, filters: ShapeOf<Filters>): PieceQuery {
  return query.where(({ and }) => and(conditionsOn(filters)));
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
