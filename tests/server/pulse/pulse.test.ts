import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { cutAtBench } from '../../../server/cutting-table/lay/bench.ts';
import type { Tx } from '../../../server/database/book.ts';
import { finishStep } from '../../../server/dye-bench/pot/log-verbs.ts';
import { logReadAtPot } from '../../../server/dye-bench/pot/read-cautions.ts';
import { showClock } from '../../../server/kit/when.ts';
import { undoRequest } from '../../../server/ledger/undo.ts';
import { recountPiece, writeOffLength } from '../../../server/ledger/verbs.ts';
import { holdLays } from '../cutting-table/lay/hold-lays.ts';
import { type OnTable, putOnTable } from '../cutting-table/tier/tier.ts';
import { furnish, plan, start } from '../dye-bench/recipe/making.ts';
import {
  asker,
  length,
  makeBolt,
  makeStock,
  NOON,
  newKey,
  openTestHouse,
  type TestHouse,
} from '../support.ts';

// What others wrote of what a page at the table or the pot shows, since it was drawn.

let house: TestHouse;
let table: OnTable;
let bolt: { id: number; code: string };
let lays: number[];
const ANN = 2;
const CLOCK = showClock(NOON.toISOString());

const cm = (n: number) => length(`${n} cm`);

beforeEach(async () => {
  house = await openTestHouse();
  house.write((tx) =>
    tx.run(
      tx.db.insertInto('person').values({ name: 'Ann', length_system: null, left_at: null, role: 'hand' }),
    ),
  );
  table = putOnTable(house, { strip: '49 cm' });
  bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '5 m', 4321));
  lays = holdLays(
    house,
    table,
    [3, 3].map((columns, i) => ({
      pieceId: bolt.id,
      from: i * cm(32),
      height: cm(32),
      runs: [{ tierId: table.tierId, depth: cm(32), length: cm(49), left: 0, columns }],
      parts: [cm(32)],
    })),
  );
});
afterEach(() => house.shut());

/** Somebody writes, from the machine unless another device is named. */
function as(personId: number, work: (tx: Tx) => unknown, deviceId = 1): string {
  const key = newKey();
  house.book.write({ key, asked: null, personId, deviceId }, (tx) => {
    work(tx);
    return { location: '/', said: 'Done for €43.21.' };
  });
  return key;
}

const cut = (lay: number) => (tx: Tx) =>
  cutAtBench(tx, table.code, { lays: String(lay), keep_rest: false, waste_end: false }, asker);

async function pulseOf(path: string): Promise<() => Promise<{ said: string[]; more: number } | null>> {
  const { pulse } = (await house.data(path).expect(200)).body;
  expect(pulse).toMatch(/^\/pulse\?(garment|batch)=/);
  return async () => {
    const answer = await house.data(pulse);
    return answer.status === 204 ? null : answer.body;
  };
}

