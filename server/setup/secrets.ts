import type { Reader } from '../database/book.ts';
import { mintKey } from '../kit/request-key.ts';
import { drawPassphrase } from '../let-in/passphrase.ts';
import { readSecrets } from '../let-in/secrets.ts';
import { conflict } from '../refusal.ts';
import type { Page } from '../web/page-frame.ts';
import { readPerson } from './people.ts';

/** A PIN that was just drawn; it is shown once, and the book keeps its hash. */
export function pinPage(name: string, pin: string) {
  return { view: 'setup/pin', data: { name, pin }, title: `PIN of ${name}`, room: 'setup' } satisfies Page;
}

/** Choosing a passphrase; whoever has one must give it first. */
export async function passphrasePage(reader: Reader, personId: number, askerId: number) {
  const person = readKeeper(reader, personId);
  const has = readSecrets(reader).some((one) => one.kind === 'passphrase' && one.personId === askerId);
  const data = {
    requestKey: mintKey(),
    action: `/setup/people/${personId}/passphrase`,
    isOwn: personId === askerId,
    asksForOwn: has,
    /** words to take, if one likes */
    offered: await drawPassphrase(),
  };
  return {
    view: 'setup/passphrase',
    data,
    title: `Passphrase of ${person.name}`,
    room: 'setup',
  } satisfies Page;
}

export function readKeeper(reader: Reader, personId: number) {
  const person = readPerson(reader, personId);
  if (person.role !== 'keeper' || person.left_at !== null)
    throw conflict(`${person.name} is no keeper, and needs no passphrase.`, {
      text: 'People',
      href: '/setup/people',
    });
  return person;
}
