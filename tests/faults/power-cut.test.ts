import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { openBook } from '../../server/database/open.ts';
import { isStrangeWriteAhead } from '../../server/database/write-ahead.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { makeStock, makeTier, openTestBook } from '../server/support.ts';
import { Disk, type Op, readRecording } from './disk.ts';
import { PATIENCE_MS, report, seededChance, times } from './scale.ts';
import { canTrace, trace } from './traced.ts';

const CUTS = times(120, 100_000);
/** Opening a book as the program does takes longer than reading it. */
const OPENED_AS_SERVED = times(3, 1000);
const FILES = ['clothroom.db', 'clothroom.db-wal'];
const CALLS = 'openat,write,pwrite64,ftruncate,fsync,fdatasync,unlink';

interface Recording {
  readonly before: ReadonlyMap<string, Buffer>;
  readonly ops: readonly Op[];
}

/** Records every change that a program makes to its folder while it carries out some requests and closes the book. */
async function record(synchronous?: 'NORMAL' | 'OFF'): Promise<Recording> {
  const { write, putDown, close } = await openTestBook();
  const { lotId, tierId } = write((tx) => {
    const stock = makeStock(tx);
    return { lotId: stock.lotId, tierId: makeTier(tx, stock) };
  });
  const folder = putDown();
  close();
  const before = new Map([['clothroom.db', readFileSync(join(folder, 'clothroom.db'))]]);
  const args = [folder, 'after', String(lotId), String(tierId), String(times(12, 40))];
  const options = ['-xx', '-y', '-s', '10000000', '-e', `trace=${CALLS}`];
  const { log, status, err } = await trace(options, new URL('writer.child.ts', import.meta.url), [
    ...args,
    ...(synchronous ? [synchronous] : []),
  ]);
  expect({ status, err }).toEqual({ status: 0, err: '' });
  rmSync(folder, { recursive: true, force: true });
  return { before, ops: readRecording(log, folder, FILES) };
}

interface Cut {
  readonly files: ReadonlyMap<string, Buffer>;
  /** the keys that somebody was told of before */
  readonly told: readonly string[];
}

/** As many power cuts as wanted, spread over all the moments of a recording at which something is not yet on the disk. */
function* cutsOf(recording: Recording, count: number): Generator<Cut> {
  const chance = seededChance(1);
  const moments = [...momentsOf(recording)].length;
  let due = 0;
  for (const { disk, told } of momentsOf(recording)) {
    for (due += count / moments; due >= 1; due -= 1) yield { files: disk.afterCut(chance), told };
  }
}

function* momentsOf({ before, ops }: Recording) {
  const disk = new Disk(before);
  const told: string[] = [];
  for (const op of ops) {
    disk.do(op);
    if (op.kind === 'told') told.push(op.line.split(' ')[0] ?? '');
    if (disk.unsettled > 0) yield { disk, told: [...told] };
  }
}

/** The keys that a book holds after a cut; undefined where it cannot be read, or would be taken for another's. */
function keysAfter(folder: string, files: ReadonlyMap<string, Buffer>): Set<string> | string {
  const file = join(folder, 'clothroom.db');
  for (const name of [...FILES, 'clothroom.db-shm']) rmSync(join(folder, name), { force: true });
  for (const [name, bytes] of files) writeFileSync(join(folder, name), bytes);
  if (isStrangeWriteAhead(file)) return 'its write-ahead file is taken for one of another book';
  try {
    const raw = new BetterSqlite3(file);
    try {
      const keys = raw
        .prepare("SELECT key FROM request WHERE key LIKE 'request-%'")
        .pluck()
        .all() as string[];
      const said = raw.pragma('quick_check(1)', { simple: true });
      return said === 'ok' ? new Set(keys) : String(said);
    } finally {
      raw.close();
    }
  } catch (error) {
    return (error as Error).message;
  }
}

/** Replays power cuts; gives the first fault that was found, and how many were replayed. */
async function replay(recording: Recording, count: number) {
  // In memory where the system has a disk of it: each cut writes a whole book.
  const folder = mkdtempSync(join(existsSync('/dev/shm') ? '/dev/shm' : tmpdir(), 'clothroom-cut-'));
  const openEvery = Math.floor(count / OPENED_AS_SERVED);
  let cuts = 0;
  let wrong = '';
  for (const { files, told } of cutsOf(recording, count)) {
    cuts += 1;
    const keys = keysAfter(folder, files);
    if (typeof keys === 'string') wrong = keys;
    else if (told.some((key) => !keys.has(key))) wrong = 'a request that was told is lost';
    else if (keys.size > told.length + 1) wrong = 'more is in the book than was asked';
    else if (cuts % openEvery === 0) {
      for (const name of [...FILES, 'clothroom.db-shm']) rmSync(join(folder, name), { force: true });
      for (const [name, bytes] of files) writeFileSync(join(folder, name), bytes, { mode: 0o600 });
      const book = await openBook(folder, { clock: () => new Date() });
      wrong = [...(book.trouble?.findings ?? []), ...checkBook(book).findings].join(' ');
      book.close();
    }
    if (wrong !== '') break;
  }
  rmSync(folder, { recursive: true, force: true });
  return { cuts, wrong };
}

describe.skipIf(!canTrace)('a power cut', () => {
  it(
    'loses nothing that was told, whatever of the unsynced writes reached the disk',
    async () => {
      const recording = await record();
      const { cuts, wrong } = await replay(recording, CUTS);
      expect(wrong).toBe('');
      expect(cuts).toBeGreaterThanOrEqual(CUTS - 1);
      const count = (kind: Op['kind']) => recording.ops.filter((op) => op.kind === kind).length;
      expect(Math.min(count('write'), count('synced'), count('told'))).toBeGreaterThan(8);
      report('power cuts', {
        replayed: cuts,
        writes: count('write'),
        syncs: count('synced'),
        told: count('told'),
      });
    },
    PATIENCE_MS,
  );

  it.each([
    ['NORMAL', 'a request that was told is lost'],
    ['OFF', /./],
  ] as const)(
    'would be found out where the file is kept with synchronous = %s',
    async (synchronous, said) => {
      expect((await replay(await record(synchronous), CUTS)).wrong).toMatch(said);
    },
    PATIENCE_MS,
  );
});
