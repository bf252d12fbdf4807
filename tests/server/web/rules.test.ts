import Fastify, { type RouteOptions } from 'fastify';
import { describe, expect, it } from 'vitest';
import { buildApp } from '../../../server/app.ts';
import { SERVER_LIMITS } from '../../../server/web/guard.ts';
import { demandRules, ruledRooms } from '../../../server/web/rules.ts';
import { openTestBook } from '../support.ts';

describe('the rule of a route', () => {
  it('is known for every one, and a changed one is seen here', async () => {
    const { book, close } = await openTestBook();
    const app = buildApp(book);
    const routes: RouteOptions[] = [];
    app.addHook('onRoute', (route) => void routes.push(route));
    await app.ready();
    const lines = routes.map(
      ({ method, url, config }) => `${String(config?.rule).padEnd(8)}${String(method).padEnd(5)}${url}`,
    );
    await app.close();
    close();
    expect(lines.length).toBeGreaterThan(200);
    await expect(`${lines.sort().join('\n')}\n`).toMatchFileSnapshot('rules.txt');
  });

  it('is that of its room, unless it has one of its own', async () => {
    const app = Fastify(SERVER_LIMITS);
    demandRules(app);
    const routes: RouteOptions[] = [];
    app.addHook('onRoute', (route) => void routes.push(route));
    app.register(async (shared) => {
      const room = ruledRooms(shared);
      room({ GET: 'hand', POST: 'keeper' }, (own) => {
        own.get('/a', () => '');
        own.post('/a', () => '');
        own.get('/b', { config: { rule: 'open' } }, () => '');
      });
      room({ GET: 'keeper', POST: 'keeper' }, (own) => {
        own.get('/c', () => '');
      });
    });
    await app.ready();
    expect(routes.map(({ method, url, config }) => `${method} ${url} ${config?.rule}`).sort()).toEqual([
      'GET /a hand',
      'GET /b open',
      'GET /c keeper',
      'POST /a keeper',
    ]);
    await app.close();
  });

  it('is demanded: a server with a route that has none does not start', async () => {
    for (const config of [undefined, { rule: 'anybody' as never }]) {
      const app = Fastify();
      demandRules(app);
      app.register(async (shared) => {
        ruledRooms(shared)({ GET: 'hand', POST: 'hand' }, (own) => {
          own.get('/a', () => '');
        });
        // After the room its rule is nobody's.
        shared.get('/bare', { ...(config && { config }) }, () => '');
      });
      await expect(app.ready()).rejects.toThrow('no rule says who may ask GET /bare, HEAD /bare');
    }
  });
});
