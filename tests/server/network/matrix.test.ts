import type { RouteOptions } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../../server/app.ts';
import { RULES, type Rule } from '../../../server/web/rules.ts';
import { HAND, KEEPER, type NetworkHouse, openNetworkHouse, type WayIn } from './house.ts';

// What each rule must let in: OWASP ASVS 5.0.0, 8.1.1, 8.2.1, 8.3.1.

let house: NetworkHouse;
let askers: { name: string; way: WayIn; token: string; rank: Rule }[];

const certificates = { root: () => null, certify: async () => ({ key: '', cert: '' }) };

beforeAll(async () => {
  house = await openNetworkHouse({ certificates });
  const shared = house.device('Tablet');
  const gone = house.device('Lost phone');
  house.book.writeAside((run) =>
    run(
      house.book.db.updateTable('device').set({ sent_away_at: house.book.now() }).where('id', '=', gone.id),
    ),
  );
  const hand = house.signed(shared.id, HAND.id);
  const keeper = house.signed(shared.id, KEEPER.id, true);
  const keeperAtMachine = house.signed(1, KEEPER.id, true);
  askers = [
    { name: 'nobody', way: 'tls', token: '', rank: 'open' },
    { name: 'somebody with a made-up token', way: 'tls', token: 'made-up', rank: 'open' },
    { name: 'a device that was sent away', way: 'tls', token: gone.token, rank: 'open' },
    { name: 'the machine’s own token, carried off', way: 'tls', token: keeperAtMachine, rank: 'open' },
    { name: 'a device without a person', way: 'tls', token: shared.token, rank: 'paired' },
    { name: 'a hand', way: 'tls', token: hand, rank: 'hand' },
    {
      name: 'a keeper who gave no passphrase',
      way: 'tls',
      token: house.signed(shared.id, KEEPER.id),
      rank: 'hand',
    },
    { name: 'a keeper', way: 'tls', token: keeper, rank: 'keeper' },
    { name: 'a tablet’s token, carried to the machine', way: 'machine', token: keeper, rank: 'paired' },
    { name: 'the machine without a person', way: 'machine', token: '', rank: 'paired' },
    { name: 'a hand at the machine', way: 'machine', token: house.signed(1, HAND.id), rank: 'hand' },
    { name: 'a keeper at the machine', way: 'machine', token: keeperAtMachine, rank: 'machine' },
  ];
});
afterAll(() => house.shut());

/** Every route but the one that hands the device back. */
async function everyRoute() {
  const app = buildApp(house.book);
  const found: RouteOptions[] = [];
  app.addHook('onRoute', (route) => void found.push(route));
  await app.ready();
  await app.close();
  // HEAD has the rule of its GET, which the rules' own test holds.
  return found.filter(({ url, method }) => url !== '/who/done' && method !== 'HEAD');
}

const isLetIn = (status: number) => status !== 401 && status !== 403;

