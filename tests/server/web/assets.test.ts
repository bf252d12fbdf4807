import { readdirSync, readFileSync } from 'node:fs';
import Fastify from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ASSET_LINKS, asset, serveAssets } from '../../../server/web/assets.ts';

const app = Fastify();
beforeAll(() => serveAssets(app));
afterAll(() => app.close());

const get = (url: string) => app.inject({ url });

describe('an asset', () => {
  it.each([
    ['css', 'text/css; charset=utf-8'],
    ['js', 'text/javascript; charset=utf-8'],
    ['htmx', 'text/javascript; charset=utf-8'],
    ['icon', 'image/svg+xml'],
  ] as const)('%s is served by its type and kept for good', async (key, type) => {
    const answer = await get(asset(key));
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['content-type']).toBe(type);
    expect(answer.headers['cache-control']).toBe('public, max-age=31536000, immutable');
    expect(answer.rawPayload.length).toBeGreaterThan(100);
  });

  it('has an address that changes with its content', () => {
    for (const link of Object.values(ASSET_LINKS))
      expect(link).toMatch(/^\/assets\/[0-9a-f]{12}\/[a-z]+\.(css|js|svg)$/);
    expect(new Set(Object.values(ASSET_LINKS).map((link) => link.split('/')[2])).size).toBe(4);
  });

  it('asked for by an old address is not kept', async () => {
    const answer = await get('/assets/000000000000/clothroom.css');
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['cache-control']).toBe('no-cache');
  });

  it('is nothing but these few', async () => {
    for (const name of [
      'layout.eta',
      '..%2flayout.eta',
      '..%2f..%2fpackage.json',
      'base.css',
      '__proto__',
      'constructor',
      '%00',
    ]) {
      expect((await get(`/assets/${asset('css').split('/')[2]}/${name}`)).statusCode).toBe(404);
    }
  });

  it('joins every stylesheet of the folder, the base first and print last', async () => {
    const css = (await get(asset('css'))).body;
    const folder = new URL('../../../views/assets/', import.meta.url);
    const names = readdirSync(folder).filter((name) => name.endsWith('.css'));
    expect(names.length).toBeGreaterThanOrEqual(8);
    const places = new Map(
      names.map((name) => [name, css.indexOf(readFileSync(new URL(name, folder), 'utf8'))]),
    );
    expect([...places.values()]).not.toContain(-1);
    expect(places.get('base.css')).toBe(0);
    expect(places.get('print.css')).toBe(Math.max(...places.values()));
  });
});
