import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../server/ledger/check.ts';
import { holdLays } from '../server/cutting-table/lay/hold-lays.ts';
import { addTierLike, putOnTable } from '../server/cutting-table/tier/tier.ts';
import { furnish, plan } from '../server/dye-bench/recipe/making.ts';
import { length, makeBolt, makeStock, newKey, openTestHouse, type TestHouse } from '../server/support.ts';
import { times } from './scale.ts';

const WAYS = times(16, 64);

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(async () => {
  expect(checkBook(house.book).findings).toEqual([]);
  await house.shut();
});

/** Sends forms from as many devices at once; counts what was answered with each status. */
async function race(
  path: string | ((way: number) => string),
  fields: (way: number) => Record<string, string>,
): Promise<Record<number, number>> {
  const counts: Record<number, number> = {};
  const answers = Array.from({ length: WAYS }, async (_, way) => {
    const reply = await fetch(`${house.origin}${typeof path === 'string' ? path : path(way)}`, {
      method: 'POST',
      headers: { accept: 'application/json', 'content-type': 'application/json', origin: house.origin },
      body: JSON.stringify({ request_key: newKey(), ...fields(way) }),
    });
    await reply.text();
    counts[reply.status] = (counts[reply.status] ?? 0) + 1;
  });
  await Promise.all(answers);
  return counts;
}

const sumOf = (column: string, table: string) =>
  house.book.connection.prepare(`SELECT coalesce(sum(${column}), 0) FROM ${table}`).pluck().get();

describe(`${WAYS} devices at once`, () => {
  it('take no more from a piece than it has', async () => {
    const bolt = house.write((tx) => makeBolt(tx, makeStock(tx).lotId, '10 m'));
    // Ten have their metre; the others are told.
    expect(
      await race(`/shelf/pieces/${bolt.code}/write-offs`, () => ({ length: '1 m', why: 'End' })),
    ).toEqual({
      200: 10,
      409: WAYS - 10,
    });
    expect(sumOf('on_hand_ticks', 'piece')).toBe(0);
  });

  it('hold no more of a piece than is free', async () => {
    const table = putOnTable(house);
    const bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '3 m'));
    const form = () => ({ piece: bolt.code, length: '1 m', lots_meet: '' });
    expect(await race(`${table.path}/holds`, form)).toEqual({ 200: 3, 409: WAYS - 3 });
    expect(sumOf('held_ticks', 'hold')).toBe(length('3 m'));
  });

  it('cut a held lay once', async () => {
    const table = putOnTable(house, { strip: '49 cm' });
    addTierLike(house, table, 'Tier 2');
    const bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '10 m'));
    const strip = { depth: length('32 cm'), length: length('49 cm') };
    const [lay = 0] = holdLays(house, table, [
      {
        pieceId: bolt.id,
        from: 0,
        height: length('32 cm'),
        runs: [{ tierId: table.tierId, ...strip, left: 0, columns: 2 }],
        parts: [length('32 cm')],
      },
    ]);
    const path = `/cutting-table/${table.code}/bench`;
    expect(await race(path, () => ({ lays: String(lay) }))).toEqual({ 200: 1, 409: WAYS - 1 });
    expect(sumOf('on_hand_ticks', `piece WHERE code = '${bolt.code}'`)).toBe(length('9.68 m'));
  });

  it('receive an order line once by one form, however often it is sent', async () => {
    const stock = house.write((tx) => makeStock(tx));
    await house.submit('/orders/suppliers', { name: 'Harbour Cloth', lead_days: '5', note: '' }).expect(303);
    const { body } = await house.data('/orders/suppliers');
    await house
      .submit('/orders/new', {
        supplier_id: String(body.suppliers[0].id),
        expected_on: '',
        note: '',
        price_per: 'm',
        'lines.0.cloth_id': String(stock.clothId),
        'lines.0.shade_id': String(stock.shadeId),
        'lines.0.length': '10 m',
        'lines.0.price': '',
      })
      .expect(303);
    await house.submit('/orders/P1/sendings', {}).expect(303);
    const line = (await house.data('/orders/P1/receipts').expect(200)).body.lines[0].id;
    const key = newKey();
    const form = {
      note: '',
      'pieces.0.line_id': String(line),
      'pieces.0.length': '10 m',
      'pieces.0.mill_lot': '',
      'pieces.0.usable_width': '',
      'pieces.0.place_id': '',
      'pieces.0.price': '',
    };
    expect(await race('/orders/P1/receipts', () => ({ request_key: key, ...form }))).toEqual({ 200: WAYS });
    expect(sumOf('on_hand_ticks', 'piece')).toBe(length('10 m'));
  });

  it('start a batch once', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    expect(await race(`/dye-bench/batches/${code}/starts`, () => ({}))).toEqual({ 200: 1, 409: WAYS - 1 });
    expect(sumOf('1', 'batch')).toBe(1);
  });

  it('add a person of a name once', async () => {
    const counts = await race('/setup/people', () => ({ name: 'Ilse', length_system: 'metric' }));
    expect(counts[200]).toBe(1);
    expect(sumOf('1', "person WHERE name = 'Ilse'")).toBe(1);
  });
});
