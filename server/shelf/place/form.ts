import { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { textField } from '../../kit/fields.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import { unknown } from '../../refusal.ts';

export const PLACE_FIELDS = {
  name: textField({ max: 60, what: 'The name', label: 'Name', hint: 'Such as Rack 2, top.' }),
};

export const PLACE_FORM = z.strictObject(PLACE_FIELDS);
type PlaceForm = z.output<typeof PLACE_FORM>;

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
export function shelfOf(placeId: number): string {
  return address('/shelf', { place: placeId });
}
