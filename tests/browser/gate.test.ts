import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { RULES, type Rule } from '../../server/web/rules.ts';
import { copyProgram, linkPackages } from '../program.ts';
import { newKey } from '../server/support.ts';
import { type Holder, putGateBook } from './gate-books.ts';
import { hostsBeside } from './hosts.ts';
import type { AskedPlainly } from './namespace.child.ts';
import {
  type Asked,
  browserOn,
  joinMachines,
  MACHINE,
  MACHINE_ADDRESS,
  noNetwork,
  partMachines,
  ROUTED_ADDRESS,
  serveOnMachine,
  TABLET,
  TABLET_ADDRESS,
} from './two-machines.ts';

// The gate as it stands between two machines: neighbour, Host, Origin, rule, in this order. What a page elsewhere can bring
// about is asked of a real browser, which sends no Sec-Fetch headers to the number of another machine. Each of the four is
// taken away in a copy of the program, and what it keeps out must get in there.

type GateBook = Awaited<ReturnType<typeof putGateBook>>;

let folder: string;
/** over plain http, over its own certificate, and with the network off */
let plain: GateBook;
let certified: GateBook;
let atHome: GateBook;
let tablet: Asked;
let machine: Asked;

const overHttp = ({ port }: GateBook) => `http://${MACHINE_ADDRESS}:${port}`;
const overTls = ({ port }: GateBook) => `https://${MACHINE_ADDRESS}:${port + 1}`;
const atMachine = ({ port }: GateBook) => `http://127.0.0.1:${port}`;

/** Pages that nobody of the workroom wrote, and the browser that reads them. */
const OTHER_PORT = `http://${MACHINE_ADDRESS}:9001`;
const OTHER_MACHINE = `http://${TABLET_ADDRESS}:9001`;
const PUBLIC = `http://${TABLET_ADDRESS}:9002`;
/** Names of somebody's that lead to the book by now. */
const REBOUND = 'evil.example';
const REBOUND_AT_HOME = 'evil-at-home.example';
/** What a browser tells of a form that was refused; of one that a script sent it keeps the answer back as well. */
const REFUSED = /^403$|^net::ERR_BLOCKED_BY_RESPONSE/;
const SWITCHES = [
  // Newer browsers ask before a page reaches into a local network. That is a help, and nothing that the gate counts on.
  '--disable-features=LocalNetworkAccessChecks',
  `--host-resolver-rules=MAP ${REBOUND} ${MACHINE_ADDRESS}, MAP ${REBOUND_AT_HOME} 127.0.0.1`,
  `--ip-address-space-overrides=${TABLET_ADDRESS}:9002=public`,
];

