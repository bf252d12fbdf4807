import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../server/ledger/check.ts';
import { holdLays } from '../server/cutting-table/lay/hold-lays.ts';
import { type OnTable, putOnTable } from '../server/cutting-table/tier/tier.ts';
import { length, makeBolt, type TestHouse } from '../server/support.ts';
import { type Killable, startKillable } from './killable.ts';
import { openStoppable, type Stoppable } from './stoppable.ts';

// Work at the bench while nothing answers, on a real browser that keeps it on the disk.

const cm = (n: number) => length(`${n} cm`);

let served: Stoppable;
let table: OnTable;
let bolt: { id: number; code: string };
let profile: string;
let browser: Killable;
let page: Page;

beforeEach(async () => {
  served = await openStoppable();
  const house = served as unknown as TestHouse;
  table = putOnTable(house, { strip: '49 cm' });
  bolt = served.write((tx) => makeBolt(tx, table.stock.lotId, '5 m'));
  // Eight strips in three lays: three, three and two of 32 × 49 cm.
  holdLays(
    house,
    table,
    [3, 3, 2].map((columns, i) => ({
      pieceId: bolt.id,
      from: i * cm(32),
      height: cm(32),
      runs: [{ tierId: table.tierId, depth: cm(32), length: cm(49), left: 0, columns }],
      parts: [cm(32)],
    })),
  );
  profile = mkdtempSync(join(tmpdir(), 'clothroom-phone-'));
  await open();
});
afterEach(async () => {
  await browser.kill();
  await served.shut();
  rmSync(profile, { recursive: true, force: true });
});

async function open() {
  browser = await startKillable(profile);
  page = await browser.context.newPage();
  page.setDefaultTimeout(15_000);
}

const bench = () => `${served.origin}/cutting-table/${table.code}/bench`;
const slips = async () => ((await page.locator('#unsent').textContent()) ?? '').replace(/\s+/g, ' ').trim();
const press = (name: string) => page.getByRole('button', { name, exact: true }).first().click();

/** Every cut that stands, with the length that it took. */
function cuts() {
  const { db } = served.book;
  const rows = served.book.all(db.selectFrom('entry').selectAll().where('kind', '=', 'cut').orderBy('id'));
  return rows.map((row) => ({ strips: row.strips, ticks: -row.length_ticks, key: row.request_key }));
}

function lateOf(key: string) {
  const { db } = served.book;
  return served.book.first(db.selectFrom('request').selectAll().where('key', '=', key));
}

/** As a device does once it is on its network again; otherwise it asks every few seconds. */
const comeBack = () => page.evaluate(() => window.dispatchEvent(new Event('online')));

async function cutOnDevice(count: number) {
  for (let n = 0; n < count; n += 1) {
    await press('It is cut');
    await page.locator('#unsent li').nth(n).waitFor({ state: 'attached' });
  }
}

describe('three lays cut while nothing answers', () => {
  it('are kept, told, and entered once each when it answers again', async () => {
    await page.goto(bench());
    await served.stop();
    await cutOnDevice(3);
    expect(await slips()).toMatch(/^Not sent yet 3 entries are kept on this device and sent once/);
    expect(await slips()).toContain(`Lay 2 of Petticoat, from ${bolt.code}, done at`);
    expect(await page.locator('[data-turn]').textContent()).toContain('Every lay is kept');
    expect(cuts()).toEqual([]);
    await served.serve();
    await expect.poll(() => cuts().length, { timeout: 15_000 }).toBe(3);
    expect(cuts().map(({ strips }) => strips)).toEqual([3, 3, 2]);
    await page.getByText('Sent', { exact: true }).waitFor();
    expect(await slips()).toMatch(/^Sent 3 entries that were kept on this device:Lay 1 cut from/);
    expect(checkBook(served.book).findings).toEqual([]);
  });

  it('survive a killed browser, and a second tab sends none of them again', async () => {
    await page.goto(bench());
    await served.stop();
    await cutOnDevice(3);
    await browser.kill();
    await open();
    await expect(page.goto(bench())).rejects.toThrow('ERR_CONNECTION_REFUSED');
    await served.serve();
    const second = await browser.context.newPage();
    await Promise.all([page.goto(bench()), second.goto(bench())]);
    await expect.poll(() => cuts().length, { timeout: 15_000 }).toBe(3);
    await page.reload();
    await second.reload();
    await page.waitForTimeout(500);
    expect(cuts().map(({ strips }) => strips)).toEqual([3, 3, 2]);
    expect(new Set(cuts().map(({ key }) => key)).size).toBe(3);
    expect(await slips()).toBe('');
  });
});

