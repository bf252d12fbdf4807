import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBatch } from '../ledger/dyeing.ts';
import {
  length,
  makeBolt,
  makeLot,
  makeStock,
  makeTier,
  openTestHouse,
  type Stock,
  type TestHouse,
} from '../support.ts';

let house: TestHouse;
let stock: Stock;

// Three strips 32 cm deep as long as the cloth is wide in use: 96 cm of cloth are needed.
beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  house.write((tx) => makeTier(tx, stock));
  await house.send('/orders/suppliers', { name: 'Copper Sheers' }).expect(200);
});
afterEach(() => house.shut());

const data = async (path: string) => (await house.data(path).expect(200)).body;
const shopsCutTo = (metric_step: string) =>
  house.send('/setup/rates', { waste: '', put_up: '', metric_step, imperial_step: '1/8' }).expect(200);
const offer = (step: string) =>
  house
    .send('/orders/suppliers/1/offers/new', {
      cloth_id: String(stock.clothId),
      shade_id: String(stock.shadeId),
      price_per: 'm',
      step,
      prices: [{ length: '', price: '5' }],
    })
    .expect(200);

/** What every page says is to be got. */
async function toGet() {
  const [line] = (await data('/short')).short;
  const [garment] = (await data('/')).garments.short;
  const [ordered] = (await data('/orders/new?from=short')).fields.lines;
  const [fetch] = (await data('/orders/shopping?from=short')).rest;
  return {
    short: line?.toGet,
    today: garment?.rows[0]?.length,
    order: ordered?.length.value,
    shopping: fetch?.lengths[0]?.what,
  };
}

describe('what to get', () => {
  it('is one figure on Short, on Today, in the order form and on the shopping list', async () => {
    expect(await toGet()).toEqual({ short: '1 m', today: '1 m', order: '1', shopping: '1 m or more' });
  });

  it('takes off what is in the pot or planned, and what is left of the strips is still to be got', async () => {
    const plan = (length_ticks: number) =>
      house.write((tx) => {
        const ground = makeStock(tx, { ground: true });
        const piece = makeBolt(tx, makeLot(tx, stock.clothId, ground.shadeId), '5 m');
        const { batchId } = makeBatch(tx, stock);
        tx.run(
          tx.db
            .insertInto('batch_piece')
            .values({ batch_id: batchId, piece_id: piece.id, length_ticks, typed: '' }),
        );
        return batchId;
      });
    // 70 cm less 2 % are 68.6 cm: two cut lengths of 32 cm, and one strip is still short.
    const batchId = plan(length('70 cm'));
    expect(await toGet()).toEqual({
      short: '0.4 m',
      today: '0.4 m',
      order: '0.4',
      shopping: '0.4 m or more',
    });
    const [line] = (await data('/short')).short;
    expect(line.inDye).toEqual({ strips: 2, length: '≈ 0.68 m' });
    expect(line.notes.join(' ')).toContain('What is being dyed gives 2 strips of those short.');
    // A length of its own that is too short for a strip gives none, whatever the two are together.
    plan(length('30 cm'));
    expect((await toGet()).short).toBe('0.4 m');
    plan(length('33 cm'));
    expect(await toGet()).toEqual({
      short: 'nothing more',
      today: 'nothing more',
      order: '',
      shopping: undefined,
    });
    expect((await data('/orders/basket')).fields.needs[0].length.value).toBe('');
    expect((await data('/short')).short[0].ways).toEqual([]);
    // Cancelled, it gives nothing, and the cloth is to be got again.
    house.write((tx) =>
      tx.run(
        tx.db
          .updateTable('batch')
          .set({ cancelled_at: tx.at, cancelled_by: tx.personId })
          .where('id', '=', batchId),
      ),
    );
    expect((await toGet()).short).toBe('0.7 m');
  });

  it('follows the step that shops cut to, wherever that is asked for', async () => {
    await shopsCutTo('25');
    expect(await toGet()).toEqual({ short: '1 m', today: '1 m', order: '1', shopping: '1 m or more' });
    expect((await data('/short')).short[0].sold).toContain('rounded up to 25 cm, as shops cut it');
    await shopsCutTo('70');
    expect(await toGet()).toEqual({
      short: '1.4 m',
      today: '1.4 m',
      order: '1.4',
      shopping: '1.4 m or more',
    });
    expect((await data('/orders/suppliers/1/offers/new')).fields.step.value).toBe('70 cm');
    const quick = await house.send('/cutting-table/quick', {
      unit: 'cm',
      pieces: [{ count: '1', width: '147', length: '40' }],
      strips: [{ width: '32', length: '147', count: '3', direction: 'across' }],
    });
    const cures: { kind: string; buyMm: number }[] = quick.body.result.cures;
    expect(cures.find(({ kind }) => kind === 'buy')?.buyMm).toBe(700);
  });

  it('is as an offer in force sells it, and the offer without a step has that of the shops', async () => {
    await shopsCutTo('70');
    await offer('');
    const bought = await data('/short');
    expect(bought.short[0]).toMatchObject({
      toGet: '1.4 m',
      sold: expect.stringContaining('cut every 70 cm'),
    });
    await shopsCutTo('10');
    await offer('30 cm');
    const page = await data('/short');
    expect(page.short[0]).toMatchObject({ toGet: '1.2 m', sold: expect.stringContaining('cut every 30 cm') });
    expect((await data('/orders/new?from=short')).fields.lines[0].length.value).toBe('1.2');
    expect((await data('/')).garments.short[0].rows[0].length).toBe('1.2 m');
    // The basket is told what is needed, and cuts it as each offer sells it.
    const { basket } = await data('/orders/basket');
    expect(basket.sellers[0].lines[0]).toMatchObject({ needed: '0.96 m' });
    expect(basket.sellers[0].lines[0].buys[0]).toContain('1.2 m');
  });

  it('is what nothing on order brings', async () => {
    const line = { cloth_id: String(stock.clothId), shade_id: String(stock.shadeId), length: '70 cm' };
    const order = { supplier_id: '1', price_per: 'm', lines: [line] };
    const { body } = await house.send('/orders/new', order).expect(200);
    await house.send(`${body.location}/sendings`, {}).expect(200);
    // 70 cm on order give two of the three strips; the third is 32 cm.
    expect(await toGet()).toEqual({
      short: '0.4 m',
      today: '0.4 m',
      order: '0.4',
      shopping: '0.4 m or more',
    });
    const more = await house.send('/orders/new', { ...order, lines: [{ ...line, length: '40 cm' }] });
    await house.send(`${more.body.location}/sendings`, {}).expect(200);
    expect(await toGet()).toMatchObject({ short: 'nothing more', today: 'nothing more' });
    expect((await data('/short')).short[0].sold).toBe('');
  });
});
