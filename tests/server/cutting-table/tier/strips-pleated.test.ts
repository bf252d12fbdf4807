import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { makeGarment, makeTierOf, stockOf } from '../../garments/making.ts';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
let code: string;
let table: string;
beforeEach(async () => {
  house = await openTestHouse();
  const stock = stockOf(house);
  code = await makeGarment(house);
  table = `/cutting-table/${code}/${await makeTierOf(house, code, stock)}`;
  const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '5 m', 5000));
  await house.send(`${table}/cuts`, { piece: bolt.code, strips: '2' }).expect(200);
});
afterEach(() => house.shut());

const data = async (path: string) => (await house.data(path).expect(200)).body;
const on = (days: number) =>
  new Date(Date.parse(house.book.now()) + days * 86_400_000).toISOString().slice(0, 10);
const SENT = {
  strips: '2',
  length: '2.9',
  width: '30',
  pleater: 'Foldwell, invented',
  asked: 'Knife pleats',
};
const send = (more: object = {}) =>
  house.send(`${table}/pleating`, { ...SENT, sent_on: on(0), expected_on: on(3), ...more });
const rows = async () => (await data(table)).pleating.rows;

describe('strips that are cut', () => {
  it('go to a pleater from their cut list, and are told wherever one looks', async () => {
    const { pleating } = await data(table);
    expect(pleating).toMatchObject({ rows: [], send: `${table}/pleating` });
    const form = await data(pleating.send);
    // Two strips of 147 cm, 30 cm deep, laid end to end.
    expect([form.fields.strips.value, form.fields.length.value, form.fields.width.value]).toEqual([
      '2',
      '2.94',
      '30',
    ]);
    await send().expect(200);
    expect(await rows()).toMatchObject([{ before: '2.9 m × 30 cm, 2 strips', isOut: true }]);
    expect((await data(table)).pleating.send).toBe('');
    const [out] = (await data('/shelf/pleating')).out;
    expect(out).toMatchObject({ of: { code, text: 'Tier 1', href: table }, late: '', lot: '' });
    expect((await house.page(out.href)).text).toContain('Knife pleats');
    const [{ steps }] = (await data(`/garments/${code}/book`)).sheet;
    expect(steps).toContainEqual(
      expect.stringMatching(
        /^2 strips are at Foldwell, invented, expected back .+\. Sew the pleats to 95 cm: they are not gathered\.$/,
      ),
    );
    expect(steps.join(' ')).not.toContain('Gather ');
    const today = await house.page('/');
    expect(today.text).toContain('due back');
    const list = await data('/setup/lists/out/pleating.json');
    expect(list).toMatchObject([
      { Garment: code, 'Tier or part': 'Tier 1', Strips: '2', Out: 'yes', Piece: '' },
    ]);
  });

  it('come back with their size, are measured again, and are out again where that was a mistake', async () => {
    await send().expect(200);
    const [{ href }] = await rows();
    const back = { back_on: on(1), length: '0.98', width: '30' };
    await house.send(`${href}/back`, { ...back, back_on: on(-1) }).expect(422);
    await house.send(`${href}/back`, back).expect(200);
    expect(await rows()).toMatchObject([{ isOut: false, after: '0.98 m × 30 cm' }]);
    await house.send(`${href}/steps`, { step: 'not sent' }).expect(409);
    await house.send(`${href}/back`, { ...back, length: '1' }).expect(200);
    expect((await data('/shelf/pleating')).back).toMatchObject([{ after: '1 m × 30 cm' }]);
    await house.send(`${href}/steps`, { step: 'still out' }).expect(200);
    expect(await rows()).toMatchObject([{ isOut: true, after: '' }]);
    await house.send(`${href}/steps`, { step: 'not sent' }).expect(200);
    expect(await rows()).toEqual([]);
    await house.page(href).expect(404);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('are no more than were cut and are here, with what was typed kept', async () => {
    const refused = await house.submit(`${table}/pleating`, {
      ...SENT,
      strips: '3',
      sent_on: on(0),
      expected_on: on(3),
    });
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('only 2 are cut and here: enter 2 or fewer');
    expect(refused.text).toContain('value="3"');
    await send({ expected_on: on(-1) }).expect(422);
    await send().expect(200);
    const none = await send({ strips: '1' }).expect(422);
    expect(none.body.error.message).toBeTruthy();
    expect((await house.page(`${table}/pleating`)).text).toContain('No strip that is cut is here.');
  });

  it('hold their sewing up until they are back', async () => {
    await house.send(`/garments/${code}/by-when`, { sewing: '5', fitting: '' }).expect(200);
    const sewing = async () =>
      (await data(`/garments/${code}/by-when`)).rows.find(({ step }: { step: string }) => step === 'Sew')
        ?.soonest;
    const before = await sewing();
    await send({ expected_on: on(10) }).expect(200);
    expect(await sewing()).not.toBe(before);
    const { notes } = await data(`/garments/${code}/by-when`);
    expect(notes.map(({ text }: { text: string }) => text).join(' ')).toContain(
      'At Foldwell, invented: 2 strips of Tier 1',
    );
  });
});
