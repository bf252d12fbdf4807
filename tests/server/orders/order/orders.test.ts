import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { length, makeStock, newKey, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;
let supplierId: string;

beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  await house.submit('/orders/suppliers', { name: 'Harbour Cloth', lead_days: '5', note: '' }).expect(303);
  const { body } = await house.data('/orders/suppliers');
  supplierId = String(body.suppliers[0].id);
});
afterEach(() => house.shut());

function lines(...given: { length: string; price?: string }[]): Record<string, string> {
  return Object.fromEntries(
    given.flatMap(({ length: typed, price = '' }, index) => [
      [`lines.${index}.cloth_id`, String(stock.clothId)],
      [`lines.${index}.shade_id`, String(stock.shadeId)],
      [`lines.${index}.length`, typed],
      [`lines.${index}.price`, price],
    ]),
  );
}

function draft(...given: { length: string; price?: string }[]) {
  const head = {
    supplier_id: supplierId,
    expected_on: '2026-03-20',
    note: 'Same dye lot, please',
    price_per: 'm',
  };
  return house.submit('/orders/new', { ...head, ...lines(...given) });
}

async function sent(...given: { length: string; price?: string }[]): Promise<number[]> {
  await draft(...given).expect(303);
  await house.submit('/orders/P1/sendings', {}).expect(303);
  const { body } = await house.data('/orders/P1/receipts').expect(200);
  return body.lines.map((line: { id: number }) => line.id);
}

const came = (lineId: number | undefined, fields: Record<string, string>, row = 0) =>
  Object.fromEntries(
    Object.entries({ line_id: String(lineId), ...fields }).map(([name, value]) => [
      `pieces.${row}.${name}`,
      value,
    ]),
  );

describe('drafting', () => {
  it('costs each line once: 12.5 m at 4.99 a metre is 62.38', async () => {
    await draft({ length: '12.5', price: '4.99' }, { length: '3 yd' }).expect(303);
    const { body } = await house.data('/orders/P1').expect(200);
    expect(body.state).toBe('draft');
    expect(body.lines.map((line: { ordered: string; cost: string }) => [line.ordered, line.cost])).toEqual([
      ['12.5 m', '€62.38'],
      ['3 yd (≈ 2.74 m)', ''],
    ]);
    expect(body.total).toBe('€62.38');
    expect(body.unpriced).toBe(1);
  });

  it('takes the cloth of a line from above where only its shade was chosen, and of no blank line', async () => {
    const { 'lines.0.cloth_id': _, ...second } = lines({ length: '3' });
    const below = Object.fromEntries(
      Object.entries(second).map(([name, text]) => [name.replace('.0.', '.2.'), text]),
    );
    const head = { supplier_id: supplierId, price_per: 'm', ...lines({ length: '12' }) };
    const blank = { 'lines.1.cloth_id': '', 'lines.1.shade_id': '', 'lines.1.length': '' };
    await house.submit('/orders/new', { ...head, ...blank, ...below, 'lines.2.cloth_id': '' }).expect(303);
    const { body } = await house.data('/orders/P1').expect(200);
    expect(body.lines.map(({ ordered }: { ordered: string }) => ordered)).toEqual(['12 m', '3 m']);
    const first = {
      'lines.0.cloth_id': '',
      'lines.0.shade_id': String(stock.shadeId),
      'lines.0.length': '2',
    };
    const refused = await house.send('/orders/new', { supplier_id: supplierId, price_per: 'm', ...first });
    expect(refused.body.error.problems).toMatchObject([{ field: 'lines.0.cloth_id' }]);
  });

  it('tells every problem at once and keeps what was typed', async () => {
    const refused = await draft({ length: '1,500', price: '-2' }, { length: '4 m' }).expect(422);
    expect(refused.text).toContain('1,500 can');
    expect(refused.text).toContain('cannot be negative');
    expect(refused.text).toContain('value="1,500"');
    expect(refused.text).toContain('value="4 m"');
    expect(refused.text).toContain('Same dye lot, please');
    const { body } = await house.data('/orders');
    expect(body.open).toEqual([]);
    expect(body.others).toEqual([]);
  });

  it('needs a line', async () => {
    const refused = await draft().expect(422);
    expect(refused.text).toContain('Give at least one of the lines.');
  });

  it('is changed as long as it is a draft, and shows what was typed', async () => {
    await draft({ length: '3 1/2 yd', price: '4' }).expect(303);
    const form = await house.page('/orders/P1/edit').expect(200);
    expect(form.text).toContain('value="3 1/2 yd"');
    const head = { supplier_id: supplierId, expected_on: '', note: '', price_per: 'yd' };
    await house.submit('/orders/P1/edit', { ...head, ...lines({ length: '7 yd', price: '4' }) }).expect(303);
    const { body } = await house.data('/orders/P1');
    expect(body.lines).toHaveLength(1);
    expect(body.total).toBe('€28.00');
    await house.submit('/orders/P1/sendings', {}).expect(303);
    const late = await house.submit('/orders/P1/edit', { ...head, ...lines({ length: '9 yd' }) }).expect(409);
    expect(late.text).toContain('Order P1 is sent');
  });
});

