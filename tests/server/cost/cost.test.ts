import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { putOnTable } from '../cutting-table/tier/tier.ts';
import { makeBolt, newKey, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

/** Uses 6 of 24 hooks that cost 6.00. Gives the request's key. */
async function useHooks(code: string): Promise<string> {
  const { body } = await house.send('/supplies/new', { name: 'Hooks', kind: 'notion', measure: 'count' });
  const rows = [{ supply_id: /\d+$/.exec(body.location)?.[0], amount: '24', cost: '6.00' }];
  await house.send('/supplies/receive', { rows }).expect(200);
  const garments = house.book.db.selectFrom('garment').select('id').where('code', '=', code);
  const key = newKey();
  const use = { request_key: key, amount: '6', garment_id: String(house.book.first(garments)?.id) };
  await house.send(`${body.location}/uses`, use).expect(200);
  return key;
}

const cost = async (code: string) => (await house.data(`/garments/${code}/cost`).expect(200)).body;

describe('the cost of a garment', () => {
  // The tier takes three strips of the usable width and 32 cm: three drops, 0.96 m of fresh cloth.
  it('goes from planned to committed to spent, and says what of it is left', async () => {
    const { stock, tierId, code } = putOnTable(house);
    expect(await cost(code)).toMatchObject({
      budget: '',
      sums: { planned: '€0.00', unpriced: 1, spent: '€0.00' },
    });

    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '10 m', 5000));
    expect(await cost(code)).toMatchObject({ sums: { planned: '€4.80', unpriced: 0, committed: '€0.00' } });

    const path = `/cutting-table/${code}/${tierId}`;
    await house.submit(`${path}/holds`, { piece: bolt.code, length: '0.96' }).expect(303);
    expect(await cost(code)).toMatchObject({ sums: { committed: '€4.80', spent: '€0.00' } });
  });

  it('stands once a piece that was held is cut up whole', async () => {
    const { stock, tierId, code } = putOnTable(house);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '0.96 m', 480));
    const path = `/cutting-table/${code}/${tierId}`;
    await house.submit(`${path}/holds`, { piece: bolt.code, length: '0.96' }).expect(303);
    await house.submit(`${path}/cuts`, { piece: bolt.code, strips: '3' }).expect(303);
    const { sums } = await cost(code);
    expect(sums).toMatchObject({ committed: '€0.00', spent: '€4.80', left: '€0.00' });
  });

  it('stands against its budget, whose history stays', async () => {
    const { stock, code } = putOnTable(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m', 5000));
    await house.submit(`/garments/${code}/budgets`, { budget: '4.00' }).expect(303);
    expect(await cost(code)).toMatchObject({ isOver: true, against: '€0.80 over the budget' });
    await house.submit(`/garments/${code}/budgets`, { budget: '6' }).expect(303);
    expect(await cost(code)).toMatchObject({ isOver: false, against: '€1.20 under the budget' });
    // Supplies that were used for it count too, until that is undone.
    const key = await useHooks(code);
    expect(await cost(code)).toMatchObject({
      isOver: true,
      against: '€0.30 over the budget',
      together: '€6.30',
      // 4.80 + 1.50 = 6.30
      comesTo: [
        { what: 'cloth still to take', amount: '€4.80' },
        { what: 'supplies used and held', amount: '€1.50' },
      ],
      supplies: { cost: '€1.50', rows: [{ name: 'Hooks', used: '6 pieces', cost: '€1.50' }] },
    });
    expect((await house.page(`/garments/${code}/cost`)).text).toContain(
      'Dyes and chemicals are in the cost of the cloth they dyed',
    );
    await house.send('/undo', { undoes: key }).expect(200);
    expect(await cost(code)).toMatchObject({ isOver: false, supplies: { rows: [] } });
    expect(house.book.all(house.book.db.selectFrom('garment_budget').select('budget_minor'))).toHaveLength(2);
    const refused = await house.submit(`/garments/${code}/budgets`, { budget: '1,500' }).expect(422);
    expect(refused.text).toContain('value="1,500"');
    await house.page('/garments/none/cost').expect(404);
  });
});

