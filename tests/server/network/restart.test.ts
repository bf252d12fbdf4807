import { rmSync } from 'node:fs';
import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { buildApp } from '../../../server/app.ts';
import type { Book } from '../../../server/database/book.ts';
import { openBook } from '../../../server/database/open.ts';
import { tryToEnter } from '../../../server/let-in/secrets.ts';
import { NOON, putDownNow } from '../support.ts';
import { ADDRESS, askOf, CHEAP, HAND, KEEPER, on, openNetworkHouse, type Sent, tokenIn } from './house.ts';

// What must outlive the program: it is stopped and started again in the middle of each of these.

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

let now: Date;
let folder: string;
let book: Book;
let app: FastifyInstance;
/** of a tablet that is shared, of Ben's own phone, and of a keeper at the machine */
let tokens: { shared: string; own: string; keeper: string };
let sharedId: number;

beforeEach(async () => {
  now = NOON;
  const house = await openNetworkHouse({ clock: () => now });
  const shared = house.device('Tablet');
  sharedId = shared.id;
  tokens = {
    shared: house.signed(shared.id, HAND.id),
    own: house.device('Ben’s phone', HAND.id).token,
    keeper: house.signed(1, KEEPER.id, true),
  };
  folder = putDownNow(house.book);
  await house.shut();
  await start();
});
afterEach(async () => {
  await stop();
  rmSync(folder, { recursive: true, force: true });
});

async function start(): Promise<void> {
  book = await openBook(folder, { clock: () => now });
  app = buildApp(book, false, { hasher: CHEAP, interfaces: on(ADDRESS) });
  await app.ready();
  await app.network.look();
}

async function stop(): Promise<void> {
  await app.close();
  book.close();
}

/** The program is away for some time. */
async function restart(awayMs = 0): Promise<void> {
  await stop();
  now = new Date(now.getTime() + awayMs);
  await start();
}

const ask = (sent: Sent) => askOf(app)(sent);
const status = async (token: string, path = '/shelf', way: 'http' | 'machine' = 'http') =>
  (await ask({ path, token, way })).statusCode;
const invited = async () => {
  const fields = { device_name: 'Phone', person_id: '' };
  const sent = { method: 'POST', path: '/setup/devices/invitations', way: 'machine', fields } as const;
  return ((await ask({ ...sent, token: tokens.keeper })).json() as { code: string }).code;
};
const join = (code: string) => ask({ method: 'POST', path: '/join', fields: { code } });

describe('a restart', () => {
  it('signs nobody out, and gives nobody a second more', async () => {
    for (const [limit, token, path, way] of [
      [4 * HOUR, tokens.shared, '/shelf', 'http'],
      [30 * DAY, tokens.own, '/shelf', 'http'],
      [HOUR, tokens.keeper, '/orders', 'machine'],
    ] as const) {
      now = NOON;
      await restart(limit - 1);
      expect(await status(token, path, way)).toBe(200);
      // Used just now, it stays as long again.
      await restart(limit - 1);
      expect([limit, await status(token, path, way)]).toEqual([limit, limit === 30 * DAY ? 401 : 200]);
      await restart(limit);
      expect(await status(token, path, way)).toBe(401);
    }
  });

  it('ends a person’s time on a shared device at 12 hours, and a keeper’s at 24, however often it comes', async () => {
    for (const [all, step, token, path, way] of [
      [12 * HOUR, 3 * HOUR, tokens.shared, '/shelf', 'http'],
      [24 * HOUR, 50 * MINUTE, tokens.keeper, '/orders', 'machine'],
    ] as const) {
      now = NOON;
      for (let at = step; at < all; at += step) {
        await restart(step);
        expect([at, await status(token, path, way)]).toEqual([at, 200]);
      }
      now = new Date(NOON.getTime() + all - step);
      await restart(step);
      expect(await status(token, path, way)).toBe(401);
    }
  });

  it('lets a device in for 180 days at most, and not once it was unused for 30', async () => {
    for (let day = 25; day < 180; day += 25) {
      await restart(25 * DAY);
      expect([day, await status(tokens.own, '/who')]).toEqual([day, 200]);
    }
    await restart(5 * DAY);
    expect(await status(tokens.own, '/who')).toBe(401);
    now = NOON;
    await restart(30 * DAY);
    expect(await status(tokens.shared, '/who')).toBe(401);
  });

  it('leaves an invitation its five minutes, and one that was used is used', async () => {
    const [first, second] = [await invited(), await invited()];
    await restart(5 * MINUTE - 1);
    const joined = await join(first);
    expect(joined.statusCode).toBe(200);
    await restart();
    expect(await status(tokenIn(joined), '/who')).toBe(200);
    expect((await join(first)).statusCode).toBe(409);
    await restart(1);
    expect((await join(second)).statusCode).toBe(409);
  });

  it('forgets no wrong try: the wait goes on, and what was locked stays locked', async () => {
    const tried = (secret: string) =>
      tryToEnter(book, CHEAP, { personId: HAND.id, kind: 'pin', secret, deviceId: sharedId });
    for (let wrong = 1; wrong <= 10; wrong += 1) {
      expect((await tried('00000')).outcome).toBe('wrong');
      await restart();
      const seconds = wrong > 2 ? 2 ** (wrong - 3) : 0;
      if (seconds > 0 && wrong < 10)
        expect(await tried(HAND.pin)).toMatchObject({ outcome: 'wait', seconds });
      now = new Date(now.getTime() + seconds * 1000);
    }
    expect((await tried(HAND.pin)).outcome).toBe('locked');
    await restart(DAY);
    expect((await tried(HAND.pin)).outcome).toBe('locked');
    const unlock = `/setup/people/${HAND.id}/unlockings`;
    const keeper = tokenIn(
      await ask({
        method: 'POST',
        path: '/who/keeper',
        way: 'machine',
        fields: { person_id: String(KEEPER.id), passphrase: KEEPER.passphrase },
      }),
    );
    await ask({ method: 'POST', path: unlock, way: 'machine', token: keeper, fields: {} });
    await restart();
    expect((await tried(HAND.pin)).outcome).toBe('right');
  });

  it('lets nobody back in who was sent away or who left', async () => {
    const send = (path: string, fields = {}) =>
      ask({ method: 'POST', path, way: 'machine', token: tokens.keeper, fields });
    expect((await send(`/setup/devices/${sharedId}/send-aways`)).statusCode).toBe(200);
    await restart();
    expect(await status(tokens.shared)).toBe(401);
    expect(await status(tokens.own)).toBe(200);
    expect((await send(`/setup/people/${HAND.id}/leavings`, { back: '' })).statusCode).toBe(200);
    await restart();
    expect(await status(tokens.own)).toBe(401);
  });
});
