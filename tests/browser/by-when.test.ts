import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeGarment, makeTierOf } from '../server/garments/making.ts';
import { makeBolt, makeStock, openTestHouse, type TestHouse } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';

const AXE = readFileSync(new URL('../../node_modules/axe-core/axe.min.js', import.meta.url), 'utf8');

let house: TestHouse;
let chromium: Chromium;
let code: string;

beforeAll(async () => {
  // Monday 2 March 2026.
  [house, chromium] = await Promise.all([openTestHouse(), startChromium()]);
  const stock = house.write((tx) => {
    const made = makeStock(tx);
    makeBolt(tx, made.lotId, '10 m');
    return made;
  });
  code = await makeGarment(house, { name: 'Petticoat', due_on: '2026-03-20' });
  await makeTierOf(house, code, stock);
});
afterAll(async () => {
  await chromium.close();
  await house.shut();
});

describe('by when', () => {
  it('hours are typed once, a closed day moves the last days, and a tap goes on to the next step, on a phone without scripts', async () => {
    const context = await chromium.open({ width: 320, javaScript: false });
    const page = await context.newPage();
    const main = page.locator('main');
    await page.goto(`${house.origin}/by-when/hours`);
    await page.getByLabel('Cutting table, hours a day').fill('2');
    await page.getByLabel('Strips cut in an hour').fill('4');
    await page.getByRole('button', { name: 'Save days and hours' }).click();
    await page.locator('form[action="/by-when/people"] input[type="text"]').first().fill('5');
    await page.getByRole('button', { name: 'Save hours of sewing' }).click();
    await page.goto(`${house.origin}/garments/${code}/by-when`);
    await page.getByLabel('Sewing, all of it').fill('10');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    // Due on Friday the 20th, fitted on the 19th, sewn on the 17th and 18th, cut on the 16th.
    expect(await main.textContent()).toContain('Begin cutting by 16 Mar 2026');
    await page.goto(`${house.origin}/by-when/hours`);
    await page.getByLabel('From', { exact: true }).fill('2026-03-17');
    await page.getByRole('button', { name: 'Add closed days' }).click();
    await page.goto(`${house.origin}/garments/${code}/by-when`);
    expect(await main.textContent()).toContain('Begin cutting by 13 Mar 2026');
    await page.getByRole('button', { name: /^Begin\W+Cutting$/ }).click();
    expect(await main.textContent()).toContain('Cut the last strip by 13 Mar 2026');
    await page.goto(`${house.origin}/`);
    expect(await main.textContent()).toContain('Cut the last strip by 13 Mar 2026');
    for (const path of ['/by-when', '/by-when/hours', `/garments/${code}/by-when`]) {
      await page.goto(house.origin + path);
      expect(await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth')).toBe(0);
    }
    await context.close();
  });

  it('shows what a lost day moves, and its pages have nothing against them', async () => {
    const context = await chromium.open({ width: 1280 });
    const page = await context.newPage();
    await page.goto(`${house.origin}/by-when`);
    await page.getByLabel('A day is lost').fill('2026-03-13');
    await page.getByRole('button', { name: 'Show what moves' }).click();
    await page.locator('main', { hasText: 'If 13 Mar 2026 is lost' }).waitFor();
    expect(await page.locator('main').textContent()).toContain('12 Mar 2026');
    for (const path of ['/by-when?lost=2026-03-13', '/by-when/hours', `/garments/${code}/by-when`]) {
      await page.goto(house.origin + path);
      await page.evaluate(AXE);
      const violations = await page.evaluate<string[]>(
        `axe.run().then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes[0].html))`,
      );
      expect(violations).toEqual([]);
    }
    await context.close();
  });
});
