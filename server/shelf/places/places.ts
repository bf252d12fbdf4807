import { z } from 'zod';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { textField } from '../../kit/fields.ts';
import { mintKey } from '../../kit/request-key.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import type { Typed } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';
import type { Page } from '../../web/page-frame.ts';

export const PLACE_FORM = z.strictObject({ name: textField({ max: 60, label: 'The name' }) });
type PlaceForm = z.output<typeof PLACE_FORM>;

export interface PlacesPageData {
  readonly places: readonly PlaceRow[];
  /** pieces on hand that have no place */
  readonly homeless: number;
  /** to print a label for each; '' where there is no place */
  readonly labelsHref: string;
  readonly requestKey: string;
  readonly typed: { readonly name: string };
}

interface PlaceRow {
  readonly id: number;
  readonly name: string;
  readonly pieces: number;
  readonly href: string;
  /** to print a label for each of its pieces; '' where it has none */
  readonly labelsHref: string;
  readonly renaming: {
    readonly action: string;
    readonly requestKey: string;
    readonly open: boolean;
    readonly name: string;
  };
}

/** The places of the shelf; `renaming` is the place whose new name was refused. */
export function placesPage(reader: Reader, options: { renaming?: number; typed?: Typed } = {}): Page {
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
  const data: PlacesPageData = {
    places: rows.map((row) => ({
      id: row.id,
      name: row.name,
      pieces: row.pieces ?? 0,
      href: shelfOf(row.id),
      labelsHref: row.pieces ? address('/setup/labels/runs/new', { place: row.id }) : '',
      renaming: {
        action: `/shelf/places/${row.id}/names`,
        requestKey: mintKey(),
        open: renaming === row.id,
        name: renaming === row.id ? (typed.name ?? '') : row.name,
      },
    })),
    homeless: homeless?.n ?? 0,
    labelsHref:
      rows.length === 0
        ? ''
        : address('/setup/labels/runs/new', { things: rows.map(({ name }) => name).join('\n') }),
    requestKey: mintKey(),
    typed: { name: renaming === undefined ? (typed.name ?? '') : '' },
  };
  return { view: 'shelf/places/places', data, title: 'Places', room: 'shelf' };
}

export function addPlace(tx: Tx, form: PlaceForm): Answer {
  refuseSameName(tx, { table: 'place', name: form.name, id: null, hrefOf: shelfOf });
  tx.run(tx.db.insertInto('place').values({ name: form.name }));
  return { location: '/shelf/places', said: `${form.name} is a place of the shelf now.` };
}

/** Gives a place another name; its pieces stay in it. */
export function renamePlace(tx: Tx, placeId: number, form: PlaceForm): Answer {
  const place = tx.first(tx.db.selectFrom('place').select('name').where('id', '=', placeId));
  if (!place) throw unknown('such place');
  refuseSameName(tx, { table: 'place', name: form.name, id: placeId, hrefOf: shelfOf });
  tx.run(tx.db.updateTable('place').set({ name: form.name }).where('id', '=', placeId));
  return { location: '/shelf/places', said: `${place.name} is called ${form.name} now.` };
}

/** The shelf, as far as it lies in one place. */
function shelfOf(placeId: number): string {
  return address('/shelf', { place: placeId });
}
