import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { needsAfresh, readNeeds } from '../../../../server/short/queries.ts';
import { length, makeBolt, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { makeGarment, makeTierOf, pageOf, stockOf } from '../making.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house);
});
afterEach(() => house.shut());

const data = async (path: string) => (await house.data(path).expect(200)).body;
const FIELDS = {
  name: 'Printed lawn',
  construction: 'lawn',
  width: '150',
  usable_width: '147',
  fibres: [{ fibre: 'nylon', share: '100' }],
};
const describeCloth = (more: object, status = 200) =>
  house.send(`/shelf/cloths/${stock.clothId}/edit`, { ...FIELDS, ...more }).expect(status);
const sizes = async () => {
  const [line] = (await data('/short')).short;
  return line.shares[0].tiers.map(({ size }: { size: string }) => size);
};

describe('a cloth with a pattern', () => {
  it('gives tiers and parts whole repeats, in what is short, held and cut, and old versions as they stood', async () => {
    await makeTierOf(house, code, stock);
    await house
      .send(`/garments/${code}/parts/new/layer`, {
        name: 'Lining',
        pieces: '1',
        unit: 'cm',
        cut_depth: '40',
        widths: '2',
      })
      .expect(200);
    expect(await sizes()).toEqual(['30 cm × 147 cm', '40 cm × 147 cm']);
    await describeCloth({ repeat: '27', half_drop: 'yes' });
    expect((await data(`/shelf/cloths/${stock.clothId}`)).cutIn).toContain(
      'in whole repeats of 27 cm, half-drop',
    );
    // 30 cm are two repeats, and so are 40.
    expect(await sizes()).toEqual(['54 cm × 147 cm', '54 cm × 147 cm']);
    expect((await pageOf(house, code)).needs).toMatchObject([{ strips: 4, length: '2.16 m' }]);
    expect(readNeeds(house.book)).toEqual(needsAfresh(house.book));
    const tier = house.book.first(house.book.db.selectFrom('tier').select('id').orderBy('id'));
    const table = `/cutting-table/${code}/${tier?.id}`;
    const page = await house.page(table).expect(200);
    expect(page.text).toContain('repeats every 27 cm');
    expect(page.text).toContain('Half-drop');
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '5 m', 5000));
    await house.send(`${table}/cuts`, { piece: bolt.code, strips: '1' }).expect(200);
    const piece = house.book.first(
      house.book.db.selectFrom('piece').select('on_hand_ticks').where('code', '=', bolt.code),
    );
    expect(piece?.on_hand_ticks).toBe(length('5 m') - length('54 cm'));
    const compared = await data(`/garments/${code}/versions/compare?from=2&to=${code}`);
    expect(compared.needs ?? compared.changes).toBeTruthy();
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('that has a way is never turned, and a half-drop asks for its repeat', async () => {
    const { body } = await describeCloth({ half_drop: 'yes' }, 422);
    expect(body.error.problems).toMatchObject([{ field: 'repeat' }]);
    const piece = { name: 'Facing', pieces: '1', unit: 'cm', cut_depth: '60', length: '100', count: '2' };
    await house
      .send(`/garments/${code}/parts/new/layer`, {
        ...piece,
        cloth_id: String(stock.clothId),
        shade_id: String(stock.shadeId),
      })
      .expect(200);
    // Two of 60 × 100 cm lie beside each other, turned: 100 cm of cloth; with a way they lie across, 120 cm.
    expect((await pageOf(house, code)).needs[0]?.length).toBe('1 m');
    await describeCloth({ one_way: 'yes' });
    expect((await data(`/shelf/cloths/${stock.clothId}`)).cutIn).toContain('one way');
    expect((await pageOf(house, code)).needs[0]?.length).toBe('1.2 m');
    const form = await data(`/shelf/cloths/${stock.clothId}/edit`);
    expect([form.fields.one_way.checked, form.fields.repeat.value]).toEqual([true, '']);
  });
});