describe('an entry that arrives late', () => {
  it('says when it was done, by how long the device kept it', async () => {
    await page.clock.install({ time: new Date('2031-05-04T08:00:00Z') });
    await page.goto(bench());
    await served.stop();
    await press('It is cut');
    await page.locator('#unsent li').waitFor({ state: 'attached' });
    await page.clock.fastForward('02:00:00');
    await served.serve();
    await page.reload();
    await expect.poll(() => cuts().length).toBe(1);
    const request = lateOf(cuts()[0]?.key ?? '');
    // The clock of the device is years ahead: what counts is that it kept the cut for two hours.
    const waitedMs = Date.parse(request?.at ?? '') - Date.parse(request?.done_at ?? '');
    expect(waitedMs).toBeGreaterThanOrEqual(7_200_000);
    expect(waitedMs).toBeLessThan(7_290_000);
    await page.goto(`${served.origin}/shelf/pieces/${bolt.code}`);
    expect(await page.locator('main').textContent()).toContain('entered late');
  });

  it('is not told as late where it was sent at once', async () => {
    await page.goto(bench());
    await press('It is cut');
    await page.getByText('Lay 1 cut from').waitFor();
    expect(lateOf(cuts()[0]?.key ?? '')?.done_at).toBeNull();
    expect(await slips()).toBe('');
  });
});

describe('work that is sent', () => {
  it('is entered once where the book had it and its answer was lost', async () => {
    await page.goto(bench());
    await page.route(/bench$/, async (route) => {
      if (route.request().method() !== 'POST') return route.fallback();
      await route.fetch();
      return route.abort('connectionreset');
    });
    await press('It is cut');
    await page.locator('#unsent li').waitFor({ state: 'attached' });
    expect(cuts().length).toBe(1);
    await page.unroute(/bench$/);
    await comeBack();
    await page.getByText('Sent', { exact: true }).waitFor();
    expect(cuts().length).toBe(1);
    await page.goto(bench());
    expect(await page.locator('main').textContent()).toContain('Lay 2 of 3');
  });

  it('is kept where another computer, or the door of the Wi-Fi, answers in the place of ours', async () => {
    await page.goto(bench());
    const post = (fulfil: object) =>
      page.route(/bench$/, (route) =>
        route.request().method() === 'POST' ? route.fulfill(fulfil) : route.fallback(),
      );
    await post({ status: 200, contentType: 'text/html', body: '<h1>Sign in to the Wi-Fi</h1>' });
    await press('It is cut');
    await page.locator('#unsent li').waitFor({ state: 'attached' });
    await page.unroute(/bench$/);
    await post({ status: 404, contentType: 'text/html', body: 'No such page' });
    await page.reload();
    await page.locator('#unsent li').waitFor({ state: 'attached' });
    await page.waitForTimeout(300);
    expect(await slips()).toMatch(/^Not sent yet/);
    await page.unroute(/bench$/);
    await comeBack();
    await expect.poll(() => cuts().length).toBe(1);
  });

  it('is shown as its form again where something is wrong with what was typed', async () => {
    await page.goto(`${served.origin}/shelf/pieces/${bolt.code}`);
    await page.getByText('Write off', { exact: true }).first().click();
    const form = page.locator('#write-off form');
    await form.getByLabel('Length', { exact: true }).fill('a little');
    await form.getByLabel('Reason').fill('stained');
    await form.getByRole('button', { name: 'Write off' }).click();
    await page.locator('#problems').waitFor();
    expect(await page.locator('#write-off form').getByLabel('Reason').inputValue()).toBe('stained');
    expect(await slips()).toBe('');
    await page.locator('#write-off form').getByLabel('Length', { exact: true }).fill('0.5 m');
    await page.locator('#write-off form').getByRole('button', { name: 'Write off' }).click();
    await page.getByText(`0.5 m of ${bolt.code} written off: stained.`).first().waitFor();
    await page.reload();
    expect(await slips()).toBe('');
  });

  it('can be deleted before it is sent, and kept after all', async () => {
    await page.goto(bench());
    await served.stop();
    await cutOnDevice(1);
    await page.getByText('Delete it', { exact: true }).click();
    await press('Delete');
    await page.getByText('Deleted', { exact: true }).waitFor();
    await press('Keep it after all');
    await page.locator('#unsent li').waitFor({ state: 'attached' });
    await press('Delete');
    await page.getByText('Deleted', { exact: true }).waitFor();
    await served.serve();
    await page.goto(bench());
    await page.waitForTimeout(500);
    expect(cuts()).toEqual([]);
    expect(await slips()).toBe('');
  });
});

describe('a form that is no turn of a bench', () => {
  it('is drawn anew under a key of its own, so that the next is a further one', async () => {
    await page.goto(`${served.origin}/shelf/pieces/${bolt.code}`);
    await page.getByText('Write off', { exact: true }).first().click();
    const form = page.locator('#write-off form');
    await served.stop();
    for (const [n, length] of ['0.5 m', '0.25 m'].entries()) {
      await form.getByLabel('Length', { exact: true }).fill(length);
      await form.getByLabel('Reason').fill('stained');
      await form.getByRole('button', { name: 'Write off' }).click();
      await page.locator('#unsent li').nth(n).waitFor({ state: 'attached' });
    }
    expect(await slips()).toContain(`Write off, ${bolt.code}: Length 0.5 m, Reason stained, done at`);
    await served.serve();
    await comeBack();
    await page.getByText('Sent', { exact: true }).waitFor();
    const { db } = served.book;
    const off = served.book.all(db.selectFrom('entry').selectAll().where('kind', '=', 'written-off'));
    expect(off.map((row) => -row.length_ticks)).toEqual([length('0.5 m'), length('0.25 m')]);
  });
});

