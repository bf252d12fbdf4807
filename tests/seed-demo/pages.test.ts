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

/** The cells of a row, one a column: what each says and what it is called where the table is stacked. */
function cellsOf(row: string) {
  return [...row.matchAll(/<t[hd]\b([^>]*)>([\s\S]*?)<\/t[hd]>/g)].flatMap(([, given = '', content = '']) => {
    const span = Number(/\scolspan="(\d+)"/.exec(given)?.[1] ?? 1);
    const label = /\sdata-label="([^"]*)"/.exec(given)?.[1] ?? '';
    const text = content.replace(/<[^>]*>/g, '').trim();
    return Array.from({ length: span }, () => ({ text, label, span }));
  });
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

  it('has tables whose rows have a cell for each column, named as the column is', async () => {
    const wrong = new Set<string>();
    let rows = 0;
    for (const address of addresses) {
      for (const [table] of (await page(address)).text.matchAll(/<table[\s\S]*?<\/table>/g)) {
        const [head, ...others] = [...table.matchAll(/<tr[\s\S]*?<\/tr>/g)].map(([row]) => cellsOf(row));
        rows += others.length;
        for (const row of others) {
          if (row.length !== head?.length)
            wrong.add(`${address}: ${row.length} cells below ${head?.length} columns`);
          row.forEach(({ label }, at) => {
            if (head?.[at]?.span === 1 && !head[at].text.startsWith(label))
              wrong.add(`${address}: "${label}" below "${head?.[at]?.text}"`);
          });
        }
      }
    }
    expect(rows).toBeGreaterThan(1000);
    expect([...wrong]).toEqual([]);
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
