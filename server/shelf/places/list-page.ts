import type { Reader } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type PieceRow, selectPieces, shapeShelfPieces } from '../piece/list.ts';

export interface PlaceListData {
  readonly places: readonly { readonly name: string; readonly pieces: readonly PieceRow[] }[];
  readonly pieces: number;
}

const NOWHERE = 'No place';

/** Every piece on the shelf by where it lies, to print and walk along with. */
export function placeListPage(reader: Reader, { units }: Asker): Page {
  const rows = reader.all(
    selectPieces(reader)
      .where('piece.on_hand_ticks', '>', 0)
      .orderBy('place.name')
      .orderBy('cloth.name')
      .orderBy('shade.name')
      .orderBy('piece.id'),
  );
  const shaped = shapeShelfPieces(reader, rows, units);
  const places = [...grouped(shaped, ({ place }) => place)].sort(
    ([a], [b]) => Number(a === '') - Number(b === ''),
  );
  const data: PlaceListData = {
    places: places.map(([name, pieces]) => ({ name: name || NOWHERE, pieces })),
    pieces: shaped.length,
  };
  return { view: 'shelf/places/list', data, title: 'The shelf by place', room: 'shelf' };
}