describe('receiving', () => {
  it('puts what came on the shelf as measured, at the price of the order, and awaits the rest', async () => {
    const [lineId] = await sent({ length: '30 m', price: '4.00' });
    const fields = {
      note: '',
      ...came(lineId, { length: '10.2 m', mill_lot: 'A77', usable_width: '', place_id: '', price: '' }),
      ...came(lineId, { length: '9.9', mill_lot: '', usable_width: '146', place_id: '', price: '35.00' }, 1),
      ...came(lineId, { length: '', mill_lot: '', usable_width: '', place_id: '', price: '' }, 2),
    };
    await house.submit('/orders/P1/receipts', fields).expect(303);
    const pieces = house.book.all(house.book.db.selectFrom('piece').selectAll().orderBy('id'));
    expect(pieces.map((piece) => [piece.on_hand_ticks, piece.usable_width_ticks, piece.cost_minor])).toEqual([
      [length('10.2 m'), length('147 cm'), 4080],
      [length('9.9 m'), length('146 cm'), 3500],
    ]);
    // The blank lot under a filled row is the same lot.
    expect(new Set(pieces.map((piece) => piece.lot_id)).size).toBe(1);
    const { body } = await house.data('/orders/P1');
    expect(body.state).toBe('part');
    expect(body.lines[0]).toMatchObject({ ordered: '30 m', received: '20.1 m', awaited: '9.9 m' });
  });

  it('is finished when all came, and open again when the receipt is undone', async () => {
    const [lineId] = await sent({ length: '10 m' });
    const key = newKey();
    await house
      .submit('/orders/P1/receipts', { request_key: key, note: '', ...came(lineId, { length: '10 m' }) })
      .expect(303);
    expect((await house.data('/orders/P1')).body.state).toBe('received');
    expect((await house.data('/orders')).body.open).toEqual([]);
    await house.submit('/undo', { undoes: key }).expect(303);
    const { body } = await house.data('/orders/P1');
    expect(body.state).toBe('sent');
    expect(body.receipts).toEqual([]);
  });

  it('enters a form that was sent twice once', async () => {
    const [lineId] = await sent({ length: '10 m' });
    const form = { request_key: newKey(), note: '', ...came(lineId, { length: '4 m' }) };
    await house.submit('/orders/P1/receipts', form).expect(303);
    await house.submit('/orders/P1/receipts', form).expect(303);
    expect((await house.data('/orders/P1')).body.lines[0].received).toBe('4 m');
    const other = { ...form, ...came(lineId, { length: '5 m' }) };
    const refused = await house.submit('/orders/P1/receipts', other).expect(409);
    expect(refused.text).toContain('sent before with other content');
    expect(refused.text).toContain('value="5 m"');
  });

  it('asks where more would come than was ordered, and takes it when told so', async () => {
    const [lineId] = await sent({ length: '25 m' });
    const ten = (more = {}) =>
      house.submit('/orders/P1/receipts', { note: '', ...came(lineId, { length: '10 m' }), ...more });
    await ten().expect(303);
    await ten().expect(303);
    const asked = await ten().expect(422);
    expect(asked.text).toContain('25 m were ordered and 30 m would have come: is this another delivery?');
    expect(asked.text).toMatch(/<input type="checkbox" value="yes" id="f-more"/);
    expect(asked.text).toContain('value="10 m"');
    expect((await house.data('/orders/P1')).body.lines[0].received).toBe('20 m');
    // What is cut generously is no second delivery; once all is there, anything is.
    await house.submit('/orders/P1/receipts', came(lineId, { length: '5.1 m' })).expect(303);
    await house.submit('/orders/P1/receipts', came(lineId, { length: '0.1 m' })).expect(422);
    expect((await house.data('/orders/P1')).body.lines[0].received).toBe('25.1 m');
    await ten({ more: 'yes' }).expect(303);
    expect((await house.data('/orders/P1')).body.lines[0].received).toBe('35.1 m');
  });

  it('is a conflict where somebody else received the order meanwhile', async () => {
    const [lineId] = await sent({ length: '30 m' });
    const { body: ana } = await house.data('/orders/P1/receipts').expect(200);
    const { body: ben } = await house.data('/orders/P1/receipts').expect(200);
    const ten = (deliveries: number) =>
      house.submit('/orders/P1/receipts', {
        deliveries: String(deliveries),
        ...came(lineId, { length: '10' }),
      });
    await ten(ana.deliveries).expect(303);
    const refused = await ten(ben.deliveries).expect(409);
    expect(refused.text).toMatch(
      /A delivery of order P1 was received by Maker, .* after this form was opened/,
    );
    expect(refused.text).toMatch(
      /name="pieces.0.length"[^>]*value="10"|value="10"[^>]*name="pieces.0.length"/,
    );
    expect(refused.text).toContain('20 m awaited');
    expect((await house.data('/orders/P1')).body.lines[0].received).toBe('10 m');
    const [, now = ''] = /name="deliveries" value="(\d+)"/.exec(refused.text) ?? [];
    await ten(Number(now)).expect(303);
    expect((await house.data('/orders/P1')).body.lines[0].received).toBe('20 m');
  });

  it('needs a piece, and a draft receives nothing', async () => {
    const [lineId] = await sent({ length: '10 m' });
    const empty = { note: '', ...came(lineId, { length: '', mill_lot: '' }) };
    expect((await house.submit('/orders/P1/receipts', empty).expect(422)).text).toContain(
      'Give at least one of the pieces.',
    );
    const wrong = { note: '', ...came(lineId, { length: 'ten', mill_lot: 'B9' }) };
    const refused = await house.submit('/orders/P1/receipts', wrong).expect(422);
    expect(refused.text).toContain('value="ten"');
    expect(refused.text).toContain('value="B9"');
    await draft({ length: '2 m' }).expect(303);
    await house.data('/orders/P2/receipts').expect(409);
  });

  it('has rows under every line of a long order, each with a name of its own, and keeps those that were sent', async () => {
    const ids = await sent(...Array.from({ length: 40 }, () => ({ length: '2 m' })));
    const names = (page: { lines: { rows: { length: { name: string } }[] }[] }) =>
      page.lines.flatMap(({ rows }) => rows.map(({ length: { name } }) => name));
    const { body } = await house.data('/orders/P1/receipts').expect(200);
    expect(new Set(names(body)).size).toBe(120);
    const pieces = [{ line_id: String(ids[1]), length: 'x' }];
    const { body: refused } = await house.send('/orders/P1/receipts', { pieces }).expect(422);
    expect(refused.page.lines[1].rows).toMatchObject([{ length: { name: 'pieces.0.length', value: 'x' } }]);
    expect(new Set(names(refused.page)).size).toBe(118);
  });
});

