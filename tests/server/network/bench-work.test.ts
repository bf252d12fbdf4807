import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ownerOfKey } from '../../../server/kit/request-key.ts';
import { sendAway } from '../../../server/let-in/devices.ts';
import { length, makeBolt, makeStock, newKey } from '../support.ts';
import { HAND, KEEPER, type NetworkHouse, openNetworkHouse } from './house.ts';

// Work at a bench is sent as the person who did it, from the device that kept it, to the book that it was done for.

let house: NetworkHouse;
let now: Date;
let piece: string;
let tablet: { id: number; token: string };

beforeEach(async () => {
  now = new Date('2026-03-02T12:00:00.000Z');
  house = await openNetworkHouse({ clock: () => now });
  house.book.write({ key: newKey(), asked: null, personId: 1 }, (tx) => {
    piece = makeBolt(tx, makeStock(tx).lotId, '5 m').code;
    return { location: '/', said: 'Done.' };
  });
  tablet = house.device('Tablet');
});
afterEach(() => house.shut());

const form = () => `/shelf/pieces/${piece}`;

/** The key of the form that writes a length off, as the page has it for somebody. */
async function keyFor(token: string): Promise<string> {
  const { text } = {
    text: (await house.ask({ path: form(), token, headers: { accept: 'text/html' } })).body,
  };
  const [, key] =
    /write-offs"[^>]*>\s*<input type="hidden" name="request_key" value="([^"]+)"/.exec(text) ?? [];
  return key ?? '';
}

const writeOff = (token: string, key: string, waited?: number) =>
  house.ask({
    method: 'POST',
    path: `${form()}/write-offs`,
    token,
    fields: { request_key: key, length: '0.5 m', all: '', why: 'stained' },
    headers: waited === undefined ? {} : { 'clothroom-waited': String(waited) },
  });

const requestOf = (key: string) =>
  house.book.first(house.book.db.selectFrom('request').selectAll().where('key', '=', key));

describe('the key of bench work', () => {
  it('names the person, the device and the book', async () => {
    const key = await keyFor(house.signed(tablet.id, HAND.id));
    const { mark } = house.book.first(house.book.db.selectFrom('workroom').select('mark')) ?? {};
    expect(mark).toMatch(/^[0-9a-f]{6}$/);
    expect(ownerOfKey(key)).toEqual({ personId: HAND.id, deviceId: tablet.id, mark });
    expect(key.length).toBeLessThanOrEqual(54);
  });

  it('lets nobody else who works at the device meanwhile send the form', async () => {
    const key = await keyFor(house.signed(tablet.id, HAND.id));
    const refused = await writeOff(house.signed(tablet.id, KEEPER.id), key);
    expect([refused.statusCode, refused.json().error.message]).toEqual([
      401,
      'This form was opened for Ben, and Maker works here now. Nothing was entered: open the page again.',
    ]);
    expect(requestOf(key)).toBeUndefined();
    expect((await writeOff(house.signed(tablet.id, HAND.id), key)).statusCode).toBe(200);
    expect(requestOf(key)).toMatchObject({ person_id: HAND.id, device_id: tablet.id, done_at: null });
  });

  it('lets the same person send it from no other device, unless the former is no longer let in', async () => {
    const key = await keyFor(house.signed(tablet.id, HAND.id));
    const phone = house.device('Phone');
    const elsewhere = house.signed(phone.id, HAND.id);
    expect((await writeOff(elsewhere, key)).statusCode).toBe(401);
    house.book.write({ key: newKey(), asked: null, personId: 1 }, (tx) => ({
      location: '/',
      said: sendAway(tx, tablet.id),
    }));
    expect((await writeOff(elsewhere, key)).statusCode).toBe(200);
    expect(requestOf(key)).toMatchObject({ person_id: HAND.id, device_id: phone.id });
  });

  it('is of no other book', async () => {
    const token = house.signed(tablet.id, HAND.id);
    const key = (await keyFor(token)).replace(/-[0-9a-f]{6}_/, '-000000_');
    expect((await writeOff(token, key)).json().error.message).toBe(
      'This was done in another book. Nothing was entered: open the page again.',
    );
    // The control: a key of a script’s own is anybody’s.
    expect((await writeOff(token, newKey())).statusCode).toBe(200);
  });

  it('stays that of the form where the page is drawn again', async () => {
    const token = house.signed(tablet.id, HAND.id);
    const key = await keyFor(token);
    const refused = await house.ask({
      method: 'POST',
      path: `${form()}/write-offs`,
      token,
      fields: { request_key: key, length: 'some', all: '', why: '' },
      headers: { accept: 'text/html' },
    });
    const again = await house.ask({
      path: String(refused.headers.location),
      token,
      headers: { accept: 'text/html' },
    });
    expect(again.body).toContain(`name="request_key" value="${key}"`);
  });
});

describe('an entry that arrives late', () => {
  const doneAt = async (waited: number) => {
    const token = house.signed(tablet.id, HAND.id);
    const key = await keyFor(token);
    expect((await writeOff(token, key, waited)).statusCode).toBe(200);
    return requestOf(key)?.done_at;
  };

  it('says when it was done, from a minute on and by a week at most', async () => {
    expect(await doneAt(59)).toBeNull();
    expect(await doneAt(60)).toBe('2026-03-02T11:59:00.000Z');
    expect(await doneAt(7 * 24 * 3600)).toBe('2026-02-23T12:00:00.000Z');
    expect(await doneAt(30 * 24 * 3600)).toBe('2026-02-23T12:00:00.000Z');
  });

  it('is entered once, however much longer it waited when it is sent again', async () => {
    const token = house.signed(tablet.id, HAND.id);
    const key = await keyFor(token);
    const [first, second] = [await writeOff(token, key, 90), await writeOff(token, key, 400)];
    expect(second.json()).toEqual(first.json());
    expect(requestOf(key)?.done_at).toBe('2026-03-02T11:58:30.000Z');
    const { db } = house.book;
    expect(house.book.all(db.selectFrom('entry').selectAll().where('request_key', '=', key)).length).toBe(1);
    const piecePage = (await house.ask({ path: form(), token })).json();
    expect(piecePage.entries[0].doneWhen).toMatch(/2026, /);
    expect(piecePage.piece.onHandTicks).toBe(length('4.5 m'));
  });
});
