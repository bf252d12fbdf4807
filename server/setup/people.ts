import type { Answer, Reader, Tx } from '../database/book.ts';
import { invalid } from '../refusal.ts';
import type { Typed } from '../web/body.ts';
import type { Page } from '../web/page.ts';
import { mintKey } from '../web/request-key.ts';

export interface PeoplePageData {
  readonly requestKey: string;
  readonly people: readonly { readonly id: number; readonly name: string }[];
  readonly typed: { readonly name: string };
}

/** The people of the workroom, and the form that adds one. */
export function peoplePage(reader: Reader, typed: Typed = {}): Page {
  const people = reader.all(
    reader.db.selectFrom('person').select(['id', 'name']).where('left_at', 'is', null).orderBy('name'),
  );
  const data: PeoplePageData = { requestKey: mintKey(), people, typed: { name: typed.name ?? '' } };
  return { view: 'setup/people', data, title: 'People', room: 'setup' };
}

export function addPerson(tx: Tx, form: { readonly name: string }): Answer {
  const same = tx.first(tx.db.selectFrom('person').select('id').where('name', '=', form.name));
  if (same) throw invalid('name', `${form.name} is there already.`);
  tx.run(tx.db.insertInto('person').values({ name: form.name, length_system: null, left_at: null }));
  return { location: '/setup/people', said: `${form.name} works here now.` };
}
