import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { makeBolt, makeStock, openTestHouse, type TestHouse } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';

let house: TestHouse;
let chromium: Chromium;
const folder = mkdtempSync(join(tmpdir(), 'clothroom-labels-'));

beforeAll(async () => {
  [house, chromium] = await Promise.all([openTestHouse(), startChromium()]);
  house.write((tx) => {
    const { lotId } = makeStock(tx);
    for (let n = 0; n < 3; n += 1) makeBolt(tx, lotId, '12 m');
  });
});
afterAll(async () => {
  await chromium.close();
  await house.shut();
  rmSync(folder, { recursive: true, force: true });
});

// The decoder is of another hand than the encoder: zbarimg, from Debian's zbar-tools.
it('prints codes that a decoder reads back, 20 mm or larger, on a page of the paper’s own size', async () => {
  await house.submit('/setup/labels/addresses', { address: 'http://workroom-loft.example:8040' }).expect(303);
  await house
    .submit('/setup/labels/sheets', {
      ...{ name: 'Small', paper: 'A4', columns: '3', rows: '9', width: '62', height: '27', left: '10' },
      ...{ top: '20', across: '1', down: '0', nudge_right: '', nudge_down: '' },
    })
    .expect(303);
  await house
    .submit('/setup/labels/runs', { things: 'B1,B2,B3', sheet_id: '1', first_place: '2' })
    .expect(303);
  const context = await chromium.open();
  const page = await context.newPage();
  await page.goto(`${house.origin}/setup/labels/runs/1`);
  const sides = await page.$$eval('.paper-code', (codes) =>
    codes.map((code) => code.getBoundingClientRect().width),
  );
  expect(sides).toHaveLength(3);
  // CSS counts 96 pixels to the inch of 25.4 mm.
  for (const side of sides) expect((side * 25.4) / 96).toBeGreaterThanOrEqual(19.99);

  const pdf = join(folder, 'labels.pdf');
  await page.pdf({ path: pdf, preferCSSPageSize: true });
  execFileSync('pdftoppm', ['-r', '150', '-png', pdf, join(folder, 'sheet')]);
  const read = execFileSync('zbarimg', ['--nodbus', '--quiet', '--raw', join(folder, 'sheet-1.png')], {
    encoding: 'utf8',
  });
  const codes = ['B1', 'B2', 'B3'].map((code) => `HTTP://WORKROOM-LOFT.EXAMPLE:8040/P/${code}`);
  expect(read.trim().split('\n').sort()).toEqual(codes);
  const info = execFileSync('pdfinfo', [pdf], { encoding: 'utf8' });
  expect(info).toMatch(/Pages:\s+1\n/);
  expect(info).toMatch(/Page size:.*A4/);
  await context.close();
});
