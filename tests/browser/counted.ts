import type { Page } from 'playwright-core';
import { type DemoHouse, openDemoHouse } from '../seed-demo/demo.ts';
import { type Chromium, startChromium } from './chromium.ts';

export const PHONE = { width: 390, height: 844 };
export const DESK = { width: 1280, height: 900 };

/** Somebody at a browser in the invented workroom, whose taps, keys and loads are counted. */
export interface Counted {
  readonly house: DemoHouse;
  readonly chromium: Chromium;
  readonly page: Page;
  /**
   * What somebody waited for since the last `open`: pages that the browser went to, by their path, and answers that a press
   * had put into a page. What follows by itself while somebody types is not waited for.
   */
  loads: string[];
  keys: number;
  /** Goes to a page; what is counted begins anew. */
  open(path: string): ReturnType<Page['goto']>;
  /** Presses what a hand would, each a tap, and gives how many it took. */
  taps(...names: (string | RegExp)[]): Promise<number>;
  /** Fills a field by its id: its characters are keys, and so is the way to it. */
  type(field: string, text: string): Promise<void>;
  close(): Promise<void>;
}

export async function startCounted(): Promise<Counted> {
  const [house, chromium] = await Promise.all([openDemoHouse(), startChromium()]);
  const page = await (await chromium.open({ width: PHONE.width })).newPage();
  page.setDefaultTimeout(60_000);
  const counted: Counted = {
    house,
    chromium,
    page,
    loads: [],
    keys: 0,
    async open(path) {
      const answer = await page.goto(house.origin + path);
      Object.assign(counted, { loads: [], keys: 0 });
      return answer;
    },
    async taps(...names) {
      for (const name of names) {
        const target = page.locator('main').locator('button, summary, a').filter({ hasText: name }).first();
        await target.scrollIntoViewIfNeeded();
        const stays = await target.evaluate((node) => node.tagName === 'SUMMARY');
        await Promise.all([stays ? null : page.waitForEvent('load'), target.click()]);
      }
      return names.length;
    },
    async type(field, text) {
      await page.locator(`#f-${field}`).fill(text);
      counted.keys += text.length + 1;
    },
    async close() {
      await chromium.close();
      await house.shut();
    },
  };
  page.on('response', (answer) => {
    const asked = answer.request();
    const isPressed = asked.headers()['hx-source']?.startsWith('button');
    if (asked.isNavigationRequest() ? answer.status() === 200 : isPressed)
      counted.loads.push(new URL(answer.url()).pathname);
  });
  return counted;
}
