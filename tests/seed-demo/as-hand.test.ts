import inject from 'light-my-request';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { invite, useInvitation } from '../../server/let-in/devices.ts';
import { signIn } from '../../server/let-in/sign-ins.ts';
import { writeNetwork } from '../../server/network/settings.ts';
import { allows } from '../../server/web/admission.ts';
import type { demandRules, Rule } from '../../server/web/rules.ts';
import { ADDRESS, CHEAP, on, PHONE } from '../server/network/house.ts';
import { newKey, type TestBook } from '../server/support.ts';
import { addressesOf } from './addresses.ts';
import { openDemo } from './demo.ts';
import { priceIn } from './prices.ts';

// What a hand of the invented workroom finds on a phone: every page that is theirs, as HTML and as JSON.

let demo: TestBook;
let app: ReturnType<typeof buildApp>;
let token: string;
let keeper: string;
let routes: { method: string; url: string; rule: Rule }[];
let rules: ReturnType<typeof demandRules>;

beforeAll(async () => {
  demo = await openDemo();
  const { book } = demo;
  const hand = book.first(book.db.selectFrom('person').select('id').where('role', '=', 'hand'));
  book.write({ key: newKey(), asked: null, personId: 1 }, (tx) => {
    writeNetwork(tx, { isOn: true, subnets: ['192.168.1.0/24'], wifiName: '', ownCertificate: false });
    tx.run(
      tx.db.insertInto('label_address').values({ address: `http://${ADDRESS}:0`, at: tx.at, person_id: 1 }),
    );
    return { location: '/', said: 'Done.' };
  });
  token = book.writeAside((run) => {
    const invited = { deviceName: 'Phone', personId: hand?.id ?? 0 };
    const code = invite({ db: book.db, run, at: book.now() }, invited, 1);
    const { id } = useInvitation(book, run, code, book.now());
    return signIn(book.db, run, book.now(), null, { deviceId: id, personId: hand?.id ?? 0, isKeeper: false });
  });
  keeper = book.writeAside((run) =>
    signIn(book.db, run, book.now(), null, { deviceId: 1, personId: 1, isKeeper: true }),
  );
  app = buildApp(book, false, { hasher: CHEAP, interfaces: on(ADDRESS) });
  routes = [];
  app.addHook('onRoute', (route) => {
    const method = String(route.method);
    setImmediate(() => routes.push({ method, url: route.url, rule: route.config?.rule as Rule }));
  });
  await app.ready();
  await app.network.look();
  await new Promise((resolve) => setImmediate(resolve));
  rules = app.rules;
});
afterAll(async () => {
  await app.close();
  demo.close();
});

const PAGES = () =>
  routes
    .filter(({ method, rule }) => method === 'GET' && rule === 'hand')
    .flatMap(({ url }) => addressesOf(url, demo.book));

async function read(url: string, accept: string, way: 'phone' | 'machine' = 'phone') {
  const [address, held] = way === 'phone' ? [ADDRESS, token] : ['127.0.0.1', keeper];
  const answer = await inject(
    (req, res) => {
      (req as unknown as { socket: Record<string, unknown> }).socket.localAddress = address;
      app.routing(req as never, res as never);
    },
    {
      url,
      remoteAddress: way === 'phone' ? PHONE : '127.0.0.1',
      headers: { host: `${address}:0`, accept, cookie: `clothroom-0=${held}` },
    },
  );
  return { status: answer.statusCode, text: answer.body };
}

describe('a hand', () => {
  it('finds no price on any page and in no data, where a keeper finds many', async () => {
    const found: string[] = [];
    const toKeeper = new Set<string>();
    const pages = PAGES();
    expect(pages.length).toBeGreaterThan(150);
    for (const address of pages) {
      const statuses = new Set<number>();
      for (const accept of ['text/html', 'application/json']) {
        const { status, text } = await read(address, accept);
        const price = priceIn(text, accept);
        statuses.add(status);
        if (price !== undefined) found.push(`${address} ${accept} ${price}`);
      }
      const told = await read(address, 'text/html', 'machine');
      // What is in the way of a keeper is in the way of a hand, and nothing else is.
      expect([address, ...statuses]).toEqual([address, told.status]);
      if (priceIn(told.text, 'text/html') !== undefined) toKeeper.add(address.replace(/[^/]*$/, ''));
    }
    expect(found).toEqual([]);
    // The pieces' pages, the ledger, a garment's book, the dyeing.
    expect(toKeeper.size).toBeGreaterThanOrEqual(4);
  });

  it('is offered to undo their own work alone, where a keeper is offered others’ too', async () => {
    const whose = new Map(
      demo.book
        .all(
          demo.book.db
            .selectFrom('request')
            .innerJoin('person', 'person.id', 'request.person_id')
            .select(['request.key', 'person.name']),
        )
        .map(({ key, name }) => [key, name]),
    );
    const offered = { phone: new Set<string | undefined>(), machine: new Set<string | undefined>() };
    // The sampler shows the part with an undo of nothing.
    for (const address of PAGES().filter((path) => path !== '/sampler'))
      for (const way of ['phone', 'machine'] as const) {
        const { text } = await read(address, 'text/html', way);
        for (const [, key = ''] of text.matchAll(/name="undoes" value="([^"]+)"/g))
          offered[way].add(whose.get(key));
      }
    expect([...offered.phone]).toEqual(['Fenn']);
    expect([...offered.machine].sort()).toEqual(expect.arrayContaining(['Fenn', 'Oda']));
  });

  it('is offered no form and no link that would be refused', async () => {
    const refused = new Set<string>();
    let seen = 0;
    const asHand = { rank: 'hand', device: null, person: null, signIn: null } as const;
    for (const address of PAGES()) {
      const { text } = await read(address, 'text/html');
      const links = [...text.matchAll(/<a\b[^>]*\shref="(\/[^"?#]*)/g)].map(
        ([, href = '']) => ['GET', href] as const,
      );
      const forms = [...text.matchAll(/<form\b[^>]*method="post"[^>]*\saction="(\/[^"?#]*)/g)].map(
        ([, action = '']) => ['POST', action] as const,
      );
      for (const [method, path] of [...links, ...forms]) {
        seen += 1;
        const rule = rules.find(method, path);
        if (rule === null || !allows(rule, asHand)) refused.add(`${address}: ${method} ${path} ${rule}`);
      }
    }
    expect(seen).toBeGreaterThan(1000);
    expect([...refused]).toEqual([]);
  });
});
