import { afterAll, beforeAll, expect, it } from 'vitest';
import { readListFile } from '../../server/lists/in/reading/read-file.ts';
import { openTestHouse, type TestHouse } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';

let house: TestHouse;
let chromium: Chromium;
beforeAll(async () => {
  [house, chromium] = await Promise.all([openTestHouse(), startChromium()]);
});
afterAll(async () => {
  await chromium.close();
  await house.shut();
});

// So long that it is read in a thread, and so waits for the files that came before it.
const ROWS = Array.from({ length: 40_000 }, (_, n) => `Organza,150,Moss,${n % 9},${1 + (n % 40)}`);
const LIST = ['Cloth,Width,Shade,Lot,Length', ...ROWS].join('\n');

it('a list that is worked on tells its progress by itself, then all that there is to do', async () => {
  const page = await (await chromium.open({ width: 390 })).newPage();
  const complaints: string[] = [];
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()));
  // A file that came before is not read until the page was looked at.
  const before = readListFile(new TextEncoder().encode(LIST));
  await page.goto(`${house.origin}/setup/lists/new`);
  await page.setInputFiles('#file', { name: 'long.csv', mimeType: 'text/csv', buffer: Buffer.from(LIST) });
  await page.click('text=Check the list');
  await page.waitForURL(/\/setup\/lists\/\d+/);
  expect(await page.isVisible('text=Stop')).toBe(true);
  expect(await page.isVisible('text=Put on the shelf')).toBe(false);
  await page.evaluate('window.stillTheSamePage = true');
  for await (const rows of before.rows()) expect(rows.length).toBeGreaterThan(0);
  await page.waitForSelector('text=40,000 rows would come onto the shelf', { timeout: 60_000 });
  expect(await page.isVisible('text=Put on the shelf')).toBe(true);
  expect(await page.isVisible('text=What the columns hold')).toBe(true);
  expect(await page.evaluate('window.stillTheSamePage')).toBe(true);
  expect(await page.locator('[id="list-state"]').count()).toBe(1);
  expect(complaints).toEqual([]);
});
