import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { setImmediate as turn } from 'node:timers/promises';
import { JSDOM, VirtualConsole } from 'jsdom';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keyPrefix } from '../../server/kit/request-key.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { makeBolt, makeStock, openTestHouse, type TestHouse } from '../server/support.ts';
import { PATIENCE_MS, report, seededChance, times } from './scale.ts';

// What a device keeps, through days on which everything goes wrong by chance: answers that are lost, a door that answers in
// the book's place, a browser that is killed in the middle. The scripts are those of the pages; the store is one in memory,
// which keeps what IndexedDB would have kept of a killed browser, and a real browser is asked in tests/browser/unsent.test.ts.

const SCRIPTS = ['unsent-rules.js', 'unsent-slips.js', 'unsent.js'].map((name) =>
  readFileSync(new URL(`../../views/assets/${name}`, import.meta.url), 'utf8'),
);
const DAYS = times(30, 500);
const FATES = [
  'answered',
  'never sent',
  'answer lost',
  'unavailable',
  'stranger',
  'door',
  'killed',
  'killed late',
] as const;
type Fate = (typeof FATES)[number];

let house: TestHouse;
let path: string;
let prefix: string;

beforeAll(async () => {
  house = await openTestHouse();
  path = house.write((tx) => `/shelf/pieces/${makeBolt(tx, makeStock(tx).lotId, '5000 m').code}/write-offs`);
  const { db } = house.book;
  const mark = house.book.first(db.selectFrom('workroom').select('mark'))?.mark ?? '';
  prefix = keyPrefix({ personId: 1, deviceId: 1, mark });
});
afterAll(() => house.shut());

/** What a page has of the browser, as far as its scripts use it here. */
interface Window {
  unsentStore: object;
  fetch: unknown;
  AbortSignal: { timeout: unknown };
  document: { querySelector(selector: string): { requestSubmit(): void } | null };
  dispatchEvent(event: unknown): void;
  Event: new (name: string) => unknown;
}

/** A device with what it keeps on its disk, and the page that is open on it. */
class Device {
  readonly kept = new Map<string, string>();
  /** every work that was kept, whatever became of it */
  readonly done = new Set<string>();
  readonly #chance: () => number;
  #page: JSDOM | null = null;
  #busy = 0;
  isCalm = false;

  constructor(chance: () => number) {
    this.#chance = chance;
  }

  /** Opens the page, as after a start of the browser. */
  async open(): Promise<void> {
    this.#page?.window.close();
    const key = `${prefix}${randomUUID()}-write-off`;
    const page = new JSDOM(
      `<!doctype html><body data-key-prefix="${prefix}" data-person="Maker"><div id="unsent"></div>
        <form method="post" action="${path}" data-work="Write off"><input type="hidden" name="request_key" value="${key}">
        <input name="length" value="1 mm"><input name="why" value="stained"><button>Write off</button></form>`,
      {
        url: `${house.origin}/page`,
        runScripts: 'outside-only',
        // Somebody looks at it.
        pretendToBeVisual: true,
        virtualConsole: new VirtualConsole(),
      },
    );
    this.#page = page;
    const window = page.window as unknown as Window;
    window.unsentStore = this.#store();
    window.fetch = (action: string, init: RequestInit) => this.#send(page, action, init);
    window.AbortSignal.timeout = () => undefined;
    // A page is not laid out here.
    page.window.eval('scrollBy = () => {}; Element.prototype.scrollIntoView = () => {};');
    for (const script of SCRIPTS) page.window.eval(script);
    await this.settle();
  }

  async work(): Promise<void> {
    if (this.#page === null) await this.open();
    // What was kept is sent as a page opens, and that may be the end of it.
    if (this.#page === null) return;
    this.#window().document.querySelector('form')?.requestSubmit();
    await this.settle();
    // A page that was answered leads to another; one that was killed is opened again.
    if (this.#page === null || this.kept.size === 0) await this.open();
  }

  async comeBack(): Promise<void> {
    if (this.#page === null) await this.open();
    if (this.#page === null) return;
    const window = this.#window();
    window.dispatchEvent(new window.Event('online'));
    await this.settle();
  }

  async settle(): Promise<void> {
    for (let quiet = 0; quiet < 4; quiet = this.#busy > 0 ? 0 : quiet + 1) await turn();
  }

  #window(): Window {
    if (this.#page === null) throw new Error('no page is open');
    return this.#page.window as unknown as Window;
  }

  #store() {
    const later = async <T>(value: T): Promise<T> => value;
    return {
      all: () => later([...this.kept.values()].map((text) => JSON.parse(text) as object)),
      get: (key: string) => later(JSON.parse(this.kept.get(key) ?? 'null') ?? undefined),
      put: (item: { key: string }) => {
        this.kept.set(item.key, JSON.stringify(item));
        this.done.add(item.key);
        return later(undefined);
      },
      remove: (key: string) => later(this.kept.delete(key)),
    };
  }

  async #send(page: JSDOM, action: string, init: RequestInit) {
    const fate: Fate = this.isCalm
      ? 'answered'
      : (FATES[Math.floor(this.#chance() * FATES.length)] ?? 'answered');
    this.#busy += 1;
    try {
      if (fate === 'never sent') throw new TypeError('Failed to fetch');
      if (fate === 'killed') return await this.#die(page);
      if (fate === 'unavailable')
        return { status: 503, json: async () => ({ error: { message: 'Later.' } }) };
      if (fate === 'stranger') return { status: 401, json: async () => ({ error: { message: 'Who?' } }) };
      if (fate === 'door')
        return { status: 200, json: async () => JSON.parse('<h1>Sign in to the Wi-Fi</h1>') };
      const answer = await house.app.inject({
        method: 'POST',
        url: action,
        headers: {
          ...(init.headers as Record<string, string>),
          host: new URL(house.origin).host,
          origin: house.origin,
        },
        payload: String(init.body),
      });
      if (fate === 'answer lost') throw new TypeError('Failed to fetch');
      if (fate === 'killed late') return await this.#die(page);
      return { status: answer.statusCode, json: async () => answer.json() };
    } finally {
      this.#busy -= 1;
    }
  }

  /** The browser is gone: nothing of the page goes on. */
  #die(page: JSDOM): Promise<never> {
    page.window.close();
    this.#page = null;
    this.#busy -= 1;
    return new Promise<never>(() => undefined);
  }
}

describe('what a device keeps', () => {
  it(`is entered once and none of it is lost, through ${DAYS} days of faults`, {
    timeout: PATIENCE_MS,
  }, async () => {
    const chance = seededChance(11);
    let works = 0;
    for (let day = 0; day < DAYS; day += 1) {
      const device = new Device(chance);
      await device.open();
      for (let step = 0; step < 4; step += 1) await (chance() < 0.6 ? device.work() : device.comeBack());
      device.isCalm = true;
      await device.open();
      for (let tries = 0; device.kept.size > 0 && tries < 5; tries += 1) await device.comeBack();
      expect([...device.kept.values()]).toEqual([]);
      for (const key of device.done) {
        const { db } = house.book;
        const entries = house.book.all(db.selectFrom('entry').select('id').where('request_key', '=', key));
        expect([day, key, entries.length]).toEqual([day, key, 1]);
      }
      works += device.done.size;
    }
    expect(works).toBeGreaterThan(DAYS);
    const { db } = house.book;
    const all = house.book.all(db.selectFrom('entry').select('id').where('kind', '=', 'written-off'));
    expect(all).toHaveLength(works);
    expect(checkBook(house.book).findings).toEqual([]);
    report('days of faults on a device', { days: DAYS, works });
  });
});
