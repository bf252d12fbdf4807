import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBolt, makeLot, makeStock, openTestHouse, type TestHouse } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';

const AXE = readFileSync(new URL('../../node_modules/axe-core/axe.min.js', import.meta.url), 'utf8');

let house: TestHouse;
let chromium: Chromium;

beforeAll(async () => {
  [house, chromium] = await Promise.all([openTestHouse(), startChromium()]);
  house.write((tx) => {
    const stock = makeStock(tx);
    tx.run(tx.db.updateTable('shade').set({ name: 'Kelp' }).where('id', '=', stock.shadeId));
    makeBolt(tx, stock.lotId, '5 m');
    makeBolt(tx, makeLot(tx, stock.clothId, stock.shadeId), '2 m');
  });
});
afterAll(async () => {
  await chromium.close();
  await house.shut();
});

describe('Can I take', () => {
  // The budget: at most 8 keys from Today, and one page.
  it('is answered after eight keys at the top of Today, on one page, and taken with one button', async () => {
    const context = await chromium.open({ width: 390 });
    const page = await context.newPage();
    await page.goto(`${house.origin}/`);
    const seen: string[] = [];
    page.on('response', (answer) => {
      if (answer.request().isNavigationRequest() && answer.status() === 200) seen.push(answer.url());
    });
    await page.locator('#find-code').focus();
    const keys = [...'3m kelp', 'Enter'];
    expect(keys).toHaveLength(8);
    for (const key of keys) await page.keyboard.press(key === ' ' ? 'Space' : key);
    await page.locator('main .slip-ok', { hasText: 'Yes: 3 m of B1' }).waitFor();
    expect(seen).toHaveLength(1);
    await page.evaluate(AXE);
    const violations = await page.evaluate<string[]>(
      `axe.run().then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes[0].html))`,
    );
    expect(violations).toEqual([]);
    expect(await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth')).toBe(0);
    await page.getByRole('button', { name: 'Take it now' }).click();
    await page.locator('main', { hasText: '3 m of B1 cut for repair' }).waitFor();
    await context.close();
  });

  it('is asked from Today in words, at the narrowest, without scripts', async () => {
    const context = await chromium.open({ width: 320, javaScript: false });
    const page = await context.newPage();
    await page.goto(`${house.origin}/`);
    await page.getByLabel('Length and shade or cloth').fill('40 m kelp');
    await page.getByRole('button', { name: 'Ask' }).click();
    expect(await page.locator('main .slip-stop').textContent()).toContain(
      'No: the longest free length is 2 m',
    );
    await page.getByRole('link', { name: 'Link to this question' }).click();
    expect(await page.locator('main .slip-stop').textContent()).toContain(
      'No: the longest free length is 2 m',
    );
    await context.close();
  });
});