describe.skipIf(noNetwork !== '')('the gate between two machines', () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'clothroom-gate-'));
    joinMachines();
    plain = await putGateBook(join(folder, 'plain'), 8737);
    certified = await putGateBook(join(folder, 'certified'), 8747, { ownCertificate: true });
    atHome = await putGateBook(join(folder, 'at-home'), 8757, { isOn: false });
    await serve(plain, '--network');
    await serve(certified, '--network');
    await serve(atHome);
    tablet = browserOn(TABLET, SWITCHES);
    machine = browserOn(MACHINE, SWITCHES);
    await machine('elsewhere', MACHINE_ADDRESS, '9001');
    await tablet('elsewhere', TABLET_ADDRESS, '9001');
    await tablet('elsewhere', TABLET_ADDRESS, '9002');
  }, 180_000);
  afterAll(() => {
    partMachines();
    rmSync(folder, { recursive: true, force: true });
  });

  const ROUTES = readFileSync(new URL('../server/web/rules.txt', import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .map((line) => line.split(/\s+/) as [Rule, string, string])
    // It hands the device back that asks.
    .filter(([, , path]) => path !== '/who/done');

  it('lets nobody through who is no neighbour, and every neighbour to its next step', async () => {
    for (const book of [plain, certified])
      expect(await tablet('ask', `${overHttp(book)}/ping`, '', ROUTED_ADDRESS)).toBe('ECONNRESET');
    expect(await tablet('ask', `${overHttp(plain)}/ping`)).toBe(204);
    expect(await tablet('ask', `${overHttp(atHome)}/ping`)).toBe('ECONNREFUSED');
  });

  it('asks of every form by which host it came, in 60 spellings that are not its own', async () => {
    const wrong: string[] = [];
    const ways = [
      { ask: tablet, book: plain, origin: overHttp(plain), port: plain.port, own: MACHINE_ADDRESS },
      {
        ask: tablet,
        book: certified,
        origin: overTls(certified),
        port: certified.port + 1,
        own: MACHINE_ADDRESS,
      },
      { ask: machine, book: plain, origin: atMachine(plain), port: plain.port, own: '127.0.0.1' },
    ];
    for (const { ask, book, origin, port, own } of ways) {
      const forms = ROUTES.filter(([, method]) => method !== 'GET');
      const hosts = hostsBeside(own, port);
      expect(new Set(hosts).size).toBeGreaterThanOrEqual(60);
      const asked = hosts.flatMap((host) =>
        forms.map(([, method, path]) => ({
          method,
          url: `${origin}${filled(path)}`,
          headers: {
            ...cookieOf(book, 'a keeper', origin),
            host,
            origin: `${new URL(origin).protocol}//${host}`,
          },
        })),
      );
      const came = await askAll(ask, asked, book);
      wrong.push(
        ...came.flatMap((status, at) =>
          status === 421 ? [] : [`${asked[at]?.url} by ${asked[at]?.headers.host}: ${status}`],
        ),
      );
    }
    expect(wrong.slice(0, 5)).toEqual([]);
  });

  it('answers on every route whom its rule lets in, and nobody else', async () => {
    const ways: readonly [Asked, GateBook, string, readonly [Holder, Rule][]][] = [
      [
        tablet,
        plain,
        overHttp(plain),
        [
          ['nobody', 'open'],
          ['a made-up token', 'open'],
          ['a device that was sent away', 'open'],
          ['a keeper at the machine', 'open'],
          ['a device without a person', 'paired'],
          ['a hand', 'hand'],
          ['a keeper', 'hand'],
        ],
      ],
      [
        tablet,
        certified,
        overTls(certified),
        [
          ['nobody', 'open'],
          ['a device that was sent away', 'open'],
          ['a keeper at the machine', 'open'],
          ['a device without a person', 'paired'],
          ['a hand', 'hand'],
          ['a keeper without the passphrase', 'hand'],
          ['a keeper', 'keeper'],
        ],
      ],
      [
        machine,
        plain,
        atMachine(plain),
        [
          ['nobody', 'paired'],
          ['a keeper', 'paired'],
          ['a hand at the machine', 'hand'],
          ['a keeper at the machine', 'machine'],
        ],
      ],
    ];
    const wrong: string[] = [];
    for (const [ask, book, origin, askers] of ways)
      for (const [holder, rank] of askers) {
        const asked = ROUTES.map(([, method, path]) => ({
          method,
          url: `${origin}${filled(path)}`,
          headers: {
            ...cookieOf(book, holder, origin),
            ...(method !== 'GET' && { origin }),
            accept: 'application/json',
          },
        }));
        const came = await askAll(ask, asked, book);
        for (const [at, [rule, method, path]] of ROUTES.entries()) {
          const status = came[at];
          const isLetIn = typeof status === 'number' && status !== 401 && status !== 403;
          if (isLetIn !== RULES.indexOf(rule) <= RULES.indexOf(rank))
            wrong.push(`${method} ${path} (${rule}) answers ${holder} at ${origin} with ${status}`);
        }
      }
    expect(wrong).toEqual([]);
  });

  it('takes nothing from a page elsewhere, and gives it nothing to read', async () => {
    await tablet('cookie', overHttp(plain), `clothroom-${plain.port}`, plain.tokens['a hand']);
    const before = await heldOf(plain);
    for (const page of [OTHER_PORT, OTHER_MACHINE, PUBLIC])
      for (const kind of ['form', 'script', 'beacon']) {
        await tablet('open', page);
        const [came] = await deed(tablet, kind, overHttp(plain), plain);
        expect([page, kind, String(came)]).toEqual([page, kind, expect.stringMatching(REFUSED)]);
      }
    for (const page of [OTHER_PORT, OTHER_MACHINE, PUBLIC]) {
      await tablet('open', page);
      const [, read] = await deed(tablet, 'read', overHttp(plain), plain);
      expect([page, read]).toEqual([page, 'TypeError: Failed to fetch']);
      const [, framed] = await deed(tablet, 'frame', overHttp(plain), plain);
      expect([page, framed]).toEqual([page, 'unreadable']);
      await deed(tablet, 'image', overHttp(plain), plain);
    }
    expect(await heldOf(plain)).toBe(before);
  });

  it('gives nothing to a name that leads to it by now, over the network or at the machine', async () => {
    for (const [ask, name, book] of [
      [tablet, REBOUND, plain],
      [machine, REBOUND_AT_HOME, atHome],
    ] as const) {
      const origin = `http://${name}:${book.port}`;
      await ask('rebound', `${origin}/elsewhere`);
      const [came, read] = await deed(ask, 'read', origin, book);
      expect([came, read]).toEqual([421, expect.stringMatching(/^Clothroom answers .* only\.$/)]);
      for (const kind of ['script', 'beacon', 'form']) {
        await ask('rebound', `${origin}/elsewhere`);
        expect([kind, (await deed(ask, kind, origin, book))[0]]).toEqual([kind, 421]);
      }
    }
  });

  describe('of which one step is taken away', () => {
    it('lets a machine behind a neighbour in without the first', async () => {
      const book = await serveWithout('neighbour', 8767, '--network');
      expect(await tablet('ask', `${overHttp(book)}/ping`, '', ROUTED_ADDRESS)).toBe(204);
    }, 180_000);

    it('lets a name that leads to it by now read and write without the second', async () => {
      const book = await serveWithout('Host', 8777);
      const origin = `http://${REBOUND_AT_HOME}:${book.port}`;
      const before = await heldOf(book, atMachine(book), machine);
      await machine('rebound', `${origin}/elsewhere`);
      const [, read] = await deed(machine, 'read', origin, book);
      expect(read).toContain(book.piece);
      expect((await deed(machine, 'script', origin, book))[0]).toBe(303);
      expect(await heldOf(book, atMachine(book), machine)).not.toBe(before);
    }, 180_000);

    it('lets a page on another port write in the name of whoever reads it without the third', async () => {
      const book = await serveWithout('Origin', 8787, '--network');
      await tablet('cookie', overHttp(book), `clothroom-${book.port}`, book.tokens['a hand']);
      for (const kind of ['form', 'script', 'beacon']) {
        const before = await heldOf(book);
        await tablet('open', OTHER_PORT);
        await deed(tablet, kind, overHttp(book), book);
        await expect.poll(() => heldOf(book), { message: kind }).not.toBe(before);
      }
      // Of another machine's page it is the cookie that stays behind.
      await tablet('open', OTHER_MACHINE);
      const before = await heldOf(book);
      await deed(tablet, 'form', overHttp(book), book);
      expect(await heldOf(book)).toBe(before);
    }, 180_000);

    it('lets a stranger read and write without the fourth', async () => {
      const book = await serveWithout('rule', 8797, '--network');
      const asked = { method: 'GET', url: `${overHttp(book)}/shelf/pieces/${book.piece}`, headers: {} };
      expect(await askAll(tablet, [asked], book)).toEqual([200]);
    }, 180_000);
  });

  const STEPS = {
    neighbour: [
      'server/network/listener.ts',
      'if (!isNeighbour(this.#interfaces, socket.remoteAddress)) socket.destroy();',
      '',
    ],
    Host: ['server/web/guard.ts', '    refuseOtherHosts(request, door, way);\n', ''],
    Origin: ['server/web/guard.ts', "if (request.method !== 'GET') refuseOtherSites(request, way);", ''],
    rule: ['server/web/rule-hook.ts', 'if (allows(rule as Rule, admission)) return;', 'return;'],
  } as const;

  /** Serves a book of its own by a copy of the program in which a step of the gate is left out. */
  async function serveWithout(
    step: keyof typeof STEPS,
    port: number,
    ...network: string[]
  ): Promise<GateBook> {
    const [file, text, without] = STEPS[step];
    const program = join(folder, `program without ${step}`);
    copyProgram(program);
    linkPackages(program);
    const path = join(program, file);
    const parts = readFileSync(path, 'utf8').split(text);
    expect(parts).toHaveLength(2);
    writeFileSync(path, parts.join(without));
    const book = await putGateBook(join(folder, `without ${step}`), port, { isOn: network.length > 0 });
    await serveOnMachine(['--data', book.folder, '--port', String(port), ...network], program);
    return book;
  }
});

