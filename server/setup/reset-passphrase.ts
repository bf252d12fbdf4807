import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import type { Book } from '../database/book.ts';
import { CannotOpen } from '../database/folder.ts';
import { readWorkroom } from '../kit/workroom.ts';
import { Hasher } from '../let-in/hashing.ts';
import { judgePassphrase } from '../let-in/passphrase.ts';
import { keepSecret } from '../let-in/secrets.ts';
import { signOutEverywhere } from '../let-in/sign-ins.ts';

/**
 * Sets a keeper's passphrase anew and signs them out everywhere; says what was done.
 * @throws {CannotOpen} with a sentence for the terminal where it cannot be set
 */
export async function resetPassphrase(
  book: Book,
  name: string,
  read: () => Promise<string>,
): Promise<string> {
  const { db } = book;
  const person = book.first(
    db
      .selectFrom('person')
      .select(['id', 'name', 'role'])
      .where('name', '=', name)
      .where('left_at', 'is', null),
  );
  if (!person) throw new CannotOpen(`nobody of the name ${name} works here`);
  if (person.role !== 'keeper') throw new CannotOpen(`${name} is no keeper, and needs no passphrase`);
  const secret = await read();
  const why = await judgePassphrase(secret, [person.name, readWorkroom(book).name]);
  if (why !== '') throw new CannotOpen(why);
  await keepSecret(book, new Hasher(), { personId: person.id, kind: 'passphrase', secret });
  book.writeAside((run) => signOutEverywhere(book, run, person.id));
  return `The passphrase of ${person.name} is set, and they are signed out everywhere.`;
}

/** Reads one line; at a terminal it is asked for, and nothing of it is shown. */
export async function readSecretLine(
  input: NodeJS.ReadStream,
  told: NodeJS.WritableStream,
  what: string,
): Promise<string> {
  if (input.isTTY) told.write(`${what}: `);
  const nowhere = new Writable({ write: (_chunk, _encoding, done) => done() });
  const lines = createInterface({ input, output: nowhere, terminal: input.isTTY });
  try {
    for await (const line of lines) return line;
    return '';
  } finally {
    lines.close();
    if (input.isTTY) told.write('\n');
  }
}
