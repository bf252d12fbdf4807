import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readGarment } from '../../../../server/garments/garment/records.ts';
import { stripRowsOf } from '../../../../server/garments/garment/strip-rows.ts';
import { checkBalances, checkBook } from '../../../../server/ledger/check.ts';
import { needsAfresh, readNeeds } from '../../../../server/short/queries.ts';
import { makeBolt, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { makeGarment, makeTierOf, pageOf, stockOf } from '../making.ts';

let house: TestHouse;
let stock: Stock;
let other: Stock;
let code: string;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  other = stockOf(house);
  code = await makeGarment(house);
  await makeTierOf(house, code, stock);
});
afterEach(() => house.shut());

const BAND = { name: 'Band', pieces: '1', unit: 'cm', waist: '70', laps: '5', finished: '4', seam: '1' };
const FACED = { ...BAND, faced: 'yes', interfaced: 'yes' };
const keep = (kind: string, fields: object, status = 200) =>
  house.send(`/garments/${code}/parts/new/${kind}`, fields).expect(status);
const data = async (path: string) => (await house.data(path).expect(200)).body;
const partOf = async (name = 'Band') =>
  (await pageOf(house, code)).parts.rows.find((row) => row.name === name);
const clothName = () =>
  house.book.first(house.book.db.selectFrom('cloth').select('name').where('id', '=', other.clothId))?.name ??
  '';
const cutsOf = async (name = 'Band') => (await partOf(name))?.cuts.map(({ of, text }) => [of, text]);
const change = async (fields: object, name = 'Band') =>
  house.send((await partOf(name))?.href ?? '', fields).expect(200);

describe('a part of several sizes', () => {
  it('is cut size by size, each of its own cloth where it was given one', async () => {
    // 70 + 5 and two seams long; folded 2 × 4 and two seams deep, faced 4 and two seams.
    await keep('closing', BAND);
    expect(await cutsOf()).toEqual([['', '1 of 10 cm × 77 cm']]);
    const cloth = {
      interfacing_cloth_id: String(other.clothId),
      interfacing_shade_id: String(other.shadeId),
    };
    await change({ ...FACED, ...cloth, opening: '25', lap_width: '9', underlap_width: '6' });
    const named = clothName();
    expect(await cutsOf()).toEqual([
      ['', '1 of 6 cm × 77 cm'],
      ['facing', '1 of 6 cm × 77 cm'],
      ['interfacing', `1 of 6 cm × 77 cm, ${named}`],
      // Twice the opening, and an inch more than it.
      ['lap strip', '1 of 9 cm × 50 cm'],
      ['underlap', '1 of 6 cm × ≈ 27.5 cm'],
    ]);
    const { needs } = await pageOf(house, code);
    // Two strips of the tier and four pieces; one of the other cloth.
    expect(needs.map(({ strips }) => strips)).toEqual([6, 1]);
    const [line] = (await data('/short')).short;
    expect(line.shares[0].tiers.map(({ name }: { name: string }) => name)).toEqual([
      'Tier 1',
      'Band',
      'Band, facing',
      'Band, lap strip',
      'Band, underlap',
    ]);
    const form = await data((await partOf())?.href ?? '');
    expect(form.tables).toHaveLength(5);
    expect(form.cloths[0]).toMatchObject({ label: 'Cloth of the facing', value: '' });
    expect(form.cloths[2]).toMatchObject({ value: String(other.clothId) });
    expect(readNeeds(house.book)).toEqual(needsAfresh(house.book));
  });

  it('is held, cut, paid and undone by the size, and stays while one of them is held', async () => {
    await keep('closing', FACED);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '5 m', 5000));
    const facing = (await partOf())?.cuts[1];
    await house.send(`${facing?.href}/holds`, { piece: bolt.code, length: '6 cm' }).expect(200);
    expect((await partOf())?.cuts.map(({ done }) => done)).toEqual(['', '0.06 m held', '']);
    expect((await house.page(`/shelf/pieces/${bolt.code}`)).text).toContain(`Band, facing of ${code}`);
    const out = await house.send(`${(await partOf())?.href}/taken-out`, {}).expect(409);
    expect(out.body.error.message).toBe(`Cloth is held for Band, facing: ${bolt.code}. Release it first.`);
    await house.send(`${facing?.href}/cuts`, { piece: bolt.code, strips: '1' }).expect(200);
    expect((await partOf())?.cuts.map(({ done }) => done)).toEqual(['', 'all cut', '']);
    // 6 cm of 5 m for €50.00.
    expect((await data(`/garments/${code}/cost`)).sums.spent).toBe('€0.60');

    // What is no longer asked for is told where it was cut, and comes back with it.
    await change(BAND);
    expect(await cutsOf()).toEqual([['', '1 of 10 cm × 77 cm']]);
    const table = await data(facing?.href ?? '');
    expect(table.closed).toBe('Band, facing is not cut of cloth as it was asked for: change the part.');
    await change(FACED);
    expect((await partOf())?.cuts.map(({ done }) => done)).toEqual(['', 'all cut', '']);
    const { requestKey } = (await data(facing?.href ?? '')).cutsDone[0].entry;
    await house.send('/undo', { undoes: requestKey }).expect(200);
    expect((await partOf())?.cuts[1]?.done).toBe('0.06 m held');
    expect(checkBalances(house.book)).toEqual([]);
  });

  it('leaves the labels of others where a size is added, is copied, renamed and compared', async () => {
    await keep('closing', BAND);
    await keep('layer', { name: 'Lining', pieces: '1', unit: 'cm', cut_depth: '40', widths: '2' });
    await change({ ...FACED, facing_cloth_id: String(other.clothId) });
    const named = clothName();
    const compared = await data(`/garments/${code}/versions/compare?from=4&to=5`);
    expect(JSON.stringify(compared.changes)).toContain('Cloth of the facing');
    expect(JSON.stringify(compared.changes)).toContain(named);
    const labels = stripRowsOf(readGarment(house.book, code)).map(({ label, name }) => [label, name]);
    expect(labels.slice(1)).toEqual([
      ['p1', 'Band'],
      ['p1.2', 'Band, facing'],
      ['p1.3', 'Band, interfacing'],
      ['p2', 'Lining'],
    ]);
    await change({ ...FACED, name: 'Waistband', facing_cloth_id: String(other.clothId) });
    const { location } = (await house.send(`/garments/${code}/copies`, { name: 'Again' }).expect(200)).body;
    const copy = await data(location.split('?')[0]);
    expect(copy.parts.rows[0].cuts.map(({ of }: { of: string }) => of)).toEqual([
      '',
      'facing',
      'interfacing',
    ]);
    const rows = house.book.all(house.book.db.selectFrom('tier').select('name').orderBy('id'));
    expect(rows.map(({ name }) => name)).toContain('Waistband, interfacing');
    expect(rows.map(({ name }) => name)).not.toContain('Band, facing');
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('has its lap strip counted once, as cloth, where the garment opens by itself', async () => {
    const garment = await data(`/garments/${code}/edit`);
    expect(garment.fields.opening.label).toBeTruthy();
    await keep('closing', { ...BAND, opening: '25', spacing: '5' });
    expect((await pageOf(house, code)).parts.wants.map(({ what }) => what)).toContain('Lap strip');
    await change({ ...BAND, opening: '25', spacing: '5', lap_width: '9' });
    expect((await pageOf(house, code)).parts.wants.map(({ what }) => what)).not.toContain('Lap strip');
  });

  it('refuses a strip without its opening and a facing of what is bought', async () => {
    const { body } = await keep('closing', { ...BAND, lap_width: '9' }, 422);
    expect(body.error.problems).toMatchObject([{ field: 'opening' }]);
    const bought = await keep('closing', { ...BAND, bought: 'yes', faced: 'yes' }, 422);
    expect(bought.body.error.problems).toMatchObject([{ field: 'faced' }]);
    const cloth = await keep('closing', { ...FACED, facing_cloth_id: '99' }, 422);
    expect(cloth.body.error.problems).toMatchObject([{ field: 'facing_cloth_id' }]);
  });
});

