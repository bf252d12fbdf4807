import { execFileSync } from 'node:child_process';
import { closeSync, copyFileSync, cpSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { buildApp } from '../../server/app.ts';
import type { Book } from '../../server/database/book.ts';
import { openBook } from '../../server/database/open.ts';
import { checkBalances } from '../../server/ledger/check.ts';
import { afterEachTest } from '../after-each.ts';
import { startChild } from '../child.ts';
import { newKey } from '../server/support.ts';

const folders: string[] = [];
const serving = new Set<Serving>();

afterEachTest(async () => {
  for (const one of serving) await one.stop();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-fault-'));
  folders.push(folder);
  return folder;
}

export interface Reply {
  readonly status: number;
  readonly text: string;
}

export interface Serving {
  readonly book: Book;
  readonly origin: string;
  /** what was said while it was opened */
  readonly said: readonly string[];
  page(path: string): Promise<Reply>;
  /** A header that comes with the data of a page. */
  header(path: string, name: string): Promise<string | null>;
  addPerson(name: string): Promise<Reply>;
  stop(): Promise<void>;
}

/** Opens the book of a folder as the command "serve" does, and serves it. */
export async function serveFolder(folder: string): Promise<Serving> {
  const said: string[] = [];
  const book = await openBook(folder, {
    clock: () => new Date(),
    prove: checkBalances,
    say: (sentence) => said.push(sentence),
  });
  const app = buildApp(book);
  const origin = await app.listen({ host: '127.0.0.1', port: 0 });
  const ask = async (path: string, init: RequestInit): Promise<Reply> => {
    const reply = await fetch(`${origin}${path}`, init);
    return { status: reply.status, text: await reply.text() };
  };
  const one: Serving = {
    book,
    origin,
    said,
    page: (path) => ask(path, { headers: { accept: 'text/html' } }),
    header: async (path, name) => {
      const reply = await fetch(`${origin}${path}`, { headers: { accept: 'application/json' } });
      await reply.text();
      return reply.headers.get(name);
    },
    addPerson: (name) =>
      ask('/setup/people', {
        method: 'POST',
        headers: { accept: 'application/json', 'content-type': 'application/json', origin },
        body: JSON.stringify({ request_key: newKey(), name, length_system: 'metric' }),
      }),
    stop: async () => {
      serving.delete(one);
      await app.close();
      book.close();
    },
  };
  serving.add(one);
  return one;
}

/** A folder with a closed book in which these people work. */
export async function folderWith(...names: string[]): Promise<string> {
  const folder = newFolder();
  const one = await serveFolder(folder);
  for (const name of names) await one.addPerson(name);
  await one.stop();
  return folder;
}

/** The folder as a power cut would leave it: what was answered last is in the write-ahead file alone. */
export async function folderAfterCrash(folder: string, ...names: string[]): Promise<string> {
  const one = await serveFolder(folder);
  for (const name of names) {
    const { status } = await one.addPerson(name);
    if (status !== 200) throw new Error(`adding ${name} was answered with ${status}`);
  }
  const crashed = newFolder();
  // In a process of its own: reading the files here would drop the locks on them.
  execFileSync('cp', ['-r', `${folder}/.`, crashed]);
  await one.stop();
  return crashed;
}

export function copyFiles(from: string, to: string, ...names: string[]): void {
  for (const name of names) copyFileSync(join(from, name), join(to, name));
}

/** A copy of a folder with a closed book, after statements of a program that minds no rule. */
export function copyAfter(folder: string, ...statements: string[]): string {
  const copy = newFolder();
  cpSync(folder, copy, { recursive: true });
  const raw = new BetterSqlite3(join(copy, 'clothroom.db'));
  raw.pragma('foreign_keys = OFF');
  for (const one of statements) raw.exec(one);
  raw.close();
  return copy;
}

/** A copy of a folder with a closed book in which these pages are ruined, the first of which is number 1. */
export function copyRuined(folder: string, pages: readonly number[], fill = 0x5a): string {
  const copy = newFolder();
  cpSync(folder, copy, { recursive: true });
  ruinPages(join(copy, 'clothroom.db'), pages, fill);
  return copy;
}

export function ruinPages(file: string, pages: readonly number[], fill = 0x5a): void {
  const size = 4096;
  const handle = openSync(file, 'r+');
  for (const page of pages) writeSync(handle, Buffer.alloc(size, fill), 0, size, (page - 1) * size);
  closeSync(handle);
}

/** Another program that opens the book and runs a statement; its line says what came of it. */
export function otherProgram(folder: string, sql: string) {
  return startChild(new URL('other-program.child.ts', import.meta.url), [join(folder, 'clothroom.db'), sql]);
}
