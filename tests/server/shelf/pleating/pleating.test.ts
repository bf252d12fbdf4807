import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { balanceOf } from '../../cutting-table/tier/tier.ts';
import { makeGarment, stockOf } from '../../garments/making.ts';
import { length, makeBolt, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
let code: string;
let garment: string;
beforeEach(async () => {
  house = await openTestHouse();
  const stock = stockOf(house);
  garment = await makeGarment(house);
  code = house.write((tx) => makeBolt(tx, stock.lotId, '10 m', 1000)).code;
});
afterEach(() => house.shut());

const today = () => house.book.now().slice(0, 10);
const sent = (fields: object = {}) => ({
  length: '4',
  pleater: 'Foldwell, invented',
  garment,
  asked: 'Knife pleats of 2 cm, hem done before',
  sent_on: today(),
  expected_on: today(),
  ...fields,
});
const send = (fields: object = {}) => house.submit(`/shelf/pieces/${code}/pleating`, sent(fields));
const list = async () => (await house.data('/shelf/pleating').expect(200)).body;

describe('cloth at a pleater', () => {
  it('is held, so that nobody takes it, and its note goes along', async () => {
    expect((await house.page('/shelf/pleating')).text).toContain('Nothing is at a pleater.');
    await send().expect(303);
    expect(balanceOf(house, code)).toMatchObject({ onHand: length('10 m'), held: length('4 m') });
    const [row] = (await list()).out;
    expect(row).toMatchObject({ before: '4 m × 147 cm', after: '', late: '', of: { code } });
    const note = await house.page(row.href).expect(200);
    expect(note.text).toContain('Knife pleats of 2 cm, hem done before');
    expect(note.text).toContain(garment);
    expect((await house.page(`/shelf/pieces/${code}`)).text).toContain('At the pleater:');
    await send({ length: '7' }).expect(409);
  });

  it('comes off its piece with its finished size, once, and an undo sends it out again', async () => {
    await send().expect(303);
    const { href } = (await list()).out[0];
    const back = { back_on: today(), length: '4', width: '49' };
    const done = await house.submit(`${href}/back`, back).expect(303);
    expect(balanceOf(house, code)).toMatchObject({ onHand: length('6 m'), held: 0 });
    expect(await list()).toMatchObject({ out: [], back: [{ after: '4 m × 49 cm', before: '4 m × 147 cm' }] });
    await house.submit(`${href}/back`, back).expect(409);
    const key = new URL(done.headers.location ?? '', 'http://x').searchParams.get('done') ?? '';
    await house.submit('/undo', { undoes: key }).expect(303);
    expect(await list()).toMatchObject({ out: [{ after: '' }], back: [] });
    // Measured anew, the newest holds.
    await house.submit(`${href}/back`, { ...back, width: '50' }).expect(303);
    expect((await list()).back).toMatchObject([{ after: '4 m × 50 cm' }]);
    const csv = await house.page('/setup/lists/out/pleating.csv').expect(200);
    expect(csv.text).toContain('Foldwell, invented');
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('is told on Today from three days before it is expected, and found from the shelf and its piece', async () => {
    const on = (days: number) => new Date(Date.parse(today()) + days * 86_400_000).toISOString().slice(0, 10);
    await send({ expected_on: on(4) }).expect(303);
    expect((await house.data('/')).body.pleating).toEqual([]);
    await send({ length: '1', expected_on: on(3) }).expect(303);
    expect((await house.data('/')).body.pleating).toMatchObject([{ late: '', of: { code } }]);
    for (const path of ['/shelf', `/shelf/pieces/${code}`])
      expect((await house.page(path)).text).toContain('href="/shelf/pleating"');
  });

  it('is told on Today once it is late, and no more where its sending was undone', async () => {
    const done = await send({ sent_on: '2020-01-01', expected_on: '2020-01-10' }).expect(303);
    expect((await list()).out[0].late).toMatch(/^\d+ days late$/);
    expect((await house.page('/')).text).toContain('due back ');
    const key = new URL(done.headers.location ?? '', 'http://x').searchParams.get('done') ?? '';
    await house.submit('/undo', { undoes: key }).expect(303);
    expect(await list()).toEqual({ out: [], back: [] });
    expect((await house.page('/')).text).not.toContain('due back ');
    expect(balanceOf(house, code)).toMatchObject({ held: 0 });
  });

  it('is refused beside the field, with what was typed', async () => {
    const { body } = await house
      .send(`/shelf/pieces/${code}/pleating`, sent({ pleater: '', expected_on: '' }))
      .expect(422);
    expect(body.error.problems.map(({ field }: { field: string }) => field)).toEqual([
      'pleater',
      'expected_on',
    ]);
    const early = await house.send(`/shelf/pieces/${code}/pleating`, sent({ expected_on: '2020-01-01' }));
    expect(early.body.error.message).toContain('Expected back: enter the day it is sent');
    await house.page('/shelf/pleating/9').expect(404);
    expect((await list()).out).toEqual([]);
  });
});
