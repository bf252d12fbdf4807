import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addressesOf } from '../seed-demo/addresses.ts';
import { type DemoHouse, openDemoHouse } from '../seed-demo/demo.ts';
import { type Chromium, pagesIn, startChromium } from './chromium.ts';

// What the work of a day may cost a hand, counted in a real browser on the demo: taps, pages, screens. What costs more fails.

const AXE = readFileSync(new URL('../../node_modules/axe-core/axe.min.js', import.meta.url), 'utf8');
const PHONE = { width: 390, height: 844 };
const DESK = { width: 1280, height: 900 };

let house: DemoHouse;
let chromium: Chromium;
let page: Page;
let loads: string[] = [];

beforeAll(async () => {
  [house, chromium] = await Promise.all([openDemoHouse(), startChromium()]);
  page = await (await chromium.open({ width: PHONE.width })).newPage();
  page.setDefaultTimeout(60_000);
  page.on('response', (answer) => {
    if (answer.request().isNavigationRequest() && answer.status() === 200)
      loads.push(new URL(answer.url()).pathname);
  });
});
afterAll(async () => {
  await chromium.close();
  await house.shut();
});

async function open(path: string) {
  const answer = await page.goto(house.origin + path);
  loads = [];
  return answer;
}

/** Presses what a hand would, each a tap, and gives how many it took. */
async function taps(...names: (string | RegExp)[]): Promise<number> {
  for (const name of names) {
    const target = page.locator('main').locator('button, summary, a').filter({ hasText: name }).first();
    await target.scrollIntoViewIfNeeded();
    const stays = await target.evaluate((node) => node.tagName === 'SUMMARY');
    await Promise.all([stays ? null : page.waitForEvent('load'), target.click()]);
  }
  return names.length;
}

/** The skirt of ten tiers and ten ruffles: what is short and calm with five tiers need not be with twenty-one. */
const GREAT = [
  '/garments/G5',
  '/garments/G5/edit',
  '/garments/G5/tiers/22',
  '/garments/G5/by-when',
  '/garments/G5/sewing',
  '/cutting-table/G5/plan',
  '/cutting-table/G5/bench',
  '/cutting-table/G5/sheet',
  '/cutting-table/G5/22',
  '/short?garment=G5',
];

const PAGES = [
  '/',
  '/shelf',
  '/shelf/ledger',
  '/shelf/by-place',
  '/shelf/wall',
  '/shelf/value',
  '/shelf/pieces/B17',
  '/short',
  '/garments',
  '/garments/G2',
  '/garments/G2/edit',
  '/garments/G2/tiers/2',
  '/garments/G2/book',
  '/garments/new',
  '/garments/quick',
  '/orders',
  '/by-when',
  '/dye-bench',
  '/cutting-table',
  '/cutting-table/G2/bench',
  '/cutting-table/G2/plan',
  '/cutting-table/quick',
  '/setup',
  ...GREAT,
  '/dye-bench/first-recipe/swatches?cloth_id=9',
];

