import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { NOON, openDemo } from '../seed-demo/demo.ts';
import type { TestBook } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';
import { startWalker, type Walker } from './walker.ts';

let opened: TestBook;
let app: FastifyInstance;
let chromium: Chromium;
let walker: Walker;

beforeAll(async () => {
  opened = await openDemo(NOON);
  app = buildApp(opened.book);
  const origin = await app.listen({ host: '127.0.0.1', port: 0 });
  chromium = await startChromium();
  walker = await startWalker(await chromium.open({ width: 390 }), origin);
});
afterAll(async () => {
  await chromium.close();
  await app.close();
  opened.close();
});

const isNoWider = () => walker.page.evaluate(() => document.documentElement.scrollWidth <= 390);

it('a first recipe comes with its band from the swatches of the demo, on a phone, and is written in one tap', async () => {
  await walker.go('/dye-bench');
  await walker.follow('First recipe');
  await walker.fill({ 'Shade wanted': 'Fog grey', Cloth: 'Nylon chiffon 140' });
  await walker.press('Find recipes');
  const text = await walker.text();
  const bands = [...text.matchAll(/Likely within ΔE00 (\d+\.\d) of the shade wanted \(9 of 10 dyeings\)/g)];
  expect(bands.length).toBeGreaterThanOrEqual(2);
  for (const [, band] of bands) {
    expect(Number(band)).toBeGreaterThan(1);
    expect(Number(band)).toBeLessThan(6);
  }
  expect(text).toMatch(/from 15 mixtures of your own, each left out in turn/);
  expect(text).toContain('In practice, plan on a first dyeing ΔE00 2 to 4 off');
  expect(await isNoWider()).toBe(true);

  const write = walker.page.getByRole('link', { name: /^Write this recipe/ }).first();
  await Promise.all([walker.page.waitForEvent('load'), write.click()]);
  expect(await walker.page.getByLabel('Name of the recipe').inputValue()).toBe(
    'Fog grey on Nylon chiffon 140',
  );
  expect(await walker.page.getByLabel('Dye', { exact: true }).first().inputValue()).toBe(
    'Harbour blue A (invented)',
  );
  await walker.press('Save recipe');
  await walker.follow('Shade to expect');
  expect(await walker.text()).toMatch(/Likely within ΔE00 \d+\.\d \(9 of 10 dyeings\)/);
  expect(await walker.text()).toMatch(/Nearest shades Fog grey ΔE00 0\.\d/);
  expect(await isNoWider()).toBe(true);
  expect(walker.complaints).toEqual([]);
});

it('a bath that came out off its shade leads from its record to the next version of its recipe', async () => {
  const batch = opened.book.first(
    opened.book.db
      .selectFrom('lot')
      .innerJoin('batch', 'batch.id', 'lot.batch_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select(['batch.code', 'lot.code as lot'])
      .where('shade.name', '=', 'Smoke 3'),
  );
  await walker.go(`/dye-bench/batches/${batch?.code}/record`);
  await walker.follow(`Shade again : ${batch?.lot}`);
  expect(await walker.text()).toContain(`${batch?.lot} for Smoke 3: `);
  await walker.page.getByText('Type what was read').click();
  await walker.fill({ 'Both seen together': 'With one instrument' });
  for (const [group, lab] of [
    ['Shade wanted', { 'L*': '65', 'a*': '-10', 'b*': '-16' }],
    ['Trial', { 'L*': '69', 'a*': '-9', 'b*': '-14' }],
  ] as const)
    for (const [name, value] of Object.entries(lab))
      await walker.page.getByRole('group', { name: group }).getByLabel(name).fill(value);
  await walker.press('Work out the correction');
  expect(await walker.text()).toMatch(/Of it \d+ % is corrected/);
  expect(await isNoWider()).toBe(true);
  await walker.follow('Write the next version');
  // It came out paler than it was wanted from 0.314 %.
  const depth = await walker.page.locator('[name="dyes.0.owf"]').inputValue();
  expect(Number(depth)).toBeGreaterThan(0.314);
  expect(Number(depth)).toBeLessThan(0.6);
  expect(walker.complaints).toEqual([]);
});
