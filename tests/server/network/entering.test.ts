import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { tryToEnter } from '../../../server/let-in/secrets.ts';
import { NOON } from '../support.ts';
import { CHEAP, HAND, KEEPER, type NetworkHouse, openNetworkHouse } from './house.ts';

let now: Date;
let house: NetworkHouse;
const later = (seconds: number) => {
  now = new Date(now.getTime() + seconds * 1000);
};
const MINUTE = 60;
const HOUR = 3600;
const DAY = 86_400;

beforeEach(async () => {
  now = NOON;
  house = await openNetworkHouse({ clock: () => now });
});
afterEach(() => house.shut());

/** A keeper at the machine asks for a code; gives it as it stands on the page. */
async function invitation(fields: Record<string, string> = { device_name: 'Tablet', person_id: '' }) {
  const token = house.signed(1, KEEPER.id, true);
  const answer = await house.ask({
    method: 'POST',
    path: '/setup/devices/invitations',
    way: 'machine',
    token,
    fields,
  });
  return (answer.json() as { code: string }).code;
}

const join = (code: string, more = {}) =>
  house.ask({ method: 'POST', path: '/join', fields: { code }, ...more });

describe('a device', () => {
  it('is let in once by a code, even when two take it at once, and by no other', async () => {
    const code = await invitation();
    const taken = await Promise.all([join(code), join(code)]);
    expect(taken.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
    const token = taken.map((answer) => house.tokenIn(answer)).find((one) => one !== '') ?? '';
    expect((await house.ask({ path: '/who', token })).statusCode).toBe(200);
    expect((await join('0'.repeat(26))).statusCode).toBe(409);
    expect((await join('')).statusCode).toBe(409);
  });

  it('has five minutes for it', async () => {
    const [first, second] = [await invitation(), await invitation()];
    later(5 * MINUTE - 1);
    expect((await join(first)).statusCode).toBe(200);
    later(1);
    expect((await join(second)).statusCode).toBe(409);
  });

  it('of a person works as that person at once, without a PIN; whose it is the keeper says, not the device', async () => {
    const code = await invitation({ device_name: 'Ben’s phone', person_id: String(HAND.id) });
    const joined = await join(code);
    const token = house.tokenIn(joined);
    expect(joined.json()).toEqual({ location: '/' });
    expect((await house.ask({ path: '/shelf', token })).statusCode).toBe(200);
    const other = await house.ask({ method: 'POST', path: '/who', token, fields: { person_id: '1' } });
    expect(other.statusCode).toBe(422);
  });

  it('is out with its next request once it was sent away', async () => {
    const { id, token } = house.device('Ben’s phone', HAND.id);
    expect((await house.ask({ path: '/shelf', token })).statusCode).toBe(200);
    const keeper = house.signed(1, KEEPER.id, true);
    const path = `/setup/devices/${id}/send-aways`;
    const sent = await house.ask({ method: 'POST', path, way: 'machine', token: keeper, fields: {} });
    expect(sent.statusCode).toBe(200);
    expect((await house.ask({ path: '/shelf', token })).statusCode).toBe(401);
    const machine = {
      method: 'POST',
      path: '/setup/devices/1/send-aways',
      way: 'machine',
      fields: {},
    } as const;
    expect((await house.ask({ ...machine, token: keeper })).statusCode).toBe(409);
  });

  it('comes in for 180 days, and not once it was unused for 30', async () => {
    const { token } = house.device('Ben’s phone', HAND.id);
    const status = async () => (await house.ask({ path: '/who', token })).statusCode;
    for (let day = 0; day < 175; day += 25) {
      expect([day, await status()]).toEqual([day, 200]);
      later(25 * DAY);
    }
    later(5 * DAY - 1);
    expect(await status()).toBe(200);
    later(1);
    expect(await status()).toBe(401);
    const unused = house.device('Old phone', HAND.id);
    later(30 * DAY);
    expect((await house.ask({ path: '/who', token: unused.token })).statusCode).toBe(401);
  });

  it('is named once: a second of the same name has a number, and what it writes says which', async () => {
    const first = house.device('Tablet', HAND.id);
    const second = house.device('Tablet', HAND.id);
    const names = house.book.all(house.book.db.selectFrom('device').select('name').orderBy('id'));
    expect(names.map(({ name }) => name)).toEqual(['Workroom computer', 'Tablet', 'Tablet 2']);
    const key = 'from-the-second-tablet';
    house.book.writeAside((run) => run(house.book.db.insertInto('label_sheet').values(SHEET)));
    const fields = { request_key: key, undoes: 'nothing-of-this-key' };
    await house.ask({ method: 'POST', path: '/undo', token: second.token, fields });
    expect(first.id).not.toBe(second.id);
  });
});

const SHEET = {
  name: 'Ten',
  paper: 'A4',
  columns: 2,
  rows: 5,
  width_ticks: 100,
  height_ticks: 100,
  left_ticks: 0,
  top_ticks: 0,
  across_ticks: 100,
  down_ticks: 100,
  nudge_right_ticks: 0,
  nudge_down_ticks: 0,
} as const;

describe('a person on a shared device', () => {
  const choose = (token: string, pin: string, personId = HAND.id) =>
    house.ask({ method: 'POST', path: '/who', token, fields: { person_id: String(personId), pin } });

  it('signs in by PIN under a new token, and the former token is nothing any more', async () => {
    const { token } = house.device('Tablet');
    const answer = await choose(token, HAND.pin);
    expect(answer.statusCode).toBe(200);
    const signed = house.tokenIn(answer);
    expect((await house.ask({ path: '/shelf', token: signed })).statusCode).toBe(200);
    expect((await house.ask({ path: '/who', token })).statusCode).toBe(401);
    const done = await house.ask({ method: 'POST', path: '/who/done', token: signed, fields: {} });
    expect((await house.ask({ path: '/shelf', token: house.tokenIn(done) })).statusCode).toBe(401);
    expect((await house.ask({ path: '/who', token: house.tokenIn(done) })).statusCode).toBe(200);
    expect((await house.ask({ path: '/shelf', token: signed })).statusCode).toBe(401);
  });

  it('stays chosen for 12 hours, and 4 without use', async () => {
    const { id } = house.device('Tablet');
    const token = house.signed(id, HAND.id);
    const status = async () => (await house.ask({ path: '/shelf', token })).statusCode;
    for (let hours = 0; hours < 12; hours += 3) {
      expect([hours, await status()]).toEqual([hours, 200]);
      later(3 * HOUR);
    }
    expect(await status()).toBe(401);
    const unused = house.signed(id, HAND.id);
    later(4 * HOUR);
    expect((await house.ask({ path: '/shelf', token: unused })).statusCode).toBe(401);
    expect((await house.ask({ path: '/who', token: unused })).statusCode).toBe(200);
  });

  it('who left is signed out everywhere', async () => {
    const { token } = house.device('Ben’s phone', HAND.id);
    const keeper = house.signed(1, KEEPER.id, true);
    const path = `/setup/people/${HAND.id}/leavings`;
    await house.ask({ method: 'POST', path, way: 'machine', token: keeper, fields: { back: '' } });
    expect((await house.ask({ path: '/shelf', token })).statusCode).toBe(401);
  });

  it('is told the same of a wrong PIN as of a person who has none or is not there', async () => {
    const { token } = house.device('Tablet');
    const said = async (personId: number) => (await choose(token, '11111', personId)).json().error;
    const [wrong, none, nobody] = [await said(HAND.id), await said(KEEPER.id), await said(999)];
    expect(wrong.message).toBe('That is not the PIN of this person.');
    expect([none, nobody]).toEqual([wrong, wrong]);
  });

  it('is kept waiting 1, 2, 4 … seconds from the third wrong PIN on', async () => {
    const { id } = house.device('Tablet');
    const tried = (secret = '00000') =>
      tryToEnter(house.book, CHEAP, { personId: HAND.id, kind: 'pin', secret, deviceId: id });
    expect([(await tried()).outcome, (await tried()).outcome]).toEqual(['wrong', 'wrong']);
    for (const seconds of [0, 1, 2, 4, 8, 16, 32, 64]) {
      if (seconds > 0) expect(await tried(HAND.pin)).toMatchObject({ outcome: 'wait', seconds });
      later(seconds);
      expect((await tried()).outcome).toBe('wrong');
    }
    later(DAY);
    expect(await tried(HAND.pin)).toMatchObject({ outcome: 'locked' });
  });

  it('has ten wrong tries at most, however many come at once, and a restart keeps the count', async () => {
    const { id } = house.device('Tablet');
    let wrong = 0;
    for (let round = 0; round < 20; round += 1) {
      const asked = { personId: HAND.id, kind: 'pin', secret: '00000', deviceId: id } as const;
      const tried = await Promise.allSettled(
        Array.from({ length: 64 }, () => tryToEnter(house.book, CHEAP, asked)),
      );
      wrong += tried.filter((one) => one.status === 'fulfilled' && one.value.outcome === 'wrong').length;
      later(2 * HOUR);
    }
    // What was counted and then turned away by the queue was no look at the PIN.
    expect(wrong).toBeLessThanOrEqual(10);
    expect(wrong).toBeGreaterThan(2);
    const row = house.book.first(
      house.book.db
        .selectFrom('person_secret')
        .select(['failures', 'failed_on_id'])
        .where('kind', '=', 'pin'),
    );
    expect(row).toEqual({ failures: 10, failed_on_id: id });
  });

  it('is unlocked by a keeper, and Setup tells who failed, how often, since when and where', async () => {
    const { id } = house.device('Tablet');
    for (let at = 0; at < 10; at += 1) {
      await tryToEnter(house.book, CHEAP, { personId: HAND.id, kind: 'pin', secret: '0', deviceId: id });
      later(HOUR);
    }
    const keeper = house.signed(1, KEEPER.id, true);
    const told = await house.ask({ path: '/setup/network', way: 'machine', token: keeper });
    expect(told.json().failures).toEqual([
      {
        who: 'Ben',
        kind: 'PIN',
        failures: 10,
        since: expect.stringContaining('2 Mar 2026'),
        device: 'Tablet',
      },
    ]);
    const path = `/setup/people/${HAND.id}/unlockings`;
    await house.ask({ method: 'POST', path, way: 'machine', token: keeper, fields: {} });
    const asked = { personId: HAND.id, kind: 'pin', secret: HAND.pin, deviceId: id } as const;
    expect((await tryToEnter(house.book, CHEAP, asked)).outcome).toBe('right');
  });

  it('tries ten times a minute from one address, whoever it tries to be', async () => {
    const { token } = house.device('Tablet');
    const statuses: number[] = [];
    for (let at = 0; at < 11; at += 1) statuses.push((await choose(token, '1', 100 + at)).statusCode);
    expect(statuses).toEqual([...Array(10).fill(422), 429]);
    const late = await choose(token, '1', 200);
    expect(late.headers['retry-after']).toBe('60');
    expect((await join('x')).statusCode).toBe(429);
    expect((await join('x', { from: '192.168.1.78' })).statusCode).toBe(409);
    later(MINUTE);
    expect((await choose(token, HAND.pin)).statusCode).toBe(200);
  });
});

describe('a keeper', () => {
  const signIn = (way: 'machine' | 'http', token: string, passphrase = KEEPER.passphrase) => {
    const fields = { person_id: String(KEEPER.id), passphrase };
    return house.ask({ method: 'POST', path: '/who/keeper', way, ...(token && { token }), fields });
  };

  it('signs in at the machine by passphrase, and never over plain http', async () => {
    const answer = await signIn('machine', '');
    const token = house.tokenIn(answer);
    expect((await house.ask({ path: '/orders', way: 'machine', token })).statusCode).toBe(200);
    expect((await signIn('machine', '', 'velvet canal onion drip')).statusCode).toBe(422);
    const { token: tablet } = house.device('Tablet');
    expect((await signIn('http', tablet)).statusCode).toBe(409);
  });

  it('stays one for 24 hours, and 1 without use', async () => {
    const token = house.signed(1, KEEPER.id, true);
    const status = async () => (await house.ask({ path: '/orders', way: 'machine', token })).statusCode;
    for (let minutes = 0; minutes < 24 * 60; minutes += 50) {
      expect([minutes, await status()]).toEqual([minutes, 200]);
      later(50 * MINUTE);
    }
    expect(await status()).toBe(401);
    const unused = house.signed(1, KEEPER.id, true);
    later(HOUR);
    expect((await house.ask({ path: '/orders', way: 'machine', token: unused })).statusCode).toBe(401);
  });

  it('is locked out of the machine by nobody on the network, who is locked out at a hundred', async () => {
    const { id } = house.device('Tablet');
    const asked = { personId: KEEPER.id, kind: 'passphrase', secret: 'no', deviceId: id } as const;
    for (let at = 0; at < 100; at += 1) {
      expect((await tryToEnter(house.book, CHEAP, asked)).outcome).toBe('wrong');
      later(HOUR);
    }
    const right = { ...asked, secret: KEEPER.passphrase };
    expect((await tryToEnter(house.book, CHEAP, right)).outcome).toBe('locked');
    expect((await signIn('machine', '')).statusCode).toBe(200);
  });

  it('who takes a new passphrase is signed out everywhere else', async () => {
    const [here, elsewhere] = [house.signed(1, KEEPER.id, true), house.signed(1, KEEPER.id, true)];
    const fresh = 'drift canal onion velvet';
    const path = `/setup/people/${KEEPER.id}/passphrase`;
    const change = (fields: Record<string, string>) =>
      house.ask({ method: 'POST', path, way: 'machine', token: here, fields });
    const field = async (fields: Record<string, string>) =>
      (await change(fields)).json().error.problems[0].field;
    expect(await field({ own: 'wrong', passphrase: fresh, again: fresh })).toBe('own');
    expect(await field({ own: KEEPER.passphrase, passphrase: 'short', again: 'short' })).toBe('passphrase');
    expect(await field({ own: KEEPER.passphrase, passphrase: fresh, again: 'other' })).toBe('again');
    expect((await change({ own: KEEPER.passphrase, passphrase: fresh, again: fresh })).statusCode).toBe(200);
    expect((await house.ask({ path: '/orders', way: 'machine', token: here })).statusCode).toBe(200);
    expect((await house.ask({ path: '/orders', way: 'machine', token: elsewhere })).statusCode).toBe(401);
  });

  it('leaves no PIN, passphrase, token or code in what the book keeps, and none in an export', async () => {
    const token = house.signed(1, KEEPER.id, true);
    const code = await invitation();
    const drawn = await house.ask({
      method: 'POST',
      path: `/setup/people/${HAND.id}/pins`,
      way: 'machine',
      token,
      fields: {},
    });
    const { pin } = drawn.json() as { pin: string };
    expect(pin).toMatch(/^\d{5}$/);
    const bytes = house.book.connection.serialize().toString('latin1');
    for (const secret of [token, code, code.replaceAll('-', ''), KEEPER.passphrase])
      expect([secret, bytes.includes(secret)]).toEqual([secret, false]);
    const { exportWorkroom } = await import('../../../server/ledger/whole-workroom.ts');
    const whole = JSON.parse([...exportWorkroom(house.book)].join('')) as {
      tables: Record<string, { rows: unknown[] }>;
    };
    for (const table of ['person_secret', 'sign_in', 'invitation'])
      expect(whole.tables[table]?.rows).toEqual([]);
    expect(whole.tables.device?.rows.length).toBe(1);
  });
});

describe('the network', () => {
  const switched = (
    what: 'on' | 'off',
    fields: Record<string, string>,
    token = house.signed(1, KEEPER.id, true),
  ) => house.ask({ method: 'POST', path: `/setup/network/${what}`, way: 'machine', token, fields });
  const on = { address: 'http://192.168.1.20:0', wifi_name: 'Loft', own_certificate: '' };

  it('is switched at the machine by who gives the passphrase again', async () => {
    expect((await switched('off', { passphrase: 'wrong' })).statusCode).toBe(422);
    expect(house.app.network.isOn).toBe(true);
    expect((await switched('off', { passphrase: KEEPER.passphrase })).statusCode).toBe(200);
    expect(house.app.network.isOn).toBe(false);
    // Everything works at the machine as before: nobody signs in.
    expect((await house.ask({ path: '/orders', way: 'machine' })).statusCode).toBe(200);
    expect((await house.ask({ path: '/ping' })).statusCode).toBe(421);
    const again = await switched('on', { ...on, passphrase: KEEPER.passphrase }, '');
    expect(again.statusCode).toBe(200);
    // Whoever switched it on is signed in as keeper.
    const token = house.tokenIn(again);
    expect((await house.ask({ path: '/orders', way: 'machine', token })).statusCode).toBe(200);
    expect((await house.ask({ path: '/orders', way: 'machine' })).statusCode).toBe(401);
  });

  it('writes each passphrase nowhere, not even as a hash of the form', async () => {
    await switched('off', { request_key: 'switched-off-once', passphrase: KEEPER.passphrase });
    const asked = house.book.first(
      house.book.db.selectFrom('request').select('asked_hash').where('key', '=', 'switched-off-once'),
    );
    await switched('on', { ...on, request_key: 'switched-on-now', passphrase: KEEPER.passphrase });
    const without = await switched('off', {
      request_key: 'switched-off-again',
      passphrase: KEEPER.passphrase,
    });
    const again = house.book.first(
      house.book.db.selectFrom('request').select('asked_hash').where('key', '=', 'switched-off-again'),
    );
    expect(without.statusCode).toBe(200);
    expect(asked?.asked_hash).toBe(again?.asked_hash);
  });
});