describe('a page', () => {
  it.each(PAGES)(
    '%s is at most five screens of a phone and 60 kB, and scrolls one way at every width and at twice the text of a desk',
    async (path) => {
      await page.setViewportSize(PHONE);
      const answer = await open(path);
      expect(gzipSync((await answer?.body()) ?? '').length).toBeLessThanOrEqual(60_000);
      const screens = await page.evaluate<number>('document.documentElement.scrollHeight / innerHeight');
      expect(screens).toBeLessThanOrEqual(5);
      const over: string[] = [];
      const look = async (what: string) => {
        const beyond = await page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');
        if (beyond > 0) over.push(`${what}: ${beyond} px beyond`);
      };
      // 640 px is a desk of 1280 px whose text is enlarged to 200 % (WCAG 2.2, 1.4.4).
      for (const width of [320, 390, 640, 768, 1280]) {
        await page.setViewportSize({ width, height: PHONE.height });
        await look(`${width} px`);
      }
      expect(over).toEqual([]);
    },
  );

  it.each([
    '/',
    '/shelf',
    '/short',
    '/garments/new',
    '/garments/G2/tiers/2',
    '/cutting-table',
    '/cutting-table/G2/bench',
    ...GREAT,
    '/by-when',
    '/shelf/wall',
  ])(
    '%s has nothing that axe finds, folded and unfolded, light on a phone and dark at a desk',
    async (path) => {
      const found: string[] = [];
      for (const [colorScheme, size] of [
        ['light', PHONE],
        ['dark', DESK],
      ] as const) {
        await page.emulateMedia({ colorScheme });
        await page.setViewportSize(size);
        await open(path);
        await page.evaluate(`for (const fold of document.querySelectorAll('main details')) fold.open = true`);
        await page.evaluate(AXE);
        found.push(
          ...(await page.evaluate<string[]>(
            `axe.run().then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes[0].html))`,
          )),
        );
      }
      await page.emulateMedia({ colorScheme: null });
      expect(found).toEqual([]);
    },
  );

  it('that shows every part once has nothing that axe finds, in light, dark and forced colours', async () => {
    const found: string[] = [];
    for (const [scheme, forced] of [
      ['light', false],
      ['dark', false],
      ['light', true],
    ] as const) {
      await page.emulateMedia({ forcedColors: forced ? 'active' : 'none' });
      await page.setViewportSize(forced ? DESK : PHONE);
      await open(`/sampler?scheme=${scheme}`);
      await page.evaluate(`for (const fold of document.querySelectorAll('main details')) fold.open = true`);
      await page.evaluate(AXE);
      // Colours that are forced are the device's, and what the page asked for is all that axe can read.
      const rules = forced ? `{ rules: { 'color-contrast': { enabled: false } } }` : '{}';
      found.push(
        ...(await page.evaluate<string[]>(
          `axe.run(${rules}).then(({ violations }) => violations.map(({ id, nodes }) => '${scheme} ' + id + ': ' + nodes[0].html))`,
        )),
      );
    }
    await page.emulateMedia({ forcedColors: null });
    expect(found).toEqual([]);
  });

  it('of every kind has targets of 44 px for a finger, and of 24 px or as far apart at a desk', async () => {
    // WCAG 2.2, 2.5.8: a circle of 24 px around a smaller target touches no other; links within a sentence are left out.
    const targets = `[...document.querySelectorAll('main :is(a, button, summary, select)')]
      .filter((node) => node.checkVisibility() && !node.closest('.unseen') && !node.matches('.unseen'))`;
    // A code and the name beside a swatch reach beyond their own box by what follows them there.
    const small = `${targets}.filter((node) => {
      const after = getComputedStyle(node, '::after');
      const more = after.content === 'none' ? 0 : -2 * parseFloat(after.top || '0');
      return node.getBoundingClientRect().height + more < 43.5;
    }).map((node) => node.outerHTML.slice(0, 120))`;
    const near = `(() => {
      const all = ${targets}.map((node) => ({ node, box: node.getBoundingClientRect() }));
      const within = ({ parentNode }) => [...parentNode.childNodes].some(({ nodeType, data }) => nodeType === 3 && data.trim() !== '');
      const middle = ({ box }) => [box.x + box.width / 2, box.y + box.height / 2];
      const gap = (from, to, side, size) => Math.max(to[side] - from, from - to[side] - to[size], 0);
      return all.filter(({ node, box }) => (box.height < 23.5 || box.width < 23.5) && !within(node)).filter((one) =>
        all.some((other) => {
          const [x, y] = middle(one);
          return other !== one && Math.hypot(gap(x, other.box, 'x', 'width'), gap(y, other.box, 'y', 'height')) < 11.5;
        })).map(({ node }) => node.outerHTML.slice(0, 120));
    })()`;
    const wrong: string[] = [];
    const looked = house.routes.flatMap((route) => addressesOf(route, house.book).slice(0, 1));
    for (const path of looked) {
      await page.setViewportSize(PHONE);
      const answer = await page.goto(house.origin + path, { waitUntil: 'domcontentloaded' });
      if (!answer?.headers()['content-type']?.includes('html')) continue;
      wrong.push(...(await page.evaluate<string[]>(small)).map((html) => `${path}, phone: ${html}`));
      await page.setViewportSize({ width: 1280, height: 900 });
      wrong.push(...(await page.evaluate<string[]>(near)).map((html) => `${path}, desk: ${html}`));
    }
    expect(looked.length).toBeGreaterThan(100);
    expect(wrong).toEqual([]);
  }, 180_000);
});

