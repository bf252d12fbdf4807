import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { standingIn } from '../../garments/making.ts';
import {
  length,
  makeBolt,
  makeLot,
  makeStock,
  newKey,
  openTestHouse,
  type TestHouse,
} from '../../support.ts';
import { addTierLike, balanceOf, entries, type OnTable, putOnTable } from './tier.ts';

let house: TestHouse;
let table: OnTable;
let bolt: string;

beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house);
  bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '2 m', 1000)).code;
});
afterEach(() => house.shut());

const hold = (fields: Record<string, string>) => house.submit(`${table.path}/holds`, fields);
const refusal = (fields: object) => house.send(`${table.path}/holds`, fields);

describe('the form to hold', () => {
  it('has exactly what the missing strips take, in whole cut lengths: 3 × 32 cm', async () => {
    const { body } = await house.data(`${table.path}/holds?piece=${bolt}`).expect(200);
    expect(standingIn(body.fields)).toEqual({ piece: bolt, length: '0.96', lots_meet: '' });
    expect(body).toMatchObject({ missingStrips: 3, fields: { length: { unit: 'm' } }, lotsInUse: '' });
    expect(body.strips).toMatchObject({
      size: '32 cm × 147 cm',
      wantedStrips: 3,
      cutStrips: 0,
      leftStrips: 3,
    });
  });

  it('has as many whole cut lengths as are free where not all strips fit', async () => {
    const short = house.write((tx) => makeBolt(tx, table.stock.lotId, '70 cm')).code;
    const { body } = await house.data(`${table.path}/holds?piece=${short}`).expect(200);
    expect(body.fields.length.value).toBe('0.64');
  });

  it('counts what the tier holds already', async () => {
    await hold({ piece: bolt, length: '0.64' }).expect(303);
    const { body } = await house.data(`${table.path}/holds?piece=${bolt}`).expect(200);
    expect(body).toMatchObject({ missingStrips: 1, fields: { length: { value: '0.32' } } });
    expect(body.card).toMatchObject({ heldHere: '0.64 m', holds: [] });
  });

  it('says of a piece that will not do why not', async () => {
    const strange = house.write((tx) => makeBolt(tx, makeStock(tx).lotId, '5 m')).code;
    const page = await house.page(`${table.path}/holds?piece=${strange}`).expect(422);
    expect(page.text).toMatch(new RegExp(`${strange} is Organza \\d+ in Shade \\d+\\. Tier 1 wants`));
    await house.page(`${table.path}/holds`).expect(200);
  });
});

