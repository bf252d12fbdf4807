import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { backUp } from '../../server/copies/from-terminal.ts';
import { proveCopy } from '../../server/copies/proof.ts';
import { putBack } from '../../server/copies/put-back.ts';
import { COPIES, copiesIn, FILE, SET_ASIDE } from '../../server/database/folder.ts';
import { migrate, readMigrationSteps } from '../../server/database/migrate.ts';
import { openBook } from '../../server/database/open.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { exported } from '../server/copies/opened.ts';
import { makeStock, makeTier, openTestBook } from '../server/support.ts';
import { newFolder } from './door.ts';
import { AS_REPLAYED, replay } from './replayed.ts';
import { isFull, PATIENCE_MS, report, times } from './scale.ts';
import { canTrace, countCalls, type DiskCall, spoil, type Traced, trace } from './traced.ts';

const WORK = new URL('work.child.ts', import.meta.url);
const WRITER = new URL('writer.child.ts', import.meta.url);
const LANES = 2;

/** What becomes of a call: the program is killed at it, or it fails as on a failing or a full disk. */
const HOW = { kill: 'signal=SIGKILL', EIO: 'error=EIO', ENOSPC: 'error=ENOSPC' } as const;
type How = keyof typeof HOW;

/** one call, by its number among those of its kind, and what becomes of it */
type Point = readonly [DiskCall, How, number];

interface Work {
  readonly script: URL;
  /** Sets everything up anew; gives the arguments for the script. */
  begin(): Promise<readonly string[]>;
  /** Looks at what is left after a fault. */
  after(args: readonly string[], traced: Traced, how: How): Promise<void>;
  /** one call of each that the short form tries */
  readonly some: readonly Point[];
}

/** The book opens as it does after any crash, and everything in it agrees; gives what is wanted from it. */
async function sound<T>(folder: string, look: (connection: BetterSqlite3.Database) => T): Promise<T> {
  const book = await openBook(folder, { clock: () => new Date() });
  try {
    expect(book.trouble).toBeNull();
    expect(checkBook(book).findings).toEqual([]);
    return look(book.connection);
  } finally {
    book.close();
  }
}

const peopleIn = (connection: BetterSqlite3.Database) =>
  connection.prepare('SELECT count(*) FROM person').pluck().get();

async function folderWithStock() {
  const { write, putDown, close } = await openTestBook();
  const ids = write((tx) => {
    const stock = makeStock(tx);
    return [stock.lotId, makeTier(tx, stock)];
  });
  const folder = putDown();
  close();
  return { folder, ids: ids.map(String) };
}

/** A book of a form some steps back, with a place in it. */
function olderBook(): string {
  const folder = newFolder();
  const raw = new BetterSqlite3(join(folder, FILE));
  raw.pragma('journal_mode = WAL');
  migrate(raw, readMigrationSteps().slice(0, 22), 0);
  raw.exec("INSERT INTO place (name) VALUES ('Rack A')");
  raw.close();
  return folder;
}