// What a form comes to: with a picture where it has one.
const RESULTS = [
  '/garments/G2/edit',
  '/garments/G2/tiers/2',
  '/garments/quick?base=400&closing=ring&fullness=2&usable_width=145&cut_depth=25&seam=1&unit=cm',
  '/garments/parts/flounce?seam=300&depth=25&circles=2&sectors=4&join=1&upper=1&hem=2&width=150&unit=cm',
];

describe('a result', () => {
  const title = () => page.locator('.result h2').first();
  const picture = () => page.locator('.result svg[role="img"]').first();

  it.each(RESULTS)('of %s stays beside its form at a desk, with the whole picture', async (path) => {
    await page.setViewportSize({ width: 1280, height: 900 });
    await open(path);
    const save = page.locator('main form .actions button.main');
    for (const look of ['at the top', 'where it is pressed']) {
      if (look !== 'at the top') await save.scrollIntoViewIfNeeded();
      const box = await title().boundingBox();
      expect(box?.y ?? -1, look).toBeGreaterThanOrEqual(0);
      expect(box?.x ?? 0, look).toBeGreaterThan((await save.boundingBox())?.x ?? Infinity);
      if ((await picture().count()) === 0) continue;
      const drawn = await picture().boundingBox();
      expect((drawn?.y ?? 0) + (drawn?.height ?? Infinity), look).toBeLessThanOrEqual(900);
    }
  });

  it.each(RESULTS)('of %s is a bar on a phone, which opens', async (path) => {
    await page.setViewportSize(PHONE);
    await open(path);
    const bar = page.locator('.result > details > summary');
    expect(await bar.textContent()).toMatch(/\d/);
    expect((await bar.boundingBox())?.y ?? 0).toBeGreaterThan(PHONE.height - 80);
    expect(await title().isVisible()).toBe(false);
    await bar.click();
    expect(await title().isVisible()).toBe(true);
    expect((await bar.boundingBox())?.y ?? Infinity).toBeLessThan(PHONE.height * 0.7);
    const drawn = (await picture().count()) > 0 ? await picture().boundingBox() : null;
    if (drawn) expect(drawn.height).toBeLessThan(PHONE.height * 0.75);
  });

  it('of a quick plan comes where it was asked for: the form stays, and so does what is typed', async () => {
    await open('/cutting-table/quick');
    const first = page.locator('[name="strips.0.width"]');
    await first.fill('30');
    await page.locator('[name="strips.0.length"]').fill('72');
    await page.locator('[name="strips.0.count"]').fill('24');
    await page.locator('[name="pieces.0.width"]').fill('148');
    const plan = page.locator('main button.main');
    await plan.scrollIntoViewIfNeeded();
    await plan.click();
    const said = page.locator('.result-said');
    await said.getByText('Not worked out yet: see what to fix').waitFor();
    await page.locator('[name="pieces.0.length"]').fill('20');
    await plan.click();
    await said.getByText('3.6 m taken').waitFor();
    expect(await plan.evaluate((node) => node.getBoundingClientRect().top < innerHeight)).toBe(true);
    expect(await first.inputValue()).toBe('30');
    expect(await page.locator('.wrong').count()).toBe(0);
    expect(loads).toEqual([]);
    expect(new URL(page.url()).pathname).toMatch(/^\/cutting-table\/quick\/./);
  });
});