describe('holding', () => {
  it('promises the length to the tier and says how many strips fit', async () => {
    const done = await hold({ piece: bolt.toLowerCase(), length: '0.96' }).expect(303);
    expect(done.headers.location).toMatch(new RegExp(`^${table.path}\\?done=`));
    expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('2 m'), held: length('0.96 m') });
    const page = await house.page(done.headers.location ?? '').expect(200);
    expect(page.text).toContain(`0.96 m of ${bolt} held for Tier 1 of ${table.code}: 3 strips fit`);
  });

  it('takes the same form once', async () => {
    const fields = { piece: bolt, length: '0.96', request_key: newKey() };
    await hold(fields).expect(303);
    const before = entries(house);
    await hold(fields).expect(303);
    expect(entries(house)).toBe(before);
    await hold({ ...fields, length: '0.32' }).expect(409);
  });

  it('is undone by its slip', async () => {
    const key = newKey();
    await hold({ piece: bolt, length: '0.96', request_key: key }).expect(303);
    await house.submit('/undo', { undoes: key }).expect(303);
    expect(balanceOf(house, bolt).held).toBe(0);
  });

  it('keeps what was typed and says at the field what is wrong', async () => {
    const page = await hold({ piece: 'B999', length: '1,500' }).expect(422);
    expect(page.text).toContain('value="B999"');
    expect(page.text).toContain('value="1,500"');
    expect(page.text).toContain('1,500 can mean');
    const { body } = await refusal({ piece: 'B999', length: '1' }).expect(422);
    expect(body.error.problems).toEqual([
      { field: 'piece', message: 'There is no piece B999: check the code.' },
    ]);
    const blank = await refusal({}).expect(422);
    expect(blank.body.error.problems.map(({ field }: { field: string }) => field)).toEqual([
      'piece',
      'length',
    ]);
  });

  it('refuses another cloth, another shade, and a piece too narrow for a strip, at the piece', async () => {
    const [cloth, shade, narrow] = house.write((tx) => [
      makeBolt(tx, makeStock(tx).lotId, '5 m').code,
      makeBolt(tx, makeLot(tx, table.stock.clothId, makeStock(tx).shadeId), '5 m').code,
      makeBolt(tx, table.stock.lotId, '5 m', 0, '146 cm').code,
    ]);
    const before = entries(house);
    for (const [code, why] of [
      [cloth, /wants Organza/],
      [shade, /wants Organza/],
      [narrow, /146 cm wide in use, and a strip of 147 cm does not fit across it/],
    ] as const) {
      const { body } = await refusal({ piece: code, length: '1 m' }).expect(422);
      expect(body.error.problems).toEqual([{ field: 'piece', message: expect.stringMatching(why) }]);
      expect(standingIn(body.page.fields)).toMatchObject({ piece: code, length: '1 m' });
    }
    expect(entries(house)).toBe(before);
  });

  it('refuses less than a cut length, unless what is held already makes one with it', async () => {
    const { body } = await refusal({ piece: bolt, length: '31 cm' }).expect(422);
    expect(body.error.problems[0]).toMatchObject({
      field: 'length',
      message: expect.stringMatching(/One cut length takes 0.32 m/),
    });
    await hold({ piece: bolt, length: '32 cm' }).expect(303);
    await hold({ piece: bolt, length: '1 cm' }).expect(303);
  });

  it('of more than is free says what is free, who holds the rest and who did what last', async () => {
    const otherId = addTierLike(house, table, 'Tier 2');
    await house
      .submit(`/cutting-table/${table.code}/${otherId}/holds`, { piece: bolt, length: '1.5' })
      .expect(303);
    const { body } = await refusal({ piece: bolt, length: '0.64' }).expect(409);
    const [{ message }] = body.error.problems;
    expect(message).toContain(`0.64 m was asked of ${bolt}, and 0.5 m can be had.`);
    expect(message).toContain(`2 m of ${bolt} is on hand and 0.5 m free.`);
    expect(message).toContain(`1.5 m is held for Tier 2 of ${table.code}.`);
    expect(message).toMatch(/Last entry: held by Maker, 2 Mar 2026/);
    const page = await hold({ piece: bolt, length: '0.64' }).expect(409);
    expect(page.text).toContain('What else fits Tier 1');
    expect(page.text).toContain('value="0.64"');
  });

  it('is refused for a garment that is finished and a tier that is taken out', async () => {
    const set = (columns: { finished_at: string | null }) =>
      house.write((tx) => tx.run(tx.db.updateTable('garment').set(columns).where('code', '=', table.code)));
    set({ finished_at: '2026-03-01T10:00:00.000Z' });
    const finished = await refusal({ piece: bolt, length: '0.96' }).expect(409);
    expect(finished.body.error.problems[0].message).toContain('was finished');
    set({ finished_at: null });
    const out = { taken_out_at: '2026-03-01T10:00:00.000Z' };
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(out).where('id', '=', table.tierId)));
    const taken = await refusal({ piece: bolt, length: '0.96' }).expect(409);
    expect(taken.body.error.problems[0].message).toContain('is taken out');
  });

  it('is unknown for a tier of another garment', async () => {
    await house.page(`/cutting-table/${table.code}/999/holds`).expect(404);
    await house.page(`/cutting-table/${table.code}/1x/holds`).expect(404);
    await house.page('/cutting-table/G0/1').expect(404);
  });
});

describe('one lot only', () => {
  let second: string;
  let secondLot: string;
  beforeEach(async () => {
    const lotId = house.write((tx) => makeLot(tx, table.stock.clothId, table.stock.shadeId));
    second = house.write((tx) => makeBolt(tx, lotId, '4 m')).code;
    const lot = house.book.first(house.book.db.selectFrom('lot').select('code').where('id', '=', lotId));
    secondLot = lot?.code ?? '';
    await hold({ piece: bolt, length: '0.32' }).expect(303);
  });

  it('refuses a second lot and says which is in use and for what', async () => {
    const { body } = await refusal({ piece: second, length: '0.64' }).expect(422);
    expect(body.error.problems).toEqual([
      {
        field: 'lots_meet',
        message: expect.stringMatching(
          new RegExp(
            `${second} is of lot ${secondLot}, and one lot is wanted: lot L\\d+ \\(0.32 m held for Tier 1\\) is in use`,
          ),
        ),
      },
    ]);
    const page = await hold({ piece: second, length: '0.64' }).expect(422);
    expect(page.text).toContain('name="lots_meet"');
    expect(balanceOf(house, second).held).toBe(0);
  });

  it('lets lots meet by a tick, and then either is in use', async () => {
    await hold({ piece: second, length: '0.32', lots_meet: 'yes' }).expect(303);
    await hold({ piece: second, length: '0.32' }).expect(303);
    expect(balanceOf(house, second).held).toBe(length('0.64 m'));
  });

  it('holds for all tiers of the garment that want the shade', async () => {
    const otherId = addTierLike(house, table, 'Tier 2');
    const path = `/cutting-table/${table.code}/${otherId}/holds`;
    const { body } = await house.send(path, { piece: second, length: '0.64' }).expect(422);
    expect(body.error.problems[0]).toMatchObject({
      field: 'lots_meet',
      message: expect.stringMatching(/held for Tier 1/),
    });
    await house.submit(path, { piece: bolt, length: '0.32' }).expect(303);
  });

  it('is over once the first lot is released', async () => {
    await house.submit(`${table.path}/releases`, { piece: bolt, length: '' }).expect(303);
    await hold({ piece: second, length: '0.64' }).expect(303);
  });

  it('does not hold where any lots will do', async () => {
    const any = { lots: 'any' as const };
    house.write((tx) =>
      tx.run(tx.db.updateTable('colour_block').set(any).where('tier_id', '=', table.tierId)),
    );
    await hold({ piece: second, length: '0.64' }).expect(303);
  });
});

