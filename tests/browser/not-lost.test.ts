import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Chromium, startChromium } from './chromium.ts';

// A form on a phone whose machine drops the answer. The page is served by the test, under a name of another machine.

const SCRIPT = readFileSync(new URL('../../views/assets/not-lost.js', import.meta.url), 'utf8');
const FORM = `<!doctype html><title>Cut</title><form method="post" action="/cut">
  <input type="hidden" name="request_key" value="KEY"><input name="length"><input type="checkbox" name="spoiled" value="yes">
  <input type="password" name="passphrase"><button>Cut</button></form><script>${SCRIPT}</script>`;

let chromium: Chromium;
let page: Page;
let drawn = 0;
let posts: string[];
let answers: boolean;

beforeAll(async () => {
  chromium = await startChromium();
});
afterAll(() => chromium.close());
beforeEach(async () => {
  const context = await chromium.open();
  page = await context.newPage();
  posts = [];
  answers = false;
  await page.route('http://workroom.test/**', async (route) => {
    const request = route.request();
    const { pathname } = new URL(request.url());
    if (pathname === '/ping') return route.fulfill({ status: 204 });
    if (request.method() === 'POST') {
      posts.push(request.postData() ?? '');
      return answers
        ? route.fulfill({ status: 200, contentType: 'text/html', body: '<h1>Done</h1>' })
        : route.abort('connectionreset');
    }
    drawn += 1;
    const body = FORM.replace('KEY', `key-number-${drawn}`);
    return route.fulfill({ contentType: 'text/html', headers: { 'cache-control': 'no-store' }, body });
  });
  await page.goto('http://workroom.test/cut');
});

async function typeAndSend() {
  await page.fill('[name=length]', '1.3 m');
  await page.check('[name=spoiled]');
  await page.fill('[name=passphrase]', 'nobody keeps this');
  const failed = page.waitForEvent('requestfailed');
  await page.click('button');
  await failed;
}

describe('a form whose answer never came', () => {
  it('has what was typed again after Back, under the same key, and no passphrase', async () => {
    await typeAndSend();
    await page.waitForURL('chrome-error://chromewebdata/');
    await page.goto('http://workroom.test/cut');
    await page.getByText('No answer came. What you typed is back').waitFor();
    expect(await page.inputValue('[name=length]')).toBe('1.3 m');
    expect(await page.isChecked('[name=spoiled]')).toBe(true);
    expect(await page.inputValue('[name=passphrase]')).toBe('');
    answers = true;
    await page.click('button');
    await page.getByText('Done').waitFor();
    const keys = posts.map((sent) => new URLSearchParams(sent).get('request_key'));
    expect(keys.length).toBe(2);
    expect(keys[1]).toBe(keys[0]);
  });

  it('is as it is drawn once an answer came, and once it was read elsewhere', async () => {
    answers = true;
    await page.fill('[name=length]', '1.3 m');
    await page.click('button');
    await page.getByText('Done').waitFor();
    await page.goto('http://workroom.test/other');
    await page.goto('http://workroom.test/cut');
    expect(await page.inputValue('[name=length]')).toBe('');
  });
});
