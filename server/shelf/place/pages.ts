import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { inList, prepared, preparedByShape, type ShapeOf } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { grouped } from '../../kit/grouped.ts';
import { groupsOnPage, sliceOf } from '../../kit/paging.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { selectPieces, shapeShelfPieces } from '../piece/list.ts';
import type { ShelfTold } from '../told.ts';
import { PLACE_FIELDS, shelfOf } from './form.ts';

/** The places of the shelf; `renaming` is the place whose new name was refused. */
export function placesPage(reader: Reader, options: { renaming?: number; typed?: Typed } = {}) {
  const { renaming, typed = {} } = options;
  const rows = reader.all(
    reader.db
      .selectFrom('place')
      .select((e) => [
        'place.id',
        'place.name',
        e
          .selectFrom('piece')
          .select((p) => p.fn.countAll<number>().as('n'))
          .whereRef('piece.place_id', '=', 'place.id')
          .where('piece.on_hand_ticks', '>', 0)
          .as('pieces'),
      ])
      .orderBy('place.name'),
  );
  const homeless = reader.first(
    reader.db
      .selectFrom('piece')
      .select((e) => e.fn.countAll<number>().as('n'))
      .where('place_id', 'is', null)
      .where('on_hand_ticks', '>', 0),
  );
  const data = {
    places: rows.map((row) => ({
      id: row.id,
      name: row.name,
      pieces: row.pieces ?? 0,
      href: shelfOf(row.id),
      /** to print a label for each of its pieces; '' where it has none */
      labelsHref: row.pieces ? address('/setup/labels/runs/new', { place: row.id }) : '',
      renaming: {
        action: `/shelf/places/${row.id}/names`,
        requestKey: mintKey(),
        open: renaming === row.id,
        field: drawFields(PLACE_FIELDS, renaming === row.id ? typed : { name: row.name }).name,
      },
    })),
    /** pieces on hand that have no place */
    homeless: homeless?.n ?? 0,
    /** to print a label for each; '' where there is no place */
    labelsHref:
      rows.length === 0
        ? ''
        : address('/setup/labels/runs/new', { things: rows.map(({ name }) => name).join('\n') }),
    requestKey: mintKey(),
    field: drawFields(PLACE_FIELDS, renaming === undefined ? typed : {}).name,
  };
  return { view: 'shelf/place/places', data, title: 'Places', room: 'shelf' } satisfies Page;
}

const NOWHERE = 'No place';

/** As many as are walked along with at a time: some sheets of paper. */
const MOST_WALKED = 100;

/** The pieces on the shelf by where they lie, to print and walk along with. */
export function placeListPage(
  reader: Reader,
  query: unknown,
  { units }: Asker,
  { readNeeded }: Pick<ShelfTold, 'readNeeded'>,
) {
  const places = readPlacesInUse(reader);
  const total = places.reduce((sum, { pieces }) => sum + pieces, 0);
  const slice = sliceOf(query, { total, noun: 'pieces', path: '/shelf/by-place', rows: MOST_WALKED });
  const needed = readNeeded(reader);
  const rows = readLyingIn(reader, groupsOnPage(places, slice));
  const shaped = shapeShelfPieces(reader, rows, units, needed);
  const data = {
    waiting: needed.waiting,
    places: [...grouped(shaped, ({ place }) => place)].map(([name, pieces]) => ({
      name: name || NOWHERE,
      pieces,
    })),
    /** of the whole shelf */
    pieces: total,
    placesInUse: places.length,
    pager: slice.pager,
  };
  return { view: 'shelf/place/list', data, title: 'The shelf by place', room: 'shelf' } satisfies Page;
}

type PlaceInUse = ReturnType<typeof readPlacesInUse>[number];

const placesInUse = prepared((db) =>
  db
    .selectFrom((of) =>
      of
        .selectFrom('piece')
        .select((each) => ['piece.place_id as id', each.fn.countAll<number>().as('pieces')])
        .where('piece.on_hand_ticks', '>', 0)
        .groupBy('piece.place_id')
        .as('counts'),
    )
    .leftJoin('place', 'place.id', 'counts.id')
    .select(['counts.id', 'counts.pieces'])
    .orderBy('place.name', (by) => by.asc().nullsLast()),
);

/** How many pieces lie in each place, those without a place last. */
const readPlacesInUse = keptUntilWritten((reader: Reader) => reader.all(placesInUse()));

type LyingAsked = ShapeOf<{
  readonly ids: readonly number[];
  readonly withoutPlace: boolean;
  readonly skip: number;
}>;

const lyingIn = preparedByShape((db, { ids, withoutPlace, skip }: LyingAsked) =>
  selectPieces(db)
    .where('piece.on_hand_ticks', '>', 0)
    .where((of) =>
      of.or([
        of('piece.place_id', 'in', inList(ids)),
        ...(withoutPlace ? [of('piece.place_id', 'is', null)] : []),
      ]),
    )
    .orderBy('place.name', (by) => by.asc().nullsLast())
    .orderBy('cloth.name')
    .orderBy('shade.name')
    .orderBy('piece.id')
    .limit(MOST_WALKED)
    .offset(skip),
);

function readLyingIn(reader: Reader, { here, skip }: { here: readonly PlaceInUse[]; skip: number }) {
  const ids = here.flatMap(({ id }) => id ?? []);
  const withoutPlace = here.some(({ id }) => id === null);
  return reader.all(lyingIn({ ids, withoutPlace, skip }));
}
