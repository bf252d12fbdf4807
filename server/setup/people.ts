import type { Answer, Reader, Tx } from '../database/book.ts';
import { mintKey } from '../kit/request-key.ts';
import { refuseSameName } from '../kit/same-name.ts';
import type { Typed } from '../kit/typed.ts';
import { showMoment } from '../kit/when.ts';
import { conflict, unknown } from '../refusal.ts';
import type { Page } from '../web/page-frame.ts';

export const LENGTH_SYSTEMS = ['', 'metric', 'imperial'] as const;
export type LengthSystemChoice = (typeof LENGTH_SYSTEMS)[number];

export interface PersonRow {
  readonly id: number;
  readonly name: string;
  readonly lengthSystem: LengthSystemChoice;
  /** when they left, or '' */
  readonly leftAt: string;
  readonly requestKey: string;
}

export interface PeoplePageData {
  readonly requestKey: string;
  readonly people: readonly PersonRow[];
  readonly gone: readonly PersonRow[];
  readonly typed: { readonly name: string; readonly lengthSystem: string };
}

/** The people of the workroom, each with the units they read in, and the form that adds one. */
export function peoplePage(reader: Reader, typed: Typed = {}): Page {
  const rows = reader.all(reader.db.selectFrom('person').selectAll().orderBy('name'));
  const people = rows.map((row) => ({
    id: row.id,
    name: row.name,
    lengthSystem: row.length_system ?? ('' as const),
    leftAt: row.left_at === null ? '' : showMoment(row.left_at),
    requestKey: mintKey(),
  }));
  const data: PeoplePageData = {
    requestKey: mintKey(),
    people: people.filter((person) => person.leftAt === ''),
    gone: people.filter((person) => person.leftAt !== ''),
    typed: { name: typed.name ?? '', lengthSystem: typed.length_system ?? '' },
  };
  return { view: 'setup/people', data, title: 'People', room: 'setup' };
}

export function addPerson(tx: Tx, form: { name: string; length_system: LengthSystemChoice }): Answer {
  refuseSameName(tx, { table: 'person', name: form.name, id: null, hrefOf: () => '/setup/people' });
  const length_system = form.length_system === '' ? null : form.length_system;
  tx.run(tx.db.insertInto('person').values({ name: form.name, length_system, left_at: null }));
  return { location: '/setup/people', said: `${form.name} works here now.` };
}

/** Changes a person's name or units. Entries keep pointing at the person, so the new name shows there too. */
export function changePerson(
  tx: Tx,
  personId: number,
  form: { name: string; length_system: LengthSystemChoice },
): Answer {
  readPerson(tx, personId);
  refuseSameName(tx, { table: 'person', name: form.name, id: personId, hrefOf: () => '/setup/people' });
  const length_system = form.length_system === '' ? null : form.length_system;
  tx.run(tx.db.updateTable('person').set({ name: form.name, length_system }).where('id', '=', personId));
  return { location: '/setup/people', said: `${form.name} is changed.` };
}

/** A person who left is not offered any more; what they did stays under their name. */
export function markLeft(tx: Tx, personId: number, left: boolean): Answer {
  const person = readPerson(tx, personId);
  if (left) {
    const others = tx.first(
      tx.db.selectFrom('person').select('id').where('left_at', 'is', null).where('id', '<>', personId),
    );
    if (!others) throw conflict(`${person.name} is the only one who works here, and somebody has to.`);
  }
  tx.run(
    tx.db
      .updateTable('person')
      .set({ left_at: left ? tx.at : null })
      .where('id', '=', personId),
  );
  const said = left ? `${person.name} works here no longer.` : `${person.name} works here again.`;
  return { location: '/setup/people', said };
}

function readPerson(reader: Reader, personId: number) {
  const person = reader.first(reader.db.selectFrom('person').selectAll().where('id', '=', personId));
  if (!person) throw unknown('such person');
  return person;
}