describe('every route, asked by everybody', () => {
  it('answers whom its rule lets in and nobody else', async () => {
    const routes = await everyRoute();
    expect(routes.length).toBeGreaterThan(200);
    const wrong: string[] = [];
    for (const { method, url, config } of routes) {
      const path = url.replaceAll(/:\w+/g, '9');
      const rule = config?.rule as Rule;
      for (const { name, way, token, rank } of askers) {
        const { statusCode } = await house.ask({ method: method as 'GET', path, way, token });
        const expected = RULES.indexOf(rule) <= RULES.indexOf(rank);
        if (isLetIn(statusCode) !== expected)
          wrong.push(`${method} ${url} (${rule}) answers ${name} ${statusCode}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('is asked over plain http as over the certificate, and there nobody is more than a hand', async () => {
    const plain = await openNetworkHouse();
    const { id } = plain.device('Tablet');
    const tokens = [plain.signed(id, KEEPER.id, true), plain.signed(id, HAND.id)];
    const wrong: string[] = [];
    for (const { method, url, config } of await everyRoute()) {
      const path = url.replaceAll(/:\w+/g, '9');
      const expected = ['open', 'paired', 'hand'].includes(String(config?.rule));
      for (const token of tokens) {
        const { statusCode } = await plain.ask({ method: method as 'GET', path, token });
        if (isLetIn(statusCode) !== expected) wrong.push(`${method} ${url} ${config?.rule} ${statusCode}`);
      }
    }
    await plain.shut();
    expect(wrong).toEqual([]);
  });

  it('tells strangers of no address whether it is there, and people that it is not', async () => {
    const strange = await house.ask({ path: '/no-such-page', way: 'tls' });
    const hand = askers.find(({ name }) => name === 'a hand');
    expect(strange.statusCode).toBe(401);
    expect(strange.body).not.toContain('Workroom');
    expect(
      (await house.ask({ path: '/no-such-page', way: 'tls', token: hand?.token ?? '' })).statusCode,
    ).toBe(404);
    expect((await house.ask({ method: 'OPTIONS', path: '/shelf', way: 'tls' })).statusCode).toBe(401);
    const html = await house.ask({ path: '/shelf', way: 'tls', headers: { accept: 'text/html' } });
    expect(html.statusCode).toBe(401);
    // Nothing of the workroom: neither its name nor its rooms.
    expect(html.body).not.toContain('class="rooms"');
    expect(html.body).toMatch(/<p class="masthead-name"><span>Clothroom<\/span> <span><\/span>/);
  });

  it('leads a browser on a device without a person to the names, and back', async () => {
    const paired = askers.find(({ name }) => name === 'a device without a person');
    const answer = await house.ask({
      path: '/shelf?cloth=2',
      way: 'tls',
      token: paired?.token ?? '',
      headers: { accept: 'text/html' },
    });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/who?back=%2Fshelf%3Fcloth%3D2']);
  });
});

describe('the address that is asked for', () => {
  const hosts = (way: WayIn, host: string, method: 'GET' | 'POST' = 'GET') =>
    house.ask({ method, path: '/ping', way, headers: { host } });

  it('is the number on the way that it was reached by, the name on the poster, and nothing else', async () => {
    for (const host of [
      '127.0.0.1:1',
      'localhost:1',
      '192.168.1.20',
      '192.168.1.20:0',
      '192.168.1.21:1',
      'evil.example',
      '',
    ])
      expect([host, (await hosts('tls', host)).statusCode]).toEqual([host, 421]);
    expect((await hosts('tls', '192.168.1.20:1')).statusCode).toBe(204);
    // The machine is no part of the network.
    expect((await hosts('machine', '192.168.1.20:0')).statusCode).toBe(421);
    expect((await hosts('machine', 'localhost:0')).statusCode).toBe(204);
  });

  it('leads to the one on the poster before anybody is let in', async () => {
    const other = await openNetworkHouse();
    const ask = (host: string, method: 'GET' | 'POST' = 'GET') =>
      other.ask({
        method,
        path: '/join?a=1',
        at: '192.168.1.30',
        headers: { host, origin: `http://${host}` },
      });
    const led = await ask('192.168.1.30:0');
    expect([led.statusCode, led.headers.location]).toEqual([303, 'http://192.168.1.20:0/join?a=1']);
    expect((await ask('192.168.1.20:0')).statusCode).toBe(200);
    expect((await ask('192.168.1.40:0')).statusCode).toBe(421);
    // What is sent is not led on: a browser would send it again elsewhere.
    expect((await ask('192.168.1.30:0', 'POST')).statusCode).toBe(409);
    await other.shut();
  });

  it('over plain http, where the certificate is used, leads there and takes nothing', async () => {
    const status = async (path: string, method: 'GET' | 'POST' = 'GET') => {
      const answer = await house.ask({ path, method });
      return [answer.statusCode, answer.headers.location ?? ''];
    };
    expect(await status('/P/B12')).toEqual([303, 'https://192.168.1.20:1/P/B12']);
    expect(await status('/shelf')).toEqual([303, '/certificate']);
    expect(await status('/ping')).toEqual([204, '']);
    expect(await status('/who', 'POST')).toEqual([403, '']);
  });
});

describe('another site', () => {
  it('writes nothing in anybody’s name, whatever its address and the token', async () => {
    const hand = askers.find(({ name }) => name === 'a hand');
    const post = (headers: Record<string, string>) =>
      house.ask({ method: 'POST', path: '/undo', way: 'tls', token: hand?.token ?? '', headers });
    for (const headers of [
      { origin: 'https://192.168.1.20:8080' },
      { origin: 'http://192.168.1.20:1' },
      { origin: 'null' },
      { origin: '' },
      { 'sec-fetch-site': 'same-site' },
      { 'sec-fetch-site': 'cross-site' },
    ])
      expect([headers, (await post(headers as Record<string, string>)).statusCode]).toEqual([headers, 403]);
    expect((await post({})).statusCode).toBe(422);
  });
});
