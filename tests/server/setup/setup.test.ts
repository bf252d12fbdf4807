import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Tx } from '../../../server/database/book.ts';
import { readWorkroom } from '../../../server/kit/workroom.ts';
import { typedIn } from '../shelf/furnished.ts';
import { makeBolt, makeStock, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const DYE = { name: 'Red', dye_class: 'reactive', strength_bp: null, gone_at: null, typed: '{}' };
const SETTINGS = { name: 'Parade loft', length_system: 'imperial', currency: 'EUR', useful_remnant: '18' };

describe('the workroom', () => {
  it('is renamed and shown in yards, with a bare number read in the units of the page', async () => {
    await house.submit('/setup', { ...SETTINGS, useful_remnant: '50 cm' }).expect(303);
    const { body } = await house.data('/setup').expect(200);
    expect(typedIn(body.fields)).toMatchObject({
      name: 'Parade loft',
      length_system: 'imperial',
      currency: 'EUR',
    });
    const page = await house.page('/setup').expect(200);
    expect(page.text).toContain('Parade loft');
  });

  it('keeps the useful remnant to the tick when a reader of other units saves the page untouched', async () => {
    const before = readWorkroom(house.book).usefulRemnantTicks;
    for (const system of ['imperial', 'metric', 'imperial']) {
      const typed = typedIn((await house.data('/setup')).body.fields);
      await house.submit('/setup', { ...typed, length_system: system }).expect(303);
      expect(readWorkroom(house.book).usefulRemnantTicks).toBe(before);
    }
  });

  it('keeps its currency once something has a price, and says so', async () => {
    await house.submit('/setup', { ...SETTINGS, currency: 'GBP' }).expect(303);
    house.write((tx) => makeBolt(tx, makeStock(tx).lotId, '10 m', 5000));
    const refused = await house.submit('/setup', { ...SETTINGS, currency: 'USD' }).expect(409);
    expect(refused.text).toContain('Prices are booked in GBP already');
    expect(refused.text).toContain('value="USD"');
  });

  it('asks every table that holds money whether something has a price', () => {
    const rows = house.book.connection
      .prepare(
        "SELECT DISTINCT m.name FROM sqlite_master m JOIN pragma_table_info(m.name) c WHERE m.type = 'table' AND c.name LIKE '%_minor'",
      )
      .pluck()
      .all() as string[];
    const asked = readFileSync(
      new URL('../../../server/setup/workroom-form.ts', import.meta.url),
      'utf8',
    ).matchAll(/selectFrom\('(\w+)'\)/g);
    // What these hold comes with a row of a table that is asked: entries of a piece, of a lot, of a receipt.
    const follow = ['piece', 'received_cost', 'supply_lot', 'supply_received_cost'];
    expect(rows.sort()).toEqual([...[...asked].map(([, table]) => table), ...follow].sort());
  });

  it.each([
    ['a dye', (tx: Tx) => tx.db.insertInto('dye').values({ ...DYE, price_minor: 1250, price_mg: 100_000 })],
    [
      'fuel',
      (tx: Tx) => tx.db.insertInto('energy_price').values({ price_minor: 30, at: tx.at, person_id: 1 }),
    ],
  ])('keeps its currency once %s has a price', async (_what, priced) => {
    const other = await openTestHouse();
    await other.submit('/setup', { ...SETTINGS, currency: 'GBP' }).expect(303);
    other.write((tx) => tx.run(priced(tx)));
    await other.submit('/setup', { ...SETTINGS, currency: 'USD' }).expect(409);
    await other.submit('/setup', { ...SETTINGS, currency: 'GBP', name: 'Loft' }).expect(303);
    await other.shut();
  });

  it('refuses a currency that is none, and keeps what was typed', async () => {
    const refused = await house.submit('/setup', { ...SETTINGS, name: '', currency: 'QQQ' }).expect(422);
    expect(refused.text).toContain('The name must be filled in.');
    expect(refused.text).toContain('Enter a currency code, such as EUR.');
    expect(refused.text).toContain('value="QQQ"');
  });
});

describe('people', () => {
  it('are added once, whoever presses twice', async () => {
    const form = { request_key: 'add-ana-once', name: 'Ana', length_system: '' };
    await house.submit('/setup/people', form).expect(303);
    await house.submit('/setup/people', form).expect(303);
    const { body } = await house.data('/setup/people');
    expect(body.people.map((person: { name: string }) => person.name)).toEqual(['Ana', 'Maker']);
  });

  it('cannot share a name', async () => {
    const refused = await house.submit('/setup/people', { name: 'Maker', length_system: '' }).expect(422);
    expect(refused.text).toContain('There is a person Maker already.');
  });

  it('read in units of their own, on the device that works as them', async () => {
    await house.submit('/setup/people', { name: 'Ben', length_system: 'imperial' }).expect(303);
    const { body } = await house.data('/setup/people');
    const ben = body.people.find((person: { name: string }) => person.name === 'Ben');
    const chosen = await house.submit('/setup/working-as', { person_id: String(ben.id), back: '/setup' });
    expect(chosen.headers.location).toBe('/setup');
    const cookie = chosen.headers['set-cookie'] ?? [];
    expect(String(cookie)).toMatch(/HttpOnly; SameSite=Lax/);
    const page = await house.data('/setup').set('Cookie', String(cookie));
    expect(page.body.fields.useful_remnant.unit).toBe('in');
  });

  it('who left are not offered, and the last one cannot leave', async () => {
    await house.submit('/setup/people', { name: 'Ana', length_system: '' }).expect(303);
    await house.submit('/setup/people/1/leavings', {}).expect(303);
    const { body } = await house.data('/setup/people');
    expect(body.people.map((person: { name: string }) => person.name)).toEqual(['Ana']);
    expect(body.gone.map((person: { name: string }) => person.name)).toEqual(['Maker']);
    const refused = await house.submit('/setup/people/2/leavings', {}).expect(409);
    expect(refused.text).toContain('somebody has to');
    await house.submit('/setup/people/1/leavings', { back: 'yes' }).expect(303);
  });

  it('choose a person who is there, and no other site to go back to', async () => {
    await house.submit('/setup/working-as', { person_id: '99', back: '/' }).expect(422);
    const away = await house.submit('/setup/working-as', { person_id: '1', back: '//elsewhere.example/' });
    expect(away.headers.location).toBe('/');
  });
});
