import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { holdLays } from '../server/cutting-table/lay/hold-lays.ts';
import { type OnTable, putOnTable } from '../server/cutting-table/tier/tier.ts';
import { length, makeBolt, openTestHouse, type TestHouse } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';

// Two people at the table: what one cuts shows on the other's page, which changes nothing of itself.

const cm = (n: number) => length(`${n} cm`);

let chromium: Chromium;
let house: TestHouse;
let table: OnTable;
let lays: number[];
let page: Page;

beforeAll(async () => {
  chromium = await startChromium();
});
afterAll(() => chromium.close());
beforeEach(async () => {
  house = await openTestHouse();
  house.write((tx) =>
    tx.run(
      tx.db.insertInto('person').values({ name: 'Ben', length_system: null, left_at: null, role: 'hand' }),
    ),
  );
  table = putOnTable(house, { strip: '49 cm' });
  const bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '5 m'));
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
  const context = await chromium.open({ width: 390 });
  await context.addCookies([
    { name: `clothroom-who-${new URL(house.origin).port}`, value: '2', url: house.origin },
  ]);
  page = await context.newPage();
  await page.clock.install();
});
afterEach(async () => {
  await page.context().close();
  await house.shut();
});

const bench = () => `${house.origin}/cutting-table/${table.code}/bench`;
/** Maker cuts a lay at the machine. */
const cut = (lay = 0) =>
  house.submit(`/cutting-table/${table.code}/bench`, { lays: String(lays[lay]) }).expect(303);

it('tells within a quarter of a minute, moves nothing, and draws again where that is asked', async () => {
  await page.goto(bench());
  const button = page.getByRole('button', { name: 'It is cut' });
  const place = await button.boundingBox();
  await page.clock.fastForward(15_000);
  expect(await page.locator('#changed').textContent()).toBe('');
  await cut();
  await page.clock.fastForward(15_000);
  await page.getByText('B1 was cut, 3 strips.').waitFor();
  expect(await page.locator('#changed').textContent()).toMatch(
    /Changed.*Maker, [\d:]+: B1 was cut, 3 strips\./,
  );
  expect(await button.boundingBox()).toEqual(place);
  expect(await page.locator('[data-turn]').textContent()).toContain('Lay 1 of 2');
  await page.getByRole('link', { name: 'Show the page as it is now' }).click();
  await page.getByText('Lay 2 of 2').waitFor();
  expect(await page.locator('#changed').textContent()).toBe('');
});

it('is put aside until something further changes', async () => {
  await page.goto(bench());
  await cut();
  await page.clock.fastForward(15_000);
  await page.getByRole('button', { name: 'Not now' }).click();
  await page.clock.fastForward(15_000);
  await page.clock.fastForward(15_000);
  expect(await page.locator('#changed').textContent()).toBe('');
  await cut(1);
  await page.clock.fastForward(15_000);
  await expect.poll(() => page.locator('#changed li').count()).toBe(2);
});

it('does not ask while nobody looks, and asks at once when somebody does again', async () => {
  let asked = 0;
  await page.route('**/pulse?**', (route) => {
    asked += 1;
    return route.continue();
  });
  const look = (hidden: boolean) =>
    page.evaluate((value) => {
      Object.defineProperty(document, 'hidden', { value, configurable: true });
      document.dispatchEvent(new Event('visibilitychange'));
    }, hidden);
  await page.goto(bench());
  await page.clock.fastForward(15_000);
  await expect.poll(() => asked).toBe(1);
  await look(true);
  for (let i = 0; i < 8; i += 1) await page.clock.fastForward(15_000);
  expect(asked).toBe(1);
  await cut();
  await look(false);
  await page.getByText('B1 was cut, 3 strips.').waitFor();
  expect(asked).toBe(2);
});

it('asks on no other page', async () => {
  let asked = 0;
  await page.route('**/pulse?**', (route) => {
    asked += 1;
    return route.continue();
  });
  await page.goto(`${house.origin}/shelf`);
  await page.clock.fastForward(60_000);
  expect(asked).toBe(0);
});
