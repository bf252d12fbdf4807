import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { grouped } from '../../kit/grouped.ts';
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

/** Every piece on the shelf by where it lies, to print and walk along with. */
export function placeListPage(
  reader: Reader,
  { units }: Asker,
  { readNeeded }: Pick<ShelfTold, 'readNeeded'>,
) {
  const rows = reader.all(
    selectPieces(reader)
      .where('piece.on_hand_ticks', '>', 0)
      .orderBy('place.name')
      .orderBy('cloth.name')
      .orderBy('shade.name')
      .orderBy('piece.id'),
  );
  const needed = readNeeded(reader);
  const shaped = shapeShelfPieces(reader, rows, units, needed);
  const places = [...grouped(shaped, ({ place }) => place)].sort(
    ([a], [b]) => Number(a === '') - Number(b === ''),
  );
  const data = {
    waiting: needed.waiting,
    places: places.map(([name, pieces]) => ({ name: name || NOWHERE, pieces })),
    pieces: shaped.length,
  };
  return { view: 'shelf/place/list', data, title: 'The shelf by place', room: 'shelf' } satisfies Page;
}