async function serve({ folder: data, port }: GateBook, ...network: string[]): Promise<void> {
  await serveOnMachine(['--data', data, '--port', String(port), ...network]);
}

/** An address of a route, for things that there are none of. */
function filled(path: string): string {
  return path.replaceAll(/:\w+/g, '9');
}

function cookieOf({ port, tokens }: GateBook, holder: Holder, origin: string): Record<string, string> {
  const prefix = origin.startsWith('https:') ? '__Host-' : '';
  return tokens[holder] === '' ? {} : { cookie: `${prefix}clothroom-${port}=${tokens[holder]}` };
}

async function askAll(ask: Asked, asked: readonly AskedPlainly[], book: GateBook) {
  const isSecure = asked.some(({ url }) => url.startsWith('https:'));
  const root = isSecure ? join(book.folder, 'certificate', 'root.crt') : '';
  return (await ask('askAll', JSON.stringify(asked), root)) as (number | string)[];
}

/** How much of the bolt is held. */
async function heldOf(book: GateBook, origin = overHttp(book), ask = tablet): Promise<number> {
  const headers = { ...cookieOf(book, 'a hand', origin), accept: 'application/json' };
  const text = await ask('text', `${origin}/shelf/pieces/${book.piece}`, JSON.stringify(headers));
  return (JSON.parse(text as string) as { piece: { heldTicks: number } }).piece.heldTicks;
}

/** Has the page that is open try to hold a metre of the bolt, or to read its page. */
async function deed(
  ask: Asked,
  kind: string,
  origin: string,
  { piece }: GateBook,
): Promise<[unknown, unknown]> {
  const path = `${origin}/shelf/pieces/${piece}`;
  const fields = new URLSearchParams({
    request_key: newKey(),
    doing: 'hold',
    length: '1 m',
    kind: 'repair',
    garment: '',
    note: 'Not ours',
  });
  const writes = ['form', 'script', 'beacon'].includes(kind);
  return (await ask('deed', kind, writes ? `${path}/uses` : path, String(fields))) as [unknown, unknown];
}