const WORKS: Readonly<Record<string, Work>> = {
  'writing to the book': {
    script: WRITER,
    async begin() {
      const { folder, ids } = await folderWithStock();
      return [folder, 'after', ...ids, '6'];
    },
    async after([folder = ''], { lines }) {
      const keys = await sound(
        folder,
        (connection) => new Set(connection.prepare('SELECT key FROM request').pluck().all() as string[]),
      );
      for (const line of lines) {
        const [key = '', came = ''] = line.split(' ');
        expect(keys.has(key), line).toBe(came !== 'unsaved');
      }
      expect([...keys].filter((key) => key.startsWith('request-')).length).toBeLessThanOrEqual(
        lines.filter((line) => !line.endsWith('unsaved')).length + 1,
      );
    },
    some: [
      ['pwrite64', 'kill', 30],
      ['pwrite64', 'ENOSPC', 30],
    ],
  },
  'making the first book': {
    script: WORK,
    begin: async () => ['begin', newFolder()],
    async after([, folder = '']) {
      expect(await sound(folder, peopleIn)).toBe(1);
    },
    some: [],
  },
  'bringing an older book up to date': {
    script: WORK,
    begin: async () => ['newer', olderBook()],
    async after([, folder = '']) {
      const places = await sound(folder, (connection) =>
        connection.prepare('SELECT name FROM place').pluck().all(),
      );
      expect(places).toEqual(['Rack A']);
      for (const name of readdirSync(folder)) {
        if (!/^before-version-.*\.db$/.test(name)) continue;
        expect(proveCopy(join(folder, name), 'whole').findings, name).toEqual([]);
      }
    },
    some: [['pwrite64', 'kill', 200]],
  },
  'making a copy': {
    script: WORK,
    begin: async () => ['copy', (await folderWithStock()).folder],
    async after([, folder = '']) {
      expect(await sound(folder, peopleIn)).toBe(1);
      const copies = join(folder, COPIES);
      for (const { name } of copiesIn(copies))
        expect(proveCopy(join(copies, name), 'whole').findings, name).toEqual([]);
      // What was half made goes with the next copy, which is proven.
      const { path } = await backUp(folder, null, '2031-01-01T00:00:00.000Z');
      expect(proveCopy(path, 'whole').findings).toEqual([]);
    },
    some: [['pwrite64', 'kill', 60]],
  },
  'putting a copy back': {
    script: WORK,
    async begin() {
      const { folder } = await folderWithStock();
      const { path } = await backUp(folder, newFolder(), '2030-01-01T00:00:00.000Z');
      const book = await openBook(folder, { clock: () => new Date() });
      book.write({ key: 'later-key', asked: null, personId: 1 }, (tx) => {
        tx.run(tx.db.insertInto('place').values({ name: 'Rack B' }));
        return { location: '/', said: 'Done.' };
      });
      // As after a power cut: what was written last is in the write-ahead file alone.
      const crashed = newFolder();
      execFileSync('cp', ['-r', `${folder}/.`, crashed]);
      book.close();
      return ['restore', crashed, path];
    },
    async after([, folder = '', path = '']) {
      const formerBooks = () =>
        ['', ...readdirSync(folder).filter((name) => name.startsWith(SET_ASIDE))]
          .map((name) => join(folder, name))
          .filter((place) => existsSync(join(place, FILE)) && exported(place).includes('Rack B'));
      // Whatever was done of it, the former book is whole in its place or beside it, and it can be done again.
      expect(formerBooks()).toHaveLength(1);
      putBack(path, folder, '2032-01-01T00:00:00.000Z');
      expect(exported(folder)).not.toContain('Rack B');
      expect(formerBooks()).toHaveLength(1);
      await sound(folder, peopleIn);
    },
    some: [
      ['rename', 'kill', 2],
      ['rename', 'kill', 3],
    ],
  },
};

/** Spoils one call of a program that sets out on the work; true where it came to that call. */
async function tryOne(work: Work, call: DiskCall, how: How, at: number): Promise<boolean> {
  const args = await work.begin();
  const traced = await spoil(call, at, HOW[how], work.script, args);
  try {
    await work.after(args, traced, how);
  } catch (error) {
    throw new Error(
      `${how} at ${call} ${at}: ${(error as Error).message}\n${traced.lines.join('\n')}\n${traced.err}`,
    );
  }
  const folder = args.find((arg) => arg.startsWith('/')) ?? '';
  rmSync(folder, { recursive: true, force: true });
  return traced.log.includes('INJECTED') || traced.log.includes('killed by SIGKILL');
}

