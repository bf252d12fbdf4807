import { z } from 'zod';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { choiceField, textField } from '../kit/fields.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import { refuseSameName } from '../kit/same-name.ts';
import type { Typed } from '../kit/typed.ts';
import { showMoment } from '../kit/when.ts';
import type { SecretKind } from '../let-in/hashing.ts';
import { MOST_FAILURES, readSecrets } from '../let-in/secrets.ts';
import { signOutEverywhere } from '../let-in/sign-ins.ts';
import { conflict, unknown } from '../refusal.ts';
import type { Page } from '../web/page-frame.ts';

const PERSON_FIELDS = {
  name: textField({ max: 60, what: 'The name', label: 'Name' }),
  length_system: choiceField(['', 'metric', 'imperial'], 'the units', {
    label: 'Reads lengths',
    options: [
      { value: '', label: 'as the workroom' },
      { value: 'metric', label: 'metres and centimetres' },
      { value: 'imperial', label: 'yards and inches' },
    ],
  }),
  role: choiceField(['', 'keeper', 'hand'], 'the role', {
    label: 'May, while the network is on',
    hint: 'A hand cuts, holds and logs, and sees no prices.',
    options: [
      { value: 'keeper', label: 'do everything (keeper)' },
      { value: 'hand', label: 'cut, hold and log (hand)' },
    ],
  }),
};

export const PERSON_FORM = z.strictObject(PERSON_FIELDS);
export type PersonForm = z.output<typeof PERSON_FORM>;

/**
 * The people of the workroom, each with the units they read in, and the form that adds one.
 *
 * @param refused what was typed into a form that was refused, and whose it is; null of somebody to be added
 */
export function peoplePage(
  reader: Reader,
  refused: { readonly personId: number | null; readonly typed: Typed } = { personId: null, typed: {} },
) {
  const rows = reader.all(reader.db.selectFrom('person').selectAll().orderBy('name'));
  const secrets = readSecrets(reader);
  const people = rows.map((row) => ({
    id: row.id,
    name: row.name,
    isRefused: refused.personId === row.id,
    fields: drawFields(
      PERSON_FIELDS,
      refused.personId === row.id
        ? refused.typed
        : { name: row.name, length_system: row.length_system ?? '', role: row.role },
    ),
    isKeeper: row.role === 'keeper',
    ...sayEntry(secrets.filter(({ personId }) => personId === row.id)),
    /** when they left, or '' */
    leftAt: row.left_at === null ? '' : showMoment(row.left_at),
    requestKey: mintKey(),
  }));
  const data = {
    requestKey: mintKey(),
    people: people.filter((person) => person.leftAt === ''),
    gone: people.filter((person) => person.leftAt !== ''),
    /** whether somebody to be added was refused, or nobody */
    asksNew: refused.personId === null,
    fields: drawFields(PERSON_FIELDS, refused.personId === null ? refused.typed : {}),
  };
  return { view: 'setup/people', data, title: 'People', room: 'setup' } satisfies Page;
}

/** What a person signs in with, and what is locked. */
function sayEntry(secrets: ReturnType<typeof readSecrets>) {
  const has = (kind: SecretKind) => secrets.some((secret) => secret.kind === kind);
  const isLocked = ({ kind, failures }: (typeof secrets)[number]) => failures >= MOST_FAILURES[kind];
  return {
    hasPin: has('pin'),
    hasPassphrase: has('passphrase'),
    /** '' where nothing is */
    locked: secrets
      .filter(isLocked)
      .map(({ kind }) => (kind === 'pin' ? 'PIN' : 'passphrase'))
      .join(' and '),
  };
}

export function addPerson(tx: Tx, form: PersonForm): Answer {
  refuseSameName(tx, { table: 'person', name: form.name, id: null, hrefOf: () => '/setup/people' });
  tx.run(
    tx.db
      .insertInto('person')
      .values({ ...columnsOf(form), role: form.role === '' ? 'keeper' : form.role, left_at: null }),
  );
  return { location: '/setup/people', said: `${form.name} works here now.` };
}

/** Changes a person's name or units. Entries keep pointing at the person, so the new name shows there too. */
export function changePerson(tx: Tx, personId: number, form: PersonForm): Answer {
  readPerson(tx, personId);
  refuseSameName(tx, { table: 'person', name: form.name, id: personId, hrefOf: () => '/setup/people' });
  const { role } = form;
  if (role === 'hand') demandOtherKeeper(tx, personId);
  const changed = { ...columnsOf(form), ...(role !== '' && { role }) };
  tx.run(tx.db.updateTable('person').set(changed).where('id', '=', personId));
  return { location: '/setup/people', said: `${form.name} is changed.` };
}

function columnsOf({ name, length_system: system }: PersonForm) {
  return { name, length_system: system === '' ? null : system };
}

/** A person who left is not offered any more; what they did stays under their name. */
export function markLeft(tx: Tx, personId: number, left: boolean): Answer {
  const person = readPerson(tx, personId);
  if (left) {
    const others = tx.first(
      tx.db.selectFrom('person').select('id').where('left_at', 'is', null).where('id', '<>', personId),
    );
    if (!others) throw conflict(`${person.name} is the only one who works here, and somebody has to.`);
    if (person.role === 'keeper') demandOtherKeeper(tx, personId);
    signOutEverywhere(tx, tx.run, personId);
  }
  tx.run(
    tx.db
      .updateTable('person')
      .set({ left_at: left ? tx.at : null })
      .where('id', '=', personId),
  );
  const said = left ? `${person.name} has left.` : `${person.name} is back.`;
  return { location: '/setup/people', said };
}

/** Somebody must be able to do everything. */
function demandOtherKeeper(tx: Tx, personId: number): void {
  const other = tx.first(
    tx.db
      .selectFrom('person')
      .select('id')
      .where('role', '=', 'keeper')
      .where('left_at', 'is', null)
      .where('id', '<>', personId),
  );
  if (!other) throw conflict('Nobody else is a keeper, and somebody has to be.');
}

export function readPerson(reader: Reader, personId: number) {
  const person = reader.first(reader.db.selectFrom('person').selectAll().where('id', '=', personId));
  if (!person) throw unknown('such person');
  return person;
}