describe('the life of an order', () => {
  it('is cancelled only while nothing came, and can be taken up again', async () => {
    const [lineId] = await sent({ length: '10 m' });
    await house.submit('/orders/P1/cancellings', {}).expect(303);
    expect((await house.data('/orders/P1')).body.stateWords).toBe('Cancelled');
    await house.submit('/orders/P1/reopenings', {}).expect(303);
    await house.submit('/orders/P1/receipts', { note: '', ...came(lineId, { length: '4 m' }) }).expect(303);
    const refused = await house.submit('/orders/P1/cancellings', {}).expect(409);
    expect(refused.text).toContain('Order P1 is part received');
    await house.submit('/orders/P1/closings', {}).expect(303);
    expect((await house.data('/orders')).body.open).toEqual([]);
  });

  it('knows no order that is not there', async () => {
    await house.page('/orders/P99').expect(404);
    await house.page('/orders/suppliers/99').expect(404);
  });

  it('is late when its day has gone by, in Orders, on Today and in itself', async () => {
    await sent({ length: '10 m' });
    const open = async () => (await house.data('/orders')).body.open[0];
    expect(await open()).toMatchObject({ code: 'P1', late: false, awaited: '10 m' });
    house.write((tx) => {
      tx.run(tx.db.updateTable('order').set({ expected_on: '2026-02-27' }));
      return null;
    });
    expect(await open()).toMatchObject({ expected: '27 Feb 2026', late: true });
    for (const path of ['/orders', '/orders/P1', '/']) {
      const page = await house.page(path).expect(200);
      expect(page.text).toContain('27 Feb 2026');
      expect(page.text).toContain('<b class="late">late');
    }
    await house.submit('/orders/P1/cancellings', {}).expect(303);
    expect((await house.data('/orders')).body.others).toMatchObject([{ late: false, awaited: '' }]);
  });

  it('awaits lines where its lengths are no length together', async () => {
    const other = house.write((tx) => makeStock(tx));
    const two = {
      ...lines({ length: '10 m' }, { length: '4 m' }, { length: '3 m' }),
      'lines.2.cloth_id': String(other.clothId),
    };
    const head = { supplier_id: supplierId, price_per: 'm' };
    await house.submit('/orders/new', { ...head, ...two }).expect(303);
    await house.submit('/orders/P1/sendings', {}).expect(303);
    const awaited = async () => (await house.data('/orders')).body.open[0].awaited;
    expect(await awaited()).toBe('3 of 3 lines');
    const { body } = await house.data('/orders/P1/receipts').expect(200);
    await house
      .submit('/orders/P1/receipts', { note: '', ...came(body.lines[2].id, { length: '3 m' }) })
      .expect(303);
    expect(await awaited()).toBe('14 m');
  });
});

describe('suppliers', () => {
  it('are on the list once', async () => {
    const refused = await house.submit('/orders/suppliers', {
      name: 'Harbour Cloth',
      lead_days: 'x',
      note: 'n',
    });
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('value="x"');
    const same = await house.submit('/orders/suppliers', { name: 'Harbour Cloth', lead_days: '', note: '' });
    expect(same.text).toContain('There is a supplier Harbour Cloth already.');
  });

  it('are changed', async () => {
    const change = { name: 'Harbour Cloth & Co', lead_days: '1', note: 'Shut in August' };
    await house.submit(`/orders/suppliers/${supplierId}`, change).expect(303);
    const { body } = await house.data('/orders/suppliers');
    expect(body.suppliers[0]).toMatchObject({
      name: 'Harbour Cloth & Co',
      leadDays: '1 day',
      note: 'Shut in August',
    });
  });
});