describe('the lengths that a part is cut from', () => {
  it('are of one size and a last one, of bias as of sections and repeats', async () => {
    const bias = {
      name: 'Binding',
      pieces: '1',
      unit: 'cm',
      cut: '10',
      length: '30 m',
      width: '145',
      join: '1',
    };
    await keep('bias', { ...bias, each: '6' });
    expect(await cutsOf('Binding')).toEqual([
      ['', '2 of ≈ 229.9 cm × 145 cm'],
      ['last length', '1 of ≈ 187.5 cm × 145 cm'],
    ]);
    await change({ ...bias, each: '5' }, 'Binding');
    expect(await cutsOf('Binding')).toEqual([['', '3 of ≈ 215.8 cm × 145 cm']]);
    const repeat = {
      name: 'Curtain',
      pieces: '2',
      unit: 'cm',
      height: '240',
      repeat: '37',
      count: '7',
      each: '3',
    };
    await keep('repeat', repeat);
    expect(await cutsOf('Curtain')).toEqual([
      ['', '4 of 758 cm × 147 cm'],
      ['last length', '2 of 240 cm × 147 cm'],
    ]);
    const flounce = {
      name: 'Flounce',
      pieces: '1',
      unit: 'cm',
      seam: '300',
      depth: '25',
      circles: '3',
      sectors: '2',
      rows_each: '4',
    };
    await keep('flounce', flounce);
    const [full, last] = (await cutsOf('Flounce')) ?? [];
    expect(full?.[1]).toMatch(/^1 of /);
    expect(last).toEqual(['last length', expect.stringMatching(/^1 of /)]);
  });

  it('follow the cloth where no width is typed: a wash test changes the strips', async () => {
    const bias = { name: 'Binding', pieces: '1', unit: 'cm', cut: '10', length: '30 m', join: '1' };
    await keep('bias', bias);
    // (147 − 2) × √2 is 205.06 cm a strip: 15.
    expect(await cutsOf('Binding')).toEqual([['', '1 of ≈ 359.2 cm × 147 cm']]);
    await keep('layer', { name: 'Net', pieces: '1', unit: 'cm', cut_depth: '20', flat: '1440', join: '3' });
    expect(await cutsOf('Net')).toEqual([['', '10 of 20 cm × 147 cm']]);
    const test = {
      treatment: 'Wash',
      from: '147',
      length_before: '35',
      length_after: '35',
      width_before: '35',
      width_after: '33.25',
      follow: 'yes',
    };
    await house.send(`/shelf/cloths/${stock.clothId}/wash-tests`, test).expect(200);
    // 5 % narrower: 139.65 cm, (139.65 − 2) × √2 is 194.67 cm a strip: 16; 1440 ÷ 136.65: 11.
    expect(await cutsOf('Binding')).toEqual([['', '1 of ≈ 366 cm × ≈ 139.6 cm']]);
    expect(await cutsOf('Net')).toEqual([['', '11 of 20 cm × ≈ 139.6 cm']]);
    expect(readNeeds(house.book)).toEqual(needsAfresh(house.book));
  });
});