describe('the work of a day', () => {
  it('cuts a planned lay in one tap and one page, and takes it back in one more', async () => {
    await page.setViewportSize(PHONE);
    await open('/cutting-table/G2/bench');
    expect(await taps(/lays are cut$/)).toBe(1);
    expect(loads).toEqual(['/cutting-table/G2/bench']);
    const undo = page.locator('.slip-done button');
    expect(await undo.isVisible()).toBe(true);
    expect((await undo.boundingBox())?.y ?? Infinity).toBeLessThan(PHONE.height);
    expect(await taps('Undo')).toBeLessThanOrEqual(2);
    await page.getByText('0 of 4 lays cut').waitFor();
  });

  it('cuts equal lays in one tap and one page where the cloth is cut in one ply', async () => {
    house.write((tx) => tx.run(tx.db.updateTable('cloth').set({ ply_limit: 1 })));
    await open('/cutting-table/G2/bench');
    expect(await taps('All 4 are cut')).toBe(1);
    expect(loads).toEqual(['/cutting-table/G2/bench']);
    await page.getByText('4 of 4 lays cut').waitFor();
    await taps('Undo');
    await page.getByText('0 of 4 lays cut').waitFor();
  });

  it('answers “Can I take?” with eight keys and one page', async () => {
    await open('/');
    await page.locator('#find-code').focus();
    const keys = [...'3m kelp', 'Enter'];
    expect(keys.length).toBeLessThanOrEqual(8);
    for (const key of keys) await page.keyboard.press(key === ' ' ? 'Space' : key);
    await page
      .locator('main .slip')
      .filter({ hasText: /^\s*(Yes|No|Perhaps|Only)/ })
      .or(page.locator('h1', { hasText: 'Can I take' }))
      .first()
      .waitFor();
    expect(loads).toHaveLength(1);
  });

  it('logs a reading of a bath in two taps', async () => {
    await open('/dye-bench/batches/D9/bench');
    const reading = page.getByRole('button', { name: '94 °C', exact: true });
    let count = 0;
    if (!(await reading.isVisible())) count += await taps('Log temperature');
    await reading.click();
    count += 1;
    await page.getByText(/Last: 94 °C/).waitFor();
    expect(count).toBeLessThanOrEqual(2);
  });

  it('tells what a garment costs within two pages of its own', async () => {
    await open('/garments/G2');
    expect(await taps(/^Costs?$|What it costs|Cost/)).toBeLessThanOrEqual(2);
    expect(loads.length).toBeLessThanOrEqual(2);
  });

  it('describes a great skirt of ten ruffled tiers in at most 200 keys, 50 taps and 4 pages', async () => {
    // Without JavaScript: the result that follows each key there costs no hand anything.
    const plain = await (await chromium.open({ javaScript: false, width: DESK.width })).newPage();
    let keys = 0;
    let count = 0;
    let pages = 0;
    plain.on('load', () => {
      pages += 1;
    });
    const type = async (field: string, text: string) => {
      await plain.locator(`#f-${field}`).fill(text);
      keys += text.length + 1;
    };
    const choose = async (field: string, label: string) => {
      await plain.locator(`#f-${field}`).selectOption({ label });
      count += 2;
    };
    const press = async (name: string) => {
      await Promise.all([
        plain.waitForEvent('load'),
        plain.getByRole('button', { name, exact: true }).click(),
      ]);
      count += 1;
    };
    await plain.goto(`${house.origin}/garments/new`);
    await type('name', 'A second great skirt');
    for (const [place, girth] of ['72', '190', '330', '450'].entries()) {
      await type(`girths-${place}-drop`, String(32 * place));
      await type(`girths-${place}-girth`, girth);
    }
    await press('More tiers');
    await choose('tiers-0-cloth_id', 'Nylon voile 150');
    const shades = ['Spume', 'Slack water', 'Low water'];
    for (let tier = 0; tier < 10; tier += 1) {
      await type(`tiers-${tier}-drop`, String(4 + 7 * tier));
      await type(`tiers-${tier}-depth`, '38');
      await type(`tiers-${tier}-fullness`, '7.5');
      await type(`tiers-${tier}-ruffle_depth`, '8');
      await choose(`tiers-${tier}-shade_id`, shades[tier % 3] ?? '');
      await choose(`tiers-${tier}-ruffle_shade_id`, shades[(tier + 1) % 3] ?? '');
    }
    await press('Save');
    await plain.getByText('with 10 tiers and 10 ruffles').waitFor();
    expect(keys).toBeLessThanOrEqual(200);
    expect(count).toBeLessThanOrEqual(50);
    expect(pages).toBeLessThanOrEqual(4);
  });
});

describe('the garment book on paper', () => {
  it.each(['A4', 'Letter'])('of five tiers is at most seven pages of %s', async (format) => {
    await open('/garments/G4/book');
    expect(await page.locator('.book-tier').count()).toBe(5);
    const pages = pagesIn(await page.pdf({ format }));
    expect(pages).toBeGreaterThan(1);
    expect(pages).toBeLessThanOrEqual(7);
  });
});