/** Each kind of fault at each call of a work, or those that the short form tries. */
async function pointsOf(work: Work): Promise<readonly Point[]> {
  if (!isFull) return work.some;
  // What the engine compiles at the first run is written by no other.
  await countCalls(work.script, await work.begin());
  const counts = await countCalls(work.script, await work.begin());
  return [...counts].flatMap(([call, count]) =>
    Array.from({ length: count }, (_, at) => at + 1)
      // A migration writes a thousand pages alike before it syncs any: a kill at each of them is replayed below.
      .filter((at) => count < 400 || at % 20 === 0)
      .flatMap((at) => {
        const hows = Object.keys(HOW) as How[];
        return hows
          .filter((how) => how === 'kill' || count < 20 || at % 6 === 0)
          .map((how): Point => [call, how, at]);
      }),
  );
}

describe.skipIf(!canTrace)('a fault at any write or sync', () => {
  it.each(Object.keys(WORKS))(
    'while %s leaves a sound book with all that was told',
    async (name) => {
      const work = WORKS[name] as Work;
      const points = await pointsOf(work);
      const left = [...points];
      const wrong: string[] = [];
      const missed: string[] = [];
      const lane = async () => {
        for (let point = left.shift(); point; point = left.shift()) {
          const [call, how, at] = point;
          try {
            if (!(await tryOne(work, call, how, at))) missed.push(`${how} at ${call} ${at}`);
          } catch (error) {
            wrong.push((error as Error).message);
          }
        }
      };
      await Promise.all(Array.from({ length: LANES }, lane));
      expect(wrong.slice(0, 5)).toEqual([]);
      // The lengths that are cut differ, and so how many pages are written.
      expect(missed.length, missed.join()).toBeLessThanOrEqual(points.length / 4);
      report(`faults while ${name}`, { points: points.length, met: points.length - missed.length });
    },
    PATIENCE_MS,
  );
});

/** The works that one thread does, whose calls follow one another as they were recorded. */
const OF_ONE_THREAD = ['writing to the book', 'making the first book', 'bringing an older book up to date'];
const REPLAYS_LEFT_OUT = times(40, 1);

describe.skipIf(!canTrace)('a kill at each call', () => {
  it.each(OF_ONE_THREAD)(
    'while %s, as the calls of one run are done again up to it, leaves a sound book with all that was told',
    async (name) => {
      const work = WORKS[name] as Work;
      const args = await work.begin();
      const folder = args.find((arg) => arg.startsWith('/')) ?? '';
      // In memory where the system has a disk of it: each trial copies a whole book.
      const place = mkdtempSync(join(existsSync('/dev/shm') ? '/dev/shm' : tmpdir(), 'clothroom-replay-'));
      const [replica, scratch] = [join(place, 'replica'), join(place, 'scratch')];
      cpSync(folder, replica, { recursive: true });
      const { log, status, err } = await trace(AS_REPLAYED, work.script, args);
      expect({ status, err }).toEqual({ status: 0, err: '' });
      const counts: Record<string, number> = {};
      let tried = 0;
      let calls = 0;
      for (const { call, told } of replay(log, folder, replica)) {
        calls += 1;
        counts[call] = (counts[call] ?? 0) + 1;
        if (calls % REPLAYS_LEFT_OUT !== 0) continue;
        tried += 1;
        rmSync(scratch, { recursive: true, force: true });
        cpSync(replica, scratch, { recursive: true });
        const moved = args.map((arg) => (arg === folder ? scratch : arg));
        const traced: Traced = { status: null, lines: told, err: '', log: '' };
        try {
          await work.after(moved, traced, 'kill');
        } catch (error) {
          throw new Error(`${call}, call ${calls}: ${(error as Error).message}`);
        }
      }
      // Every call was done again as it was: both folders hold the same bytes.
      for (const file of readdirSync(folder))
        expect(readFileSync(join(replica, file)).equals(readFileSync(join(folder, file))), file).toBe(true);
      expect(readdirSync(replica).sort()).toEqual(readdirSync(folder).sort());
      expect(tried).toBeGreaterThan(3);
      report(`kills replayed while ${name}`, { tried, ...counts });
      rmSync(place, { recursive: true, force: true });
      rmSync(folder, { recursive: true, force: true });
    },
    PATIENCE_MS,
  );
});
