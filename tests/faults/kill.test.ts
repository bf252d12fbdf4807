import { rmSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { openBook } from '../../server/database/open.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { startChild } from '../child.ts';
import { makeStock, makeTier, openTestBook } from '../server/support.ts';
import { PATIENCE_MS, report, times } from './scale.ts';

const LANES = 2;
const KILLS_A_LANE = times(6, 250);

interface Bench {
  readonly folder: string;
  readonly lotId: number;
  readonly tierId: number;
}

/** What a reader finds wrong after a crash. */
interface Found {
  /** what the checks of the book say */
  readonly findings: string[];
  /** told, and not in the book with all of its entries */
  readonly lost: string[];
  /** in the book, though nobody was told: at most the one request that was under way at each kill */
  readonly untold: number;
}

describe('a program that is killed while it writes', () => {
  it(
    `keeps every request that it told of, and none by half, ${LANES * KILLS_A_LANE} times`,
    async () => {
      const lanes = Array.from({ length: LANES }, async () => {
        const bench = await makeBench();
        const told = new Map<string, number>();
        for (let kills = 1; kills <= KILLS_A_LANE; kills += 1) {
          for (const [key, entries] of await killAtRandom(bench, 'after')) told.set(key, entries);
          const { findings, lost, untold } = await lookAt(bench, told);
          expect({ findings, lost }).toEqual({ findings: [], lost: [] });
          expect(untold).toBeLessThanOrEqual(kills);
        }
        rmSync(bench.folder, { recursive: true, force: true });
        return told.size;
      });
      const told = await Promise.all(lanes);
      for (const count of told) expect(count).toBeGreaterThan(KILLS_A_LANE);
      report('kills while writing', {
        kills: LANES * KILLS_A_LANE,
        told: told.reduce((sum, one) => sum + one),
      });
      // Starting so many programs takes its time on a small machine that is busy.
    },
    PATIENCE_MS,
  );

  it(
    'would be found out if it told before the commit',
    async () => {
      const bench = await makeBench();
      const told = new Map<string, number>();
      let lost: string[] = [];
      for (let kills = 0; kills < 60 && lost.length === 0; kills += 1) {
        for (const [key, entries] of await killAtRandom(bench, 'before')) told.set(key, entries);
        const found = await lookAt(bench, told);
        expect(found.findings).toEqual([]);
        lost = found.lost;
      }
      expect(lost).not.toEqual([]);
      rmSync(bench.folder, { recursive: true, force: true });
    },
    PATIENCE_MS,
  );
});

async function makeBench(): Promise<Bench> {
  const { write, putDown, close } = await openTestBook();
  const ids = write((tx) => {
    const stock = makeStock(tx);
    return { lotId: stock.lotId, tierId: makeTier(tx, stock) };
  });
  const folder = putDown();
  close();
  return { folder, ...ids };
}

/** Lets a program write until some moment after its second request, and kills it; gives what it told. */
async function killAtRandom({ folder, lotId, tierId }: Bench, when: 'before' | 'after') {
  const args = [folder, when, String(lotId), String(tierId)];
  const child = startChild(new URL('writer.child.ts', import.meta.url), args);
  const first = [(await child.line()) ?? '', (await child.line()) ?? ''];
  if (first.includes('')) throw new Error('the writer ended by itself');
  await wait(Math.random() * 60);
  await child.kill();
  return [...first, ...(await child.rest())].map((line): [string, number] => {
    const [key = '', entries] = line.split(' ');
    return [key, Number(entries)];
  });
}

async function lookAt({ folder }: Bench, told: ReadonlyMap<string, number>): Promise<Found> {
  const book = await openBook(folder, { clock: () => new Date() });
  const { findings } = checkBook(book);
  const entries = '(SELECT count(*) FROM entry WHERE request_key = key) AS entries';
  const rows = book.connection
    .prepare(`SELECT key, ${entries} FROM request WHERE key LIKE 'request-%'`)
    .all() as { key: string; entries: number }[];
  book.close();
  const kept = new Map(rows.map((row) => [row.key, row.entries]));
  const lost = [...told].filter(([key, count]) => kept.get(key) !== count).map(([key]) => key);
  return { findings, lost, untold: rows.filter(({ key }) => !told.has(key)).length };
}
