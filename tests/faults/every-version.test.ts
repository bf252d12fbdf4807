import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import BetterSqlite3 from 'better-sqlite3';
import { afterEach, describe, expect, it } from 'vitest';
import { FILE } from '../../server/database/folder.ts';
import { migrate, readMigrationSteps } from '../../server/database/migrate.ts';
import { openBook } from '../../server/database/open.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { startChild } from '../child.ts';
import { killPrograms, runProgram } from '../program.ts';
import { newFolder } from './door.ts';
import { isFull, PATIENCE_MS, report } from './scale.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const steps = readMigrationSteps();

afterEach(killPrograms);

const git = (...args: string[]) => execFileSync('git', args, { cwd: ROOT, encoding: 'utf8' }).trim();

/** The last commit of each form of the book that ever landed, oldest first; nothing where the history is not there. */
function landed(): { readonly version: number; readonly commit: string }[] {
  if (spawnSync('git', ['rev-parse', 'HEAD'], { cwd: ROOT }).status !== 0) return [];
  const began = git('log', '--reverse', '--format=%H', '--diff-filter=A', '--', 'migrations').split('\n');
  return began.map((commit, at) => {
    const next = began[at + 1];
    const last = next ? git('rev-parse', `${next}~1`) : git('rev-parse', 'HEAD');
    const version = git('ls-tree', '--name-only', commit, 'migrations/').split('\n').length;
    return { version, commit: last };
  });
}

/** The invented workroom, in the book that the program of a commit makes of it; the folder with the book, closed. */
async function workroomOf(commit: string): Promise<string> {
  const home = newFolder();
  const program = join(home, 'program');
  mkdirSync(program);
  const folder = newFolder();
  const tar = join(home, 'program.tar');
  git('archive', '--output', tar, commit);
  execFileSync('tar', ['xf', tar, '-C', program]);
  symlinkSync(join(ROOT, 'node_modules'), join(program, 'node_modules'));
  // The older ones look for a package that ran their TypeScript, which Node does by itself now.
  const runner = join(home, 'node_modules', 'tsx', 'esm', 'api');
  mkdirSync(runner, { recursive: true });
  writeFileSync(join(runner, 'package.json'), '{ "main": "index.mjs" }');
  writeFileSync(join(runner, 'index.mjs'), 'export const register = () => undefined;');
  // The program itself, without what it keeps of itself beside it.
  const { said, child, ended } = runProgram(
    process.execPath,
    ['server/main.ts', 'demo', '--data', folder, '--port', '0'],
    program,
  );
  while (!said.out.includes('\n')) {
    if (child.exitCode !== null) throw new Error(`${commit} did not start: ${said.err}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  child.kill('SIGTERM');
  await ended;
  rmSync(home, { recursive: true, force: true });
  return folder;
}

/** A book of an older form with a place in it and nothing else. */
function bareBook(version: number): string {
  const folder = newFolder();
  const raw = new BetterSqlite3(join(folder, FILE));
  raw.pragma('journal_mode = WAL');
  migrate(raw, steps.slice(0, version), 0);
  raw.exec("INSERT INTO place (name) VALUES ('Rack A')");
  raw.close();
  return folder;
}

function copied(folder: string): string {
  const copy = newFolder();
  mkdirSync(copy, { recursive: true });
  cpSync(folder, copy, { recursive: true });
  return copy;
}

/** What a book of some form holds, read by nothing of the program: its form, and how many rows each table has. */
function rowsIn(folder: string): Record<string, number> {
  const raw = new BetterSqlite3(join(folder, FILE));
  try {
    const tables = raw
      .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
      .pluck()
      .all() as string[];
    const count = (table: string) => raw.prepare(`SELECT count(*) FROM "${table}"`).pluck().get() as number;
    const version = raw.pragma('user_version', { simple: true }) as number;
    return { version, ...Object.fromEntries(tables.map((table) => [table, count(table)])) };
  } finally {
    raw.close();
  }
}

async function bringUpToDate(folder: string, room?: () => number): Promise<string[]> {
  const book = await openBook(folder, { clock: () => new Date(), ...(room && { room }) });
  const findings = [...(book.trouble?.findings ?? []), ...checkBook(book).findings];
  const version = book.connection.pragma('user_version', { simple: true });
  book.close();
  return version === steps.length ? findings : [...findings, `it is of version ${version}`];
}

/** Every fault of bringing one book up to date, and then the bringing itself. */
async function tryBook(folder: string, version: number, breaks: readonly number[]): Promise<void> {
  const before = rowsIn(folder);
  for (const at of breaks) {
    const copy = copied(folder);
    const child = startChild(new URL('broken-off.child.ts', import.meta.url), [copy, String(at)]);
    expect(await child.line()).toBeUndefined();
    await child.kill();
    expect(child.process.signalCode, `step ${at}`).toBe('SIGKILL');
    expect(rowsIn(copy), `broken off at step ${at}`).toEqual(before);
    expect(await bringUpToDate(copy), `after it was broken off at step ${at}`).toEqual([]);
    rmSync(copy, { recursive: true, force: true });
  }
  if (version < steps.length)
    await expect(bringUpToDate(folder, () => 100_000)).rejects.toThrow('Nothing was changed: make room');
  expect(rowsIn(folder)).toEqual(before);
  expect(await bringUpToDate(folder)).toEqual([]);
  const after = rowsIn(folder);
  // What was entered stays: no entry of the ledger and no request is lost on the way.
  for (const table of ['entry', 'request', 'piece', 'place', 'garment', 'tier'])
    expect(after[table], table).toBe(before[table]);
}

describe('a book of a former version', () => {
  it(
    'comes up to date from any form that the steps ever made',
    async () => {
      const versions = isFull ? steps.map(({ number }) => number).slice(5) : [17];
      for (const version of versions) await tryBook(bareBook(version), version, isFull ? [] : [25]);
    },
    PATIENCE_MS,
  );

  it.skipIf(!isFull || landed().length === 0)(
    'that a workroom worked in comes up to date and passes "check", after it was broken off at any step and lacked room',
    async () => {
      const former = landed();
      let breaks = 0;
      for (const { version, commit } of former) {
        const folder = await workroomOf(commit);
        expect(existsSync(join(folder, FILE))).toBe(true);
        expect(rowsIn(folder).version).toBe(version);
        const missing = steps.map(({ number }) => number).filter((number) => number > version);
        breaks += missing.length;
        await tryBook(folder, version, missing);
      }
      report('former versions', { versions: former.length, 'broken off': breaks });
    },
    PATIENCE_MS,
  );
});
