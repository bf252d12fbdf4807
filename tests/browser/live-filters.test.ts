import Fastify, { type FastifyInstance } from 'fastify';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { ASSET_LINKS, serveAssets } from '../../server/web/assets.ts';
import { addGuard } from '../../server/web/guard.ts';
import type { Shell } from '../../server/web/shell-data.ts';
import { render } from '../../server/web/views.ts';
import { type Chromium, startChromium } from './chromium.ts';

// A page of one filter and one list, to try views/assets/clothroom.js with no room around it.

const shell: Shell = {
  title: 'Shelf',
  room: 'shelf',
  path: '/',
  workroomName: 'Harbour Parade',
  invented: false,
  who: null,
  keyPrefix: '',
  people: [],
  done: null,
  savedBefore: null,
  sentForm: null,
  rooms: [],
  signed: null,
  notice: '',
  asOf: '2 Mar 2026, 12:00',
  trouble: null,
  problems: [],
  saves: true,
  wayOn: null,
  waiting: 0,
  drawsAgain: false,
  assets: ASSET_LINKS,
};

let chromium: Chromium;
let app: FastifyInstance;
let origin: string;
let page: Page;
let asked: string[];
let complaints: string[];

beforeAll(async () => {
  chromium = await startChromium();
  app = Fastify();
  addGuard(app, { port: () => Number(new URL(origin).port), served: null });
  serveAssets(app);
  app.get<{ Querystring: { least?: string; lot?: string } }>('/', (request, reply) => {
    asked.push(request.url);
    const { least = '', lot = '' } = request.query;
    reply.type('text/html');
    if (least === '500') return reply.code(500).send('<!DOCTYPE html><title>Fault</title><h1>Fault</h1>');
    const error = least === '1,500' ? 'Write 1.5 or 1500' : '';
    const fields = [
      { name: 'least', label: 'Least free length', filter: true, value: least, error },
      { name: 'lot', label: 'Lot', filter: true, value: lot, error: '' },
    ].map((field) => render('partials/field', { field }));
    const form = `<form class="filters" method="get" action="/" data-live="list">${fields.join('')}<button class="apply">Show</button></form>`;
    return reply.send(
      render('layout', {
        shell,
        body: `${form}<div id="list"><p class="count">Pieces of ${least || 'any length'}</p></div>`,
      }),
    );
  });
  origin = await app.listen({ host: '127.0.0.1', port: 0 });
});
afterAll(async () => {
  await chromium.close();
  await app.close();
});

beforeEach(async () => {
  asked = [];
  complaints = [];
  page = await (await chromium.open()).newPage();
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(origin);
});
afterEach(() => page.context().close());

const count = (hasText: string) => page.locator('#list .count', { hasText }).waitFor();

describe('a filter that is being typed in', () => {
  it('redraws the list, keeps the focus and puts only what is filled in into the address', async () => {
    await page.fill('#f-least', '3 m');
    await count('Pieces of 3 m');
    expect(await page.evaluate('document.activeElement.id')).toBe('f-least');
    expect(page.url()).toBe(`${origin}/?least=3+m`);
    expect(asked.at(-1)).toBe('/?least=3+m');
    expect(complaints).toEqual([]);
  });

  it('has no button then, and says the count to who cannot see the list', async () => {
    expect(await page.isVisible('.apply')).toBe(false);
    await page.fill('#f-least', '4 m');
    await page.locator('#spoken', { hasText: 'Pieces of 4 m' }).waitFor({ state: 'attached' });
  });

  it('asks once for what is typed in one go', async () => {
    asked = [];
    await page.locator('#f-least').pressSequentially('12.5', { delay: 20 });
    await count('Pieces of 12.5');
    expect(asked).toEqual(['/?least=12.5']);
  });

  it('says beside the field what cannot be read, until it can', async () => {
    await page.fill('#f-least', '1,500');
    await page.waitForSelector('#f-least-error');
    expect(await page.textContent('#f-least-error')).toBe('Write 1.5 or 1500');
    expect(await page.getAttribute('#f-least', 'aria-describedby')).toBe('f-least-error');
    expect(await page.textContent('#spoken')).toBe('Write 1.5 or 1500');
    await page.fill('#f-least', '1.5');
    await count('Pieces of 1.5');
    expect(await page.locator('#f-least-error').count()).toBe(0);
    expect(await page.getAttribute('#f-least', 'aria-invalid')).toBeNull();
  });

  it('shows a fault whole instead of hiding it in the list', async () => {
    await page.fill('#f-least', '500');
    await page.locator('h1', { hasText: 'Fault' }).waitFor();
    expect(page.url()).toBe(`${origin}/?least=500`);
  });
});

describe('without scripts', () => {
  it('the filter has a button and does the same', async () => {
    const plain = await (await chromium.open({ javaScript: false })).newPage();
    await plain.goto(origin);
    await plain.fill('#f-least', '3 m');
    await plain.click('.apply');
    expect(await plain.textContent('#list .count')).toBe('Pieces of 3 m');
    await plain.context().close();
  });
});
