import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';

// A script tag would be refused by the content security policy, so axe is evaluated.
const AXE = readFileSync(new URL('../../node_modules/axe-core/axe.min.js', import.meta.url), 'utf8');
const PAGES = ['/setup', '/setup/people', '/no-such-page'];

let house: TestHouse;
let chromium: Chromium;

beforeAll(async () => {
  [house, chromium] = await Promise.all([openTestHouse(), startChromium()]);
  await house.submit('/setup/people', { name: 'Dagny', length_system: '' }).expect(303);
});
afterAll(async () => {
  await chromium.close();
  await house.shut();
});

/** Opens a page and keeps what its console says against it, and what it sends. */
async function open(path: string, options: Parameters<Chromium['open']>[0] = {}) {
  const context = await chromium.open(options);
  const page = await context.newPage();
  const complaints: string[] = [];
  const posts: string[] = [];
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('request', (request) => request.method() === 'POST' && posts.push(new URL(request.url()).pathname));
  await page.goto(`${house.origin}${path}`);
  return { page, complaints, posts, close: () => context.close() };
}

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  return page.evaluate(
    `axe.run().then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes[0].html))`,
  );
}

const overflow = (page: Page) => page.evaluate<number>('document.documentElement.scrollWidth - innerWidth');

// WCAG 2.2: 1.4.10 Reflow asks for 320 CSS pixels without scrolling sideways; axe-core checks what a program can.
describe.each([
  { width: 1280, dark: false },
  { width: 390, dark: true },
  { width: 320, dark: false },
])('at $width pixels', ({ width, dark }) => {
  it.each(PAGES)('%s can be used by everybody and scrolls one way only', async (path) => {
    const { page, complaints, close } = await open(path, { width, dark });
    expect(await violations(page)).toEqual([]);
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(complaints.filter((text) => !text.includes('404'))).toEqual([]);
    await close();
  });
});

describe('the checks above', () => {
  it('find a broken page', async () => {
    const { page, close } = await open('/setup', { width: 320 });
    await page.evaluate(
      `document.querySelector('main').insertAdjacentHTML('beforeend', '<img src="/a.png"><input>')`,
    );
    await page.evaluate(
      `document.querySelector('h1').textContent = 'x'.repeat(400); document.body.style.overflowWrap = 'normal'`,
    );
    expect((await violations(page)).map((found) => found.split(':')[0])).toEqual(
      expect.arrayContaining(['image-alt', 'label']),
    );
    expect(await overflow(page)).toBeGreaterThan(0);
    await close();
  });
});

describe('the small helps', () => {
  it('send a form once when its button is clicked three times', async () => {
    const { page, posts, complaints, close } = await open('/setup');
    await page.evaluate(
      `const button = document.querySelector('main button.main'); button.click(); button.click(); button.click()`,
    );
    await page.waitForURL('**/setup?done=*');
    expect(posts).toEqual(['/setup']);
    expect(complaints).toEqual([]);
    await close();
  });

  it('put the focus on what was done, so that it is read out and Undo comes next', async () => {
    const { page, close } = await open('/setup');
    await page.click('main button.main');
    await page.waitForURL('**/setup?done=*');
    expect(await page.evaluate('document.activeElement.textContent.includes("Done")')).toBe(true);
    await close();
  });

  it('put the focus on the summary of a refused form, whose links lead to the fields', async () => {
    const { page, close } = await open('/setup');
    await page.fill('#f-name', '');
    await page.click('main button.main');
    await page.waitForSelector('#problems');
    expect(await page.evaluate('document.activeElement.id')).toBe('problems');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate('document.activeElement.id')).toBe('f-name');
    await close();
  });

  it('change who works here by choosing a name', async () => {
    const { page, posts, close } = await open('/setup');
    expect(await page.isVisible('.who button')).toBe(false);
    const moved = page.waitForNavigation();
    await page.selectOption('#working-as', { label: 'Dagny' });
    await moved;
    expect(posts).toEqual(['/setup/working-as']);
    expect(await page.locator('#working-as option:checked').textContent()).toBe('Dagny');
    await close();
  });
});

describe('without scripts', () => {
  it('the same choice has a button', async () => {
    const { page, close } = await open('/setup', { javaScript: false });
    await page.selectOption('#working-as', { label: 'Dagny' });
    await page.click('.who button');
    expect(new URL(page.url()).pathname).toBe('/setup');
    expect(await page.locator('#working-as option:checked').textContent()).toBe('Dagny');
    await close();
  });
});

describe('the keyboard', () => {
  it('finds the way past the navigation first, and sees where it is', async () => {
    const { page, close } = await open('/setup');
    await page.keyboard.press('Tab');
    expect(await page.evaluate('document.activeElement.textContent')).toBe('Skip to the page');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    expect(await page.evaluate('document.querySelector("main").contains(document.activeElement)')).toBe(true);
    expect(await page.evaluate('getComputedStyle(document.activeElement).outlineStyle')).toBe('solid');
    await close();
  });
});