describe('a device that two people share', () => {
  it('sends and shows nobody’s work to the other', async () => {
    served.write((tx) =>
      tx.run(
        tx.db.insertInto('person').values({ name: 'Ben', length_system: null, left_at: null, role: 'hand' }),
      ),
    );
    await page.goto(bench());
    const other = await browser.context.newPage();
    await other.goto(bench());
    await served.stop();
    await cutOnDevice(1);
    // Ben takes over in another window before this one, which looks away meanwhile, sends anything.
    const lookAway = (hidden: boolean) =>
      page.evaluate((value) => {
        Object.defineProperty(document, 'hidden', { value, configurable: true });
        document.dispatchEvent(new Event('visibilitychange'));
      }, hidden);
    await lookAway(true);
    await served.serve();
    await other.getByLabel('Working as').selectOption({ label: 'Ben' });
    await other.waitForFunction(() => document.body.dataset.person === 'Ben');
    expect(await other.locator('#unsent').textContent()).toBe('');
    await lookAway(false);
    await page.getByText('This form was opened for Maker, and Ben works here now.').waitFor();
    expect(cuts()).toEqual([]);
    await other.getByLabel('Working as').selectOption({ label: 'Maker' });
    await expect.poll(() => cuts().length, { timeout: 20_000 }).toBe(1);
    expect(lateOf(cuts()[0]?.key ?? '')?.person_id).toBe(1);
  });
});

describe('a lay that somebody else has cut meanwhile', () => {
  /** Kept on the device, cut by somebody else, and sent: the slip tells, and leads to the page that asks. */
  async function askedAbout() {
    await page.goto(bench());
    await served.stop();
    await cutOnDevice(1);
    await served.serve({ paused: true });
    const { db } = served.book;
    const lay = served.book.first(db.selectFrom('cut_lay').select('id').orderBy('position'));
    const path = `/cutting-table/${table.code}/bench`;
    expect((await served.send(path, { lays: String(lay?.id) })).status).toBe(200);
    served.resume();
    await comeBack();
    await page.getByRole('button', { name: 'What happened?' }).waitFor({ timeout: 20_000 });
    expect(await slips()).toMatch(
      /^Not saved Lay 1 of Petticoat, from B1, done at [\d:]+, .*\. Lay 1 was cut already by Maker, .*\. Nothing was entered\./,
    );
    await press('What happened?');
    await page.getByRole('heading', { name: 'What happened?' }).waitFor();
    expect(await slips()).toBe('');
  }

  const open = (title: string) => page.getByText(title, { exact: true }).click();
  async function tellAnd(button: string, said: string) {
    await press(button);
    await page.getByText(said).first().waitFor();
    expect(await slips()).toBe('');
    await page.goto(bench());
    await page.waitForTimeout(300);
    expect(await slips()).toBe('');
    expect(checkBook(served.book).findings).toEqual([]);
  }

  it('was spoiled', async () => {
    await askedAbout();
    await open('It was cut, and is spoiled');
    await tellAnd('Write it off', '0.32 m of B1 written off as spoiled.');
    expect(cuts().map(({ strips }) => strips)).toEqual([3]);
  });

  it('was another piece, named wrongly first', async () => {
    const other = served.write((tx) => makeBolt(tx, table.stock.lotId, '2 m'));
    await askedAbout();
    await open('It was another piece');
    await page.getByLabel('Piece it came from').fill('B99');
    await press('Enter it for this piece');
    await page.locator('#problems').waitFor();
    expect(await page.getByLabel('Piece it came from').inputValue()).toBe('B99');
    await page.getByLabel('Piece it came from').fill(other.code);
    await tellAnd('Enter it for this piece', `3 strips cut for Tier 1`);
    expect(cuts().map(({ strips }) => strips)).toEqual([3, 3]);
  });

  it('was counted wrong', async () => {
    await askedAbout();
    await open('The count of B1 was wrong');
    await page.getByLabel('Length on the piece now, as measured').fill('4.5 m');
    await tellAnd('Enter the count and this', 'B1 was recounted: 4.82 m instead of 4.68 m.');
    expect(cuts().map(({ strips }) => strips)).toEqual([3, 3]);
  });

  it('did not happen', async () => {
    await askedAbout();
    await open('It did not happen');
    await tellAnd('Drop it', 'Dropped: Lay 1 of Petticoat, from B1. Nothing was entered.');
    expect(cuts().map(({ strips }) => strips)).toEqual([3]);
  });
});
