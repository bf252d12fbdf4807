import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../support.ts';

const VIEWS = new URL('../../../views/', import.meta.url);

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

/** The addresses that views name in full, by how a browser asks for them. Many stand on pages that the demo never shows. */
function addressesInViews(): { links: string[]; forms: string[] } {
  const views = readdirSync(VIEWS, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.eta'),
  );
  const text = views.map((name) => readFileSync(new URL(name, VIEWS), 'utf8')).join('\n');
  const named = (words: string) =>
    [...text.matchAll(new RegExp(`\\b(?:${words})(?:="|: ')(/|(?:/[a-z-]+)+)(?:[?#][^"'<]*)?["']`, 'g'))].map(
      ([, address]) => address ?? '',
    );
  return { links: [...new Set(named('href'))], forms: [...new Set(named('action|formaction'))] };
}

const takesForms = (answer: { body: { error?: { message: string } } }) =>
  answer.body.error?.message !== 'There is no such page.';

it('leads only to pages and forms that are there', async () => {
  const { links, forms } = addressesInViews();
  expect(links.length).toBeGreaterThan(40);
  expect(forms.length).toBeGreaterThan(20);
  const nowhere: string[] = [];
  for (const address of links) if ((await house.data(address)).status === 404) nowhere.push(`GET ${address}`);
  for (const address of forms) {
    const found = takesForms(await house.data(address)) || takesForms(await house.send(address, {}));
    if (!found) nowhere.push(`POST ${address}`);
  }
  expect(nowhere).toEqual([]);
});
