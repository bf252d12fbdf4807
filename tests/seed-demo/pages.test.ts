import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addressesOf } from './addresses.ts';
import { type DemoHouse, openDemoHouse } from './demo.ts';

let house: DemoHouse;
let addresses: string[];
beforeAll(async () => {
  house = await openDemoHouse();
  addresses = house.routes.flatMap((route) => addressesOf(route, house.book));
});
afterAll(() => house.shut());

/** Each page is drawn once for all that look at it. */
const drawn = new Map<string, Promise<Awaited<ReturnType<DemoHouse['get']>>>>();
function page(address: string) {
  const known = drawn.get(address) ?? Promise.resolve(house.get(address, 'text/html'));
  drawn.set(address, known);
  return known;
}

/** What a page prints when a value is missing. */
const SPILLED = /\bundefined\b|\bNaN\b|\[object /;

describe('every page of the app, on the demo', () => {
  it('is among those that are looked at', () => {
    expect(house.routes).toEqual(expect.arrayContaining(['/', '/shelf', '/garments', '/short', '/orders']));
    expect(house.routes).toEqual(expect.arrayContaining(['/dye-bench', '/cutting-table', '/setup']));
    expect(addresses.length).toBeGreaterThan(150);
  });

  it('answers as a page that prints nothing missing and says that the workroom is invented', async () => {
    const wrong: string[] = [];
    for (const address of addresses) {
      const { status, text, type } = await page(address);
      const spilled = SPILLED.exec(text)?.[0] ?? '';
      if (status !== 200 || type !== 'text/html' || spilled !== '')
        wrong.push(`${address} ${status} ${spilled}`);
      if (!text.includes('Invented workroom.')) wrong.push(`${address} does not say that it is invented`);
    }
    expect(wrong).toEqual([]);
  });

  it('answers as JSON with data', async () => {
    const wrong: string[] = [];
    for (const address of addresses) {
      const { status, text, type, body } = await house.get(address, 'application/json');
      if (status !== 200 || type !== 'application/json' || Object.keys(body).length === 0) {
        wrong.push(`${address} ${status} ${type}`);
      }
      if (SPILLED.test(text)) wrong.push(`${address} spills`);
    }
    expect(wrong).toEqual([]);
  });

  it('links only to pages that are there', async () => {
    const seen = new Set<string>();
    const dead: string[] = [];
    for (const address of addresses) {
      const { text } = await page(address);
      for (const [, href = ''] of text.matchAll(/\shref="(\/[^"#]*)/g)) {
        const target = href.replaceAll('&amp;', '&');
        if (seen.has(target) || target.startsWith('/assets/')) continue;
        seen.add(target);
        const { status } = await page(target);
        if (status !== 200) dead.push(`${address} leads to ${target}, which answers ${status}`);
      }
    }
    expect(seen.size).toBeGreaterThan(150);
    expect(dead).toEqual([]);
  });
});