describe('releasing', () => {
  const release = (fields: Record<string, string>) => house.submit(`${table.path}/releases`, fields);
  beforeEach(() => hold({ piece: bolt, length: '0.96' }).expect(303));

  it('gives back a part, then all the rest', async () => {
    await release({ piece: bolt, length: '0.32' }).expect(303);
    expect(balanceOf(house, bolt).held).toBe(length('0.64 m'));
    const done = await release({ piece: bolt, length: '' }).expect(303);
    expect(balanceOf(house, bolt).held).toBe(0);
    const page = await house.page(done.headers.location ?? '').expect(200);
    expect(page.text).toContain(`0.64 m of ${bolt} released`);
  });

  it('of more than is held, or of nothing, is a conflict', async () => {
    const over = await release({ piece: bolt, length: '1' }).expect(409);
    expect(over.text).toContain(`1 m was to be released of ${bolt}, and 0.96 m is held.`);
    expect(over.text).toContain('value="1"');
    await release({ piece: bolt, length: '' }).expect(303);
    const none = await release({ piece: bolt, length: '' }).expect(409);
    expect(none.text).toContain(`Nothing of ${bolt} is held for Tier 1`);
    await release({ piece: 'B77', length: '' }).expect(422);
  });

  it('gives back all that the tier holds in one request, and undoes it in one', async () => {
    const more = house.write((tx) => makeBolt(tx, table.stock.lotId, '1 m')).code;
    await hold({ piece: more, length: '0.32' }).expect(303);
    const key = newKey();
    const done = await house.submit(`${table.path}/releases/all`, { request_key: key }).expect(303);
    expect([bolt, more].map((code) => balanceOf(house, code).held)).toEqual([0, 0]);
    const page = await house.page(done.headers.location ?? '').expect(200);
    expect(page.text).toContain(
      `All that was held for Tier 1 of ${table.code} is released: ${bolt}, ${more}.`,
    );
    const none = await house.submit(`${table.path}/releases/all`, {}).expect(409);
    expect(none.text).toContain('Nothing is held');
    await house.submit('/undo', { undoes: key }).expect(303);
    expect([bolt, more].map((code) => balanceOf(house, code).held)).toEqual([
      length('0.96 m'),
      length('0.32 m'),
    ]);
  });

  it('goes on for a garment that is finished, so that nothing stays promised', async () => {
    const finished = { finished_at: '2026-03-01T10:00:00.000Z' };
    house.write((tx) => tx.run(tx.db.updateTable('garment').set(finished).where('code', '=', table.code)));
    const page = await house.page(table.path).expect(200);
    expect(page.text).toContain('Release all that is held');
    expect(page.text).not.toContain('Cut at the bench');
    await release({ piece: bolt, length: '' }).expect(303);
  });

  it('has all that is held filled in', async () => {
    const { body } = await house.data(`${table.path}/releases?piece=${bolt}`).expect(200);
    expect(standingIn(body.fields)).toMatchObject({ piece: bolt, length: '0.96' });
  });

  it('offers no form for a piece of which nothing is held', async () => {
    await release({ piece: bolt, length: '' }).expect(303);
    const page = await house.page(`${table.path}/releases?piece=${bolt}`).expect(200);
    expect(page.text).toContain(`Nothing of ${bolt} is held for `);
    expect(page.text).not.toContain('Length to release');
  });
});
