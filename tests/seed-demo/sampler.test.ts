import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { classesOf } from '../house/rules.ts';
import { openTestHouse } from '../server/support.ts';
import { type DemoHouse, openDemoHouse } from './demo.ts';

// A part of the pages that nobody put into the sampler fails here, so that each is seen beside the others when it changes.

const VIEWS = new URL('../../views/', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, VIEWS), 'utf8');
const templates = readdirSync(VIEWS, { recursive: true, encoding: 'utf8' }).filter((path) =>
  path.endsWith('.eta'),
);

let house: DemoHouse;
beforeAll(async () => {
  house = await openDemoHouse();
});
afterAll(() => house.shut());

const sampler = async (query = '') => (await house.get(`/sampler${query}`, 'text/html').expect(200)).text;

/** The styles of all rooms; what stands in another file is a part of the house where the views of two rooms use it. */
const OF_ALL_ROOMS = [
  'base',
  'masthead',
  'slips',
  'forms',
  'fields',
  'result',
  'tables',
  'drawings',
  'bench',
  'print',
];

/** What no view writes, or only for a person or a page that the demo at a desk has not. */
const NOT_SHOWN: Readonly<Record<string, string>> = {
  scripted: 'set on the page by a script',
  'bench-sheet': 'the frame of a sheet of the dye bench, which orders its blocks on paper',
  'outcome-tables': 'the result of a new garment alone',
  'part-lay': 'drawn from a part that is worked out',
};

const classesStyled = (file: string) =>
  [
    ...read(`assets/${file}`)
      .replace(/\/\*[\s\S]*?\*\//g, '')
      .matchAll(/\.([a-z][\w-]*)/g),
  ].map(([, name = '']) => name);

/** Classes by the rooms whose views write them. */
function roomsOfClasses(): Map<string, Set<string>> {
  const rooms = new Map<string, Set<string>>();
  for (const path of templates) {
    const room = path.includes('/') ? (path.split('/')[0] ?? '') : 'layout';
    if (room === 'sampler') continue;
    for (const name of classesOf({ path, text: read(path) }))
      rooms.set(name, (rooms.get(name) ?? new Set()).add(room));
  }
  return rooms;
}

/** The classes that an answer really has. */
const shownIn = (html: string) =>
  new Set([...html.matchAll(/\sclass="([^"]*)"/g)].flatMap(([, names = '']) => names.split(/\s+/)));

describe('the sampler', () => {
  it('draws every partial', () => {
    const partials = templates.filter((path) => path.startsWith('partials/'));
    const drawing = templates.filter((path) => path.startsWith('sampler/') || path === 'layout.eta');
    const text = drawing.map(read).join('\n');
    const missing = partials.filter((path) => !text.includes(`include('/${path.replace('.eta', '')}'`));
    expect(partials.length).toBeGreaterThan(15);
    expect(missing).toEqual([]);
  });

  it('has every class that stands for a part of the house', async () => {
    const shown = shownIn(await sampler());
    const rooms = roomsOfClasses();
    const styles = readdirSync(new URL('assets/', VIEWS)).filter((file) => file.endsWith('.css'));
    const parts = styles.flatMap((file) =>
      classesStyled(file).filter(
        (name) => OF_ALL_ROOMS.includes(file.replace('.css', '')) || (rooms.get(name)?.size ?? 0) > 1,
      ),
    );
    expect(new Set(parts).size).toBeGreaterThan(100);
    const missing = [...new Set(parts)].filter((name) => !shown.has(name) && !(name in NOT_SHOWN));
    expect(missing).toEqual([]);
    // What is left out is not shown indeed, so that the list does not outlive its reasons.
    expect(Object.keys(NOT_SHOWN).filter((name) => shown.has(name))).toEqual([]);
  });

  it('is drawn in the colours that are asked for, with each way to them marked', async () => {
    for (const scheme of ['light', 'dark']) {
      const html = await sampler(`?scheme=${scheme}`);
      expect(html).toContain(`data-scheme="${scheme}"`);
      expect(html).toContain(`href="/sampler?scheme=${scheme}" aria-current="page"`);
    }
    expect(await sampler('?scheme=pink')).toContain('data-scheme=""');
  });

  it('is in the invented workroom alone', async () => {
    const own = await openTestHouse();
    await own.page('/sampler').expect(404);
    await own.shut();
  });
});
