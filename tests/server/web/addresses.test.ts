import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { buildApp } from '../../../server/app.ts';
import { openTestBook } from '../support.ts';

const ROOT = new URL('../../../', import.meta.url);
/** Addresses that are written out: where a link leads, a form goes, or an answer points. */
const WRITTEN = {
  'views/': [/\b(?:href|action)="(\/[^"]*)"/g, /(?<!(?:include|layout)\(|\+ )'(\/[a-z][^']*)'/g],
  'server/': [/\b(?:href|action|cancel|location): '(\/[^']*)'/g],
};

async function readRoutes(): Promise<string[][]> {
  const opened = await openTestBook();
  const app = buildApp(opened.book);
  const routes: string[][] = [];
  app.addHook('onRoute', ({ url }) => void routes.push(url.split('/')));
  await app.ready();
  await app.close();
  opened.close();
  return routes;
}

/** What is printed into an address is any part of one, and what ends in a slash goes on. */
function fits(route: readonly string[], written: readonly string[]): boolean {
  const goesOn = ['', '<>'].includes(written.at(-1) ?? '') && written.length > 2;
  if (goesOn ? route.length < written.length : route.length !== written.length) return false;
  return written.every(
    (part, at) =>
      part === route[at] || part === '<>' || route[at]?.startsWith(':') || (part === '' && goesOn && at > 0),
  );
}

// The demo's pages show only some of their links: what stands on an empty page is drawn in other tests at best.
it('every address that is written out is one that the app answers', async () => {
  const routes = await readRoutes();
  const wrong: string[] = [];
  let seen = 0;
  for (const [folder, patterns] of Object.entries(WRITTEN)) {
    const names = readdirSync(new URL(folder, ROOT), { recursive: true, encoding: 'utf8' });
    for (const name of names.filter((one) => /\.(eta|ts)$/.test(one))) {
      const text = readFileSync(new URL(folder + name, ROOT), 'utf8');
      for (const [, written = ''] of patterns.flatMap((pattern) => [...text.matchAll(pattern)])) {
        const address = written.replace(/<%.*?%>/g, '<>').replace(/[?#].*$/, '');
        if (address.startsWith('/assets/')) continue;
        seen += 1;
        if (!routes.some((route) => fits(route, address.split('/'))))
          wrong.push(`${folder}${name}: ${written}`);
      }
    }
  }
  expect(wrong).toEqual([]);
  expect(seen).toBeGreaterThan(150);
});
