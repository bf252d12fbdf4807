import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBalances } from '../../../server/ledger/check.ts';
import { makeGarment } from '../garments/making.ts';
import { CAGE } from '../garments/parts/cage.ts';
import { newKey, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

async function add(supply: Record<string, string>): Promise<number> {
  const { body, status } = await house.send('/supplies/new', supply);
  expect([status, body.error]).toEqual([200, undefined]);
  return Number(/\d+$/.exec(body.location)?.[0]);
}

const receive = (id: number, amount: string, more: Record<string, string> = {}) =>
  house.send('/supplies/receive', { rows: [{ supply_id: String(id), amount, ...more }] });

const undo = (key: string) => house.send('/undo', { undoes: key });

async function onHand(id: number): Promise<[string, string | null]> {
  const { body } = await house.data(`/supplies/${id}`);
  return [body.onHand, body.cost];
}

const problems = (body: { error: { problems: { field: string; message: string }[] } }) =>
  body.error.problems.map(({ field, message }) => [field, message]);

describe('a supply', () => {
  it('is received in its own unit, used first from the lot that is open, and priced by its share', async () => {
    const id = await add({ name: 'Madder extract', kind: 'dye', measure: 'mass', least: '50' });
    await receive(id, '100', { lot: 'A', cost: '10.00' });
    await receive(id, '1 lb', { lot: 'B', cost: '20.00', opened_on: '2026-02-01' });
    expect(await onHand(id)).toEqual(['≈ 553.5 g', '€30.00']);
    const { body } = await house.send(`/supplies/${id}/uses`, { amount: '453.592 g' });
    expect(body.said).toBe('Used: ≈ 453.5 g of Madder extract.');
    expect(body.after).toBe('On hand now: 100 g.');
    expect(await onHand(id)).toEqual(['100 g', '€10.00']);
    const page = (await house.data(`/supplies/${id}`)).body;
    expect(page.lots.map(({ name }: { name: string }) => name)).toEqual(['Lot A']);
    expect(page.usedUp).toBe(1);
  });

  it('is never used below nothing, and what was typed stays', async () => {
    const id = await add({ name: 'Crin 2 in', kind: 'trim', measure: 'length' });
    await receive(id, '3 m');
    const { body, status } = await house.send(`/supplies/${id}/uses`, { amount: '3.5 m' });
    expect(status).toBe(422);
    expect(problems(body)).toEqual([
      [
        'amount',
        'Amount: this needs one length of 3.5 m; the longest free is 3 m. Enter less, or count it first.',
      ],
    ]);
    const { text } = await house.submit(`/supplies/${id}/uses`, { amount: '3.5 m', why: 'hem' }).redirects(1);
    expect(text).toContain('value="3.5 m"');
    expect(text).toContain('the longest free is 3 m');
    expect(await onHand(id)).toEqual(['3 m', '€0.00']);
  });

  it('takes what was counted, and the cost goes with the last of it', async () => {
    const id = await add({ name: 'Buckles', kind: 'notion', measure: 'count', least: '4' });
    await receive(id, '12', { cost: '6.00' });
    const [lot] = (await house.data(`/supplies/${id}`)).body.lots;
    const count = (amount: string) =>
      house.send(`/supplies/${id}/counts`, { lot_id: String(lot.id), amount });
    expect((await count('12')).body.said).toBe('Buckles is counted: it is as the book says.');
    expect((await count('10 pieces')).body.said).toBe('Buckles is counted: 2 pieces less.');
    expect(await onHand(id)).toEqual(['10 pieces', '€6.00']);
    await count('0');
    expect(await onHand(id)).toEqual(['0 pieces', '€0.00']);
    const { groups, totals } = (await house.data('/supplies?low=yes&search=buck')).body;
    expect(totals.low).toBeGreaterThanOrEqual(1);
    expect(groups[0].supplies.map(({ name }: { name: string }) => name)).toEqual(['Buckles']);
    expect((await count('3')).body.said).toBe('Buckles is counted: 3 pieces more.');
  });

  it('is written off in part or whole, for a reason', async () => {
    const id = await add({ name: 'Old fixer', kind: 'chemical', measure: 'volume' });
    await receive(id, '1.5 L', { cost: '3.00' });
    const writeOff = (form: object) => house.send(`/supplies/${id}/write-offs`, form);
    expect(problems((await writeOff({ amount: '', why: 'old' })).body)).toEqual([
      ['amount', 'Amount: enter it, or tick all that is left.'],
    ]);
    expect(problems((await writeOff({ all: 'yes', why: '' })).body)).toEqual([
      ['why', 'The reason must be filled in.'],
    ]);
    await writeOff({ amount: '500', why: 'spilt' });
    expect(await onHand(id)).toEqual(['1 L', '€2.00']);
    await writeOff({ all: 'yes', why: 'too old' });
    expect(await onHand(id)).toEqual(['0 mL', '€0.00']);
    expect((await house.send(`/supplies/${id}/put-aways`, {})).status).toBe(200);
    expect((await house.data('/supplies')).body.putAway).toHaveLength(1);
  });
});

describe('an undo', () => {
  it('gives back what was used, and is refused once later work leans on it', async () => {
    const id = await add({ name: 'Silk ribbon', kind: 'trim', measure: 'length' });
    const keys = { receive: newKey(), use: newKey(), count: newKey() };
    await receive(id, '10 m', { cost: '5.00' }).send({
      request_key: keys.receive,
      rows: [{ supply_id: String(id), amount: '10 m', cost: '5.00' }],
    });
    await house.send(`/supplies/${id}/uses`, { request_key: keys.use, amount: '4 m' });
    expect((await undo(keys.receive)).body.error.message).toBe(
      'This cannot be undone: Silk ribbon was used since by Maker, 2 Mar 2026, 12:00. Undo that first.',
    );
    const [lot] = (await house.data(`/supplies/${id}`)).body.lots;
    await house.send(`/supplies/${id}/counts`, {
      request_key: keys.count,
      lot_id: String(lot.id),
      amount: '5 m',
    });
    expect((await undo(keys.use)).body.error.message).toMatch(/was counted since/);
    expect((await undo(keys.count)).body.said).toBe('Undone: Silk ribbon is counted: 1 m less.');
    expect((await undo(keys.count)).body.error.message).toMatch(/undone already by Maker/);
    expect((await undo(keys.use)).status).toBe(200);
    expect(await onHand(id)).toEqual(['10 m', '€5.00']);
    const { entries } = (await house.data(`/supplies/${id}`)).body;
    const offered = entries.filter(({ undoKey }: { undoKey: string }) => undoKey !== '');
    expect(offered.map(({ what }: { what: string }) => what)).toEqual(['Received']);
    expect((await undo(keys.receive)).status).toBe(200);
    expect(await onHand(id)).toEqual(['0 m', '€0.00']);
  });

  it('of a count that found more is refused where the rest would have a cost and no amount', async () => {
    const id = await add({ name: 'Eyelets', kind: 'notion', measure: 'count' });
    await receive(id, '3', { cost: '9.00' });
    const key = newKey();
    const [lot] = (await house.data(`/supplies/${id}`)).body.lots;
    await house.send(`/supplies/${id}/counts`, { request_key: key, lot_id: String(lot.id), amount: '5' });
    await house.send(`/supplies/${id}/uses`, { amount: '3' });
    expect((await undo(key)).status).toBe(409);
    expect(checkBalances(house.book)).toEqual([]);
  });
});

describe('what is described', () => {
  it.each([
    [{ name: '', kind: 'dye', measure: 'mass' }, 'name', /must be filled in/],
    [{ name: 'X1', kind: 'wool', measure: 'mass' }, 'kind', /Choose the kind/],
    [{ name: 'X2', kind: 'dye', measure: 'count', least: '2.5' }, 'least', /whole number/],
    [{ name: 'X3', kind: 'trim', measure: 'length', least: '0' }, 'least', /more than nothing/],
    [{ name: 'X4', kind: 'dye', measure: 'mass', used_as: 'soda-ash/anhydrous' }, 'used_as', /kind chemical/],
    [
      { name: 'X5', kind: 'chemical', measure: 'volume', used_as: 'soda-ash/anhydrous' },
      'used_as',
      /weighed/,
    ],
    [{ name: 'X6', kind: 'chemical', measure: 'mass', used_as: 'gold/leaf' }, 'used_as', /choose a dye/],
  ])('%o is refused at its field', async (form, field, message) => {
    const { body, status } = await house.send('/supplies/new', form);
    expect(status).toBe(422);
    expect(problems(body)).toEqual([[field, expect.stringMatching(message)]]);
  });

  it('keeps its unit once something came, and its name is its own', async () => {
    const id = await add({ name: 'Cord', kind: 'trim', measure: 'length', least: '5' });
    await receive(id, '20 m');
    const edit = (form: object) =>
      house.send(`/supplies/${id}/edit`, { name: 'Cord', kind: 'trim', measure: 'length', ...form });
    expect(problems((await edit({ measure: 'count' })).body)[0]?.[0]).toBe('measure');
    expect((await edit({ note: 'on the wall' })).status).toBe(200);
    const again = await house.send('/supplies/new', { name: 'cord', kind: 'trim', measure: 'length' });
    expect(problems(again.body)).toEqual([['name', 'There is a supply Cord already.']]);
    expect((await house.page(`/supplies/${id}/edit`)).text).toContain('on the wall');
  });

  it('several rows are received at once or none, each problem at its row', async () => {
    const id = await add({ name: 'Pins', kind: 'tool', measure: 'count' });
    const rows = [
      { supply_id: String(id), amount: '10' },
      { supply_id: '', amount: '', lot: '' },
      { supply_id: String(id), amount: 'many' },
    ];
    const { body, status } = await house.send('/supplies/receive', { rows });
    expect(status).toBe(422);
    expect(problems(body).map(([field]) => field)).toEqual(['rows.2.amount']);
    expect(await onHand(id)).toEqual(['0 pieces', '€0.00']);
  });
});

describe('what garments want of a supply', () => {
  it('is told beside what is on hand, less what was used for the garment', async () => {
    const code = await makeGarment(house);
    await house.send(`/garments/${code}/parts/new/cage`, CAGE).expect(200);
    const id = await add({ name: 'Steel', kind: 'notion', measure: 'length' });
    await receive(id, '5 m');
    const wanted = async () => (await house.data('/supplies')).body.called.calls;
    expect(await wanted()).toEqual([
      {
        name: 'Steel',
        href: `/supplies/${id}`,
        forBatches: '',
        forGarments: '≈ 9.1 m',
        free: '5 m',
        onOrder: '',
        // Of steels of 55, 78, 101 and 124 in, 55 + 124 or 78 + 101 come out of 196 in: 179 in are short either way.
        shortBy: '≈ 4.55 m',
        toGet: '≈ 4.55 m',
        inLengths: expect.stringMatching(/^in lengths of ≈ \d\.\d+ m and ≈ \d\.\d+ m$/),
        of: [{ href: `/garments/${code}`, text: code }],
      },
    ]);
    expect((await house.page('/supplies')).text).toContain('Called for by batches and garments');
    const garment = house.book.first(
      house.book.db.selectFrom('garment').select('id').where('code', '=', code),
    );
    await house.send(`/supplies/${id}/uses`, { amount: '4 m', garment_id: String(garment?.id) }).expect(200);
    expect(await wanted()).toMatchObject([{ forGarments: '≈ 5.1 m', free: '1 m', shortBy: '≈ 4.55 m' }]);
  });
});

describe('what closes a garment', () => {
  it('is wanted, told as short and costed until it was used for it', async () => {
    // 25 cm ÷ 5 cm, and one: six hooks.
    const code = await makeGarment(house, { name: 'Opened', opening: '25', fastener: '5' });
    const id = await add({ name: 'Hooks', kind: 'notion', measure: 'count' });
    await receive(id, '4', { cost: '2.00' });
    const [need] = (await house.data('/supplies')).body.called.calls.filter(
      ({ name }: { name: string }) => name === 'Hooks',
    );
    expect(need).toMatchObject({ forGarments: '6 pieces', free: '4 pieces', shortBy: '2 pieces' });
    const shortOf = async (path: string) =>
      (await house.data(path)).body.supplies.map(({ name }: { name: string }) => name);
    for (const path of ['/short', `/short?garment=${code}`]) expect(await shortOf(path)).toContain('Hooks');
    expect(await shortOf('/short?garment=G1')).not.toContain('Hooks');
    expect((await house.page(`/short?garment=${code}`)).text).toContain('no offer in the book');
    const cost = async () => (await house.data(`/garments/${code}/cost`)).body;
    // €0.50 a hook.
    expect(await cost()).toMatchObject({
      together: '€3.00',
      still: { rows: [{ name: 'Hooks', cost: '€3.00' }] },
    });
    const garment = house.book.first(
      house.book.db.selectFrom('garment').select('id').where('code', '=', code),
    );
    await house.send(`/supplies/${id}/uses`, { amount: '4', garment_id: String(garment?.id) }).expect(200);
    // The two that are left cost nothing that is known: none is on hand.
    expect(await cost()).toMatchObject({
      together: '€2.00',
      still: { rows: [{ amount: '2 pieces', cost: 'no price known' }], cost: '€0.00' },
    });
    await house.send(`/garments/${code}/finished`, {}).expect(200);
    expect((await cost()).still.rows).toEqual([]);
  });
});

describe('the check of the book', () => {
  it('says which supply does not add up', async () => {
    const id = await add({ name: 'Wire', kind: 'trim', measure: 'length' });
    await receive(id, '8 m', { lot: 'W1', cost: '4.00' });
    const { connection } = house.book;
    connection.exec('BEGIN');
    connection.exec('DROP TRIGGER supply_lot_follows_entries');
    connection.exec("UPDATE supply_lot SET on_hand = on_hand + 160000, cost_minor = 1 WHERE lot = 'W1'");
    expect(checkBalances(house.book)).toEqual([
      'Wire, lot W1, shows 9 m on hand where its entries add up to 8 m, and shows a cost of €0.01 where its entries add up to €4.00.',
    ]);
    connection.exec('ROLLBACK');
    expect(checkBalances(house.book)).toEqual([]);
  });
});