describe('what the cost of a garment is made of', () => {
  /** 10 m at €5.00 for the tier's cloth, with cut fees of 3.00, freight of 7.00 and 20 % tax: 72.00 in all. */
  async function receive(of: { clothId: number; shadeId: number }, tax_is: string): Promise<void> {
    await house.send('/orders/suppliers', { name: 'Copper Sheers' }).expect(200);
    const line = { cloth_id: String(of.clothId), shade_id: String(of.shadeId), length: '10', price: '5' };
    await house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines: [line] }).expect(200);
    await house.send('/orders/P1/sendings', {}).expect(200);
    const { body } = await house.data('/orders/P1/receipts').expect(200);
    const pieces = [{ line_id: String(body.lines[0].id), length: '10' }];
    const onTop = { cut_fees: '3', freight: '7', tax: '20', tax_is };
    await house.send('/orders/P1/receipts', { ...onTop, pieces }).expect(200);
  }

  it('is told apart, each part to the cent, and adds up to what was spent', async () => {
    const { stock, tierId, code } = putOnTable(house);
    await receive(stock, 'cost');
    const path = `/cutting-table/${code}/${tierId}`;
    await house.submit(`${path}/holds`, { piece: 'B1', length: '0.96' }).expect(303);
    // 0.96 of 10 m are 6.91 of 72.00. By 5000 : 300 : 700 : 1200 that is 4.799, 0.288, 0.672 and 1.152, and the cent that
    // is left goes to the largest remainder.
    const parts = [
      ['Cloth', '€4.80'],
      ['Cut fees', '€0.29'],
      ['Freight', '€0.67'],
      ['Tax', '€1.15'],
    ];
    const held = await cost(code);
    expect(held.sums).toMatchObject({ committed: '€6.91', madeOf: { held: '€6.91', spent: '€0.00' } });
    const rowsOf = (made: { rows: { name: string; held: string; spent: string; both: string }[] }) =>
      made.rows;
    expect(rowsOf(held.sums.madeOf).map(({ name, held: minor }) => [name, minor])).toEqual(parts);
    await house.submit(`${path}/cuts`, { piece: 'B1', strips: '3' }).expect(303);
    const { sums } = await cost(code);
    expect(sums.madeOf).toMatchObject({ spent: sums.spent, held: '€0.00', both: sums.spent });
    expect(rowsOf(sums.madeOf).map(({ name, spent }) => [name, spent])).toEqual(parts);
    const page = await house.page(`/garments/${code}/cost`).expect(200);
    expect(page.text).toContain('What the cloth’s cost is made of');
    const { body: spend } = await house.data('/orders/spend').expect(200);
    expect(spend.months.at(-1)).toMatchObject({
      cloth: '€72.00',
      parts: { cloth: '€50.00', fees: '€3.00', freight: '€7.00', tax: '€12.00', reclaimed: '' },
    });
    expect((await house.page('/orders/spend')).text).toContain('What came, by parts');
  });

  it('has no tax in it that is reclaimed, which the months tell', async () => {
    const { stock, code } = putOnTable(house);
    await receive(stock, 'reclaimed');
    const { body: spend } = await house.data('/orders/spend').expect(200);
    expect(spend.months.at(-1)).toMatchObject({
      cloth: '€60.00',
      parts: { cloth: '€50.00', tax: '', reclaimed: '€12.00' },
    });
    expect((await cost(code)).sums).toMatchObject({ madeOf: null });
  });
});

describe('the value of the shelf', () => {
  it('is empty, then told by cloth and shade with its pieces counted', async () => {
    expect((await house.page('/shelf/value').expect(200)).text).toContain('Nothing lies on the shelf.');
    const { stock } = putOnTable(house);
    house.write((tx) => {
      makeBolt(tx, stock.lotId, '10 m', 5000);
      makeBolt(tx, stock.lotId, '2 m', 0);
    });
    const { body } = await house.data('/shelf/value').expect(200);
    expect(body).toMatchObject({ total: '€50.00', pieces: 2, unpriced: 1 });
    expect(body.rows).toMatchObject([{ value: '€50.00', length: '12 m in 2 pieces', bar: 400 }]);
  });
});

describe('what the months cost', () => {
  it('tells of a supplier to whom more went back than came, without a bar', async () => {
    let now = new Date('2026-03-02T12:00:00.000Z');
    const own = await openTestHouse(() => now);
    const { stock } = putOnTable(own);
    const bolt = own.write((tx) => makeBolt(tx, stock.lotId, '10 m', 5000));
    // It came longer ago than the twelve months that are told.
    now = new Date('2027-06-01T12:00:00.000Z');
    await own.send(`/shelf/pieces/${bolt.code}/returns`, { length: '4', why: 'flaw' }).expect(200);
    const { body } = await own.data('/orders/spend').expect(200);
    await own.shut();
    expect(body.suppliers).toMatchObject([{ totalMinor: -2000, bar: { stretches: [] } }]);
  });

  it('counts what came and stands, not what was undone', async () => {
    const { stock } = putOnTable(house);
    const key = 'spend-undone-key';
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m', 5000));
    house.book.write({ key, asked: null, personId: 1 }, (tx) => {
      makeBolt(tx, stock.lotId, '10 m', 9900);
      return { location: '/', said: 'Done.' };
    });
    await house.submit('/undo', { undoes: key }).expect(303);
    // 24 hooks for 6.00, and 24 more whose coming is undone.
    const { body: hooks } = await house.send('/supplies/new', {
      name: 'Hooks',
      kind: 'notion',
      measure: 'count',
    });
    const came = { rows: [{ supply_id: /\d+$/.exec(hooks.location)?.[0], amount: '24', cost: '6.00' }] };
    await house.send('/supplies/receive', came).expect(200);
    const mistaken = newKey();
    await house.send('/supplies/receive', { ...came, request_key: mistaken }).expect(200);
    await house.send('/undo', { undoes: mistaken }).expect(200);
    const { body } = await house.data('/orders/spend').expect(200);
    expect(body).toMatchObject({ total: '€50.00', most: '€50.00' });
    expect(body.months).toHaveLength(12);
    expect(body.months.at(-1)).toMatchObject({
      month: '2026-03',
      name: 'Mar 2026',
      cloth: '€50.00',
      spent: '€50.00',
      supplies: '€6.00',
    });
    expect(body.months[0].month).toBe('2025-04');
    // Neither names a supplier. On one scale the hooks are 6 of 56 of the bar: 42.86 of 400.
    expect(body.suppliers).toMatchObject([
      { name: 'No supplier given', cloth: '€50.00', supplies: '€6.00', total: '€56.00', href: null },
    ]);
    expect(body.suppliers[0].bar).toMatchObject({
      said: 'No supplier given: €50.00 of cloth, €6.00 of supplies',
      stretches: [
        { fill: 'solid', x: 0 },
        { fill: 'hatched', width: 42.86 },
      ],
    });
    expect(body.kinds).toMatchObject([
      { name: 'Cloth', total: '€50.00', bar: { stretches: [{ width: 400 }] } },
      { name: 'Notions', total: '€6.00', bar: { stretches: [{ width: 48 }] } },
    ]);
  });
});
