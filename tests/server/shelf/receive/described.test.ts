import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { furnish, rows } from '../furnished.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const CLOTH = {
  name: 'Silk organza 110',
  construction: 'organza',
  fibres: '70 % silk, nylon 30 %',
  width: '112',
  usable_width: '110',
  mass_per_area: '28',
};

/** Rows of a list as a form sends them. */
const listed = (list: string, ...each: Record<string, string>[]) =>
  Object.fromEntries(
    each.flatMap((row, at) => Object.entries(row).map(([name, text]) => [`${list}.${at}.${name}`, text])),
  );

const DELIVERY = {
  new_supplier: 'Wharf mill',
  ...listed('new_cloths', CLOTH),
  ...listed('new_shades', { name: 'Natural', ground: 'yes' }, { name: 'Moss', ground: '', hex: '#4a6b3a' }),
  ...rows(
    { cloth_id: '-1', shade_id: '-1', mill_lot: '7', length: '20; 25', price: '90' },
    { cloth_id: '-1', shade_id: '-2', mill_lot: '8', length: '12', price: '60' },
  ),
};

describe('a delivery into an empty book', () => {
  it('draws what is new open beside its rows', async () => {
    const { text } = await house.page('/shelf/receive').expect(200);
    expect(text).toMatch(/<details[^>]*id="new" open>/);
    expect(text).toContain('name="pieces.0.length"');
    expect(text).toContain('<option value="-1">New cloth 1</option>');
    await furnish(house);
    expect((await house.page('/shelf/receive').expect(200)).text).toMatch(/<details[^>]*id="new">/);
  });

  it('is checked by the names that it describes, and writes nothing yet', async () => {
    const { text } = await house.submit('/shelf/receive', { ...DELIVERY, step: 'check' }).expect(200);
    expect(text).toContain('<dd>Wharf mill</dd>');
    expect(text).toContain('Silk organza 110');
    expect(text).toMatch(/Moss[\s\S]*12 m in 1 piece/);
    expect((await house.data('/shelf/cloths')).body.cloths).toEqual([]);
    const again = await house.submit('/shelf/receive', { ...DELIVERY, step: 'edit' }).expect(200);
    expect(again.text).toMatch(/<option value="-1" selected>New cloth 1: Silk organza 110<\/option>/);
    expect(again.text).toMatch(/<option value="-2" selected>New shade 2: Moss<\/option>/);
  });

  it('puts supplier, cloth, shades and pieces in the book at once', async () => {
    const sent = await house.submit('/shelf/receipts', DELIVERY).expect(303);
    const { text } = await house.page(sent.headers.location ?? '').expect(200);
    expect(text).toContain('New in the book: Wharf mill, Silk organza 110, Natural and Moss.');
    const { body } = await house.data('/shelf/pieces/B2').expect(200);
    expect(body.piece).toMatchObject({ onHand: '25 m', usableWidth: '110 cm', cloth: { name: CLOTH.name } });
    const { cloth } = (await house.data('/shelf/cloths/1').expect(200)).body;
    expect(cloth).toMatchObject({
      content: [
        { fibre: 'silk', shareBp: 7000 },
        { fibre: 'nylon', shareBp: 3000 },
      ],
      widthTicks: 112 * 1600,
      supplierId: 1,
    });
    const { shades } = (await house.data('/shelf/shades').expect(200)).body;
    expect(
      shades.map(({ chip, ground }: { chip: { name: string }; ground: boolean }) => [chip.name, ground]),
    ).toEqual([
      ['Natural', true],
      ['Moss', false],
    ]);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('sent twice puts everything there once', async () => {
    const once = { ...DELIVERY, request_key: '6b0e8f40-6f2e-4d0c-9a53-3c1b5f0a9d11' };
    for (let time = 0; time < 2; time += 1) await house.submit('/shelf/receipts', once).expect(303);
    expect((await house.data('/shelf/cloths')).body.cloths).toHaveLength(1);
  });
});

describe('what is wrong with what is new', () => {
  const refused = async (fields: Record<string, string>) => {
    const answer = await house.send('/shelf/receipts', { ...DELIVERY, ...fields }).expect(422);
    expect(
      (await house.data('/shelf/cloths')).body.cloths.map(({ name }: { name: string }) => name),
    ).not.toContain(CLOTH.name);
    return answer.body.error.problems;
  };

  it('is told at its field, and nothing is written', async () => {
    expect(await refused({ 'new_cloths.0.fibres': 'nylon, silk' })).toEqual([
      { field: 'new_cloths.0.fibres', message: 'Give the percentage of each fibre.' },
    ]);
    expect(await refused({ 'new_cloths.0.fibres': '' })).toEqual([
      { field: 'new_cloths.0.fibres', message: 'Enter the fibres, such as nylon.' },
    ]);
    expect(await refused({ 'new_cloths.0.usable_width': '120' })).toMatchObject([
      { field: 'new_cloths.0.usable_width' },
    ]);
    expect(await refused({ 'pieces.1.shade_id': '-3' })).toEqual([
      { field: 'pieces.1.shade_id', message: 'Name new shade 3 above, or choose another.' },
    ]);
    expect(await refused({ 'pieces.0.cloth_id': '-2' })).toEqual([
      { field: 'pieces.0.cloth_id', message: 'Describe new cloth 2 above, or choose another.' },
    ]);
    expect(await refused({ 'new_shades.1.name': ' natural' })).toEqual([
      { field: 'new_shades.1.name', message: 'Two rows have this name: give each its own.' },
    ]);
  });

  it('is a name that the book has already, where it is checked and where it is put on the shelf', async () => {
    const ids = await furnish(house);
    const fields = { ...DELIVERY, new_supplier: 'weaver', 'new_cloths.0.name': 'soft net' };
    const told = [
      { field: 'new_supplier', message: 'There is a supplier Weaver already: choose it instead.' },
      { field: 'new_cloths.0.name', message: 'There is a cloth Soft net already: choose it instead.' },
      { field: 'new_shades.1.name', message: 'There is a shade Moss already: choose it instead.' },
    ];
    expect(await refused(fields)).toEqual(told);
    const checked = await house.send('/shelf/receive', { ...fields, step: 'check' }).expect(422);
    expect(checked.body.error.problems).toEqual(told);
    expect(await refused({ supplier_id: ids.supplier })).toEqual([
      { field: 'new_supplier', message: 'Choose a supplier or name a new one, not both.' },
    ]);
  });
});