describe('the pulse of a garment at the table', () => {
  it.each(['list', 'bench of the tier', 'bench of the lays'])('is on its %s', async (where) => {
    const paths = {
      list: table.path,
      'bench of the tier': `${table.path}/bench`,
      'bench of the lays': `/cutting-table/${table.code}/bench`,
    };
    const pulse = await pulseOf(paths[where as keyof typeof paths]);
    expect(await pulse()).toBeNull();
    as(ANN, cut(lays[0] ?? 0));
    expect(await pulse()).toEqual({ said: [`Ann, ${CLOCK}: B1 was cut, 3 strips.`], more: 0 });
    const { text } = await house.page(paths[where as keyof typeof paths]);
    expect(text).toContain(`data-pulse="/pulse?garment=${table.code}&amp;since=`);
  });

  it('tells nothing of what this person did on this device, but of what they did on another', async () => {
    const pulse = await pulseOf(table.path);
    as(1, cut(lays[0] ?? 0));
    expect(await pulse()).toBeNull();
    house.write((tx) =>
      tx.run(
        tx.db.insertInto('device').values({
          name: 'Phone',
          person_id: 1,
          paired_at: tx.at,
          paired_by: 1,
          seen_at: tx.at,
          sent_away_at: null,
        }),
      ),
    );
    as(1, cut(lays[1] ?? 0), 2);
    expect((await pulse())?.said).toEqual([`Maker, ${CLOCK}: B1 was cut, 3 strips.`]);
  });

  it('tells of every change of its cloth, its pieces and itself, the newest first, three and how many more', async () => {
    const pulse = await pulseOf(table.path);
    const key = as(ANN, cut(lays[0] ?? 0));
    expect((await pulse())?.said.length).toBe(1);
    as(ANN, (tx) => undoRequest(tx, key));
    expect((await pulse())?.said).toContain(`Ann, ${CLOCK}: an entry of B1 was undone.`);
    const before = (await pulse())?.said.length ?? 0;
    as(ANN, (tx) => recountPiece(tx, bolt.id, { lengthTicks: length('4 m'), typed: '' }));
    as(ANN, (tx) => writeOffLength(tx, bolt.id, { lengthTicks: cm(10), typed: '', why: 'stained' }));
    const told = await pulse();
    expect([told?.said.length, told?.more]).toEqual([3, before + 2 - 3]);
    const others = await pulseOf(table.path);
    as(ANN, (tx) =>
      tx.run(
        tx.db.insertInto('piece_flaw').values({
          piece_id: bolt.id,
          from_ticks: 0,
          to_ticks: 10,
          left_ticks: 0,
          right_ticks: 10,
          after_entry_id: 1,
          what: 'hole',
          at: tx.at,
          person_id: ANN,
          struck_at: null,
          struck_by: null,
        }),
      ),
    );
    expect((await others())?.said).toEqual([`Ann, ${CLOCK}: a flaw was marked on B1.`]);
  });

  it('tells nothing of other cloth, and no price', async () => {
    const pulse = await pulseOf(table.path);
    const other = house.write((tx) => makeBolt(tx, makeStock(tx).lotId, '3 m', 999));
    as(ANN, (tx) => writeOffLength(tx, other.id, { lengthTicks: cm(10), typed: '', why: 'stained' }));
    expect(await pulse()).toBeNull();
    as(ANN, (tx) => makeBolt(tx, table.stock.lotId, '2 m', 4321));
    expect(JSON.stringify(await pulse())).not.toMatch(/43|€/);
    expect((await pulse())?.said[0]).toMatch(/^Ann, [\d:]+: B\d was received\.$/);
  });

  it('asks little: one question of the numbers where nothing changed, and entries from the last on where something did', async () => {
    const pulse = await pulseOf(table.path);
    await pulse();
    const [all, first] = [vi.spyOn(house.book, 'all'), vi.spyOn(house.book, 'first')];
    await pulse();
    const asked = [...all.mock.calls, ...first.mock.calls].map(([query]) => query.compile().sql);
    expect(asked.filter((text) => text.includes('from "entry"')).length).toBe(1);
    expect(asked.length).toBeLessThanOrEqual(4);
    all.mockClear();
    as(ANN, cut(lays[0] ?? 0));
    await pulse();
    const read = all.mock.calls
      .map(([query]) => query.compile())
      .find(({ sql }) => sql.includes('"entry"."id" >'));
    const steps = house.book.connection
      .prepare(`EXPLAIN QUERY PLAN ${read?.sql}`)
      .all(...((read?.parameters ?? []) as never[])) as { detail: string }[];
    expect(steps[0]?.detail).toMatch(/^SEARCH entry USING INTEGER PRIMARY KEY \(rowid>\?\)/);
  });
});

describe('the pulse of a batch at the pot', () => {
  it('tells what others logged, and not that they have read the cautions', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    const path = `/dye-bench/batches/${code}/bench`;
    const pulse = await pulseOf(path);
    const step = async () => (await house.data(path)).body.bath.step.key;
    const form = { water: '', skip_hold: false, things: [] };
    as(ANN, (tx) => logReadAtPot(tx, code, { bath: { value: 1, typed: '1' }, cautions: 'heat' }));
    expect(await pulse()).toBeNull();
    const begun = await step();
    const bath = { value: 1, typed: '1' };
    as(ANN, (tx) => finishStep(tx, code, { ...form, bath, step: begun }));
    expect(await pulse()).toEqual({ said: [`Ann, ${CLOCK}: begun.`], more: 0 });
    // Something at the table is no change of the pot.
    const quiet = await pulseOf(path);
    as(ANN, cut(lays[0] ?? 0));
    expect(await quiet()).toBeNull();
  });
});

it('answers nothing to what no page asks', async () => {
  for (const query of [
    '',
    '?garment=G1',
    '?since=1.1.1.1.1',
    '?garment=G1&since=1',
    '?garment=G99&since=0.0.0.0.0',
  ])
    expect([query, (await house.data(`/pulse${query}`)).status]).toEqual([query, 204]);
});
