import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { progressPage } from '../../../server/garment-book/progress-page.ts';
import { cutLength, holdLength } from '../../../server/ledger/verbs.ts';
import { addTierLike, putOnTable } from '../cutting-table/tier/tier.ts';
import { length, makeBolt, openTestHouse, type TestHouse } from '../support.ts';

// Each tier takes three strips 32 cm deep, each as long as the cloth is wide in use.

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const progress = async (code: string): Promise<ReturnType<typeof progressPage>['data']> =>
  (await house.data(`/garments/${code}/progress`).expect(200)).body;
const cm = (text: string) => ({ lengthTicks: length(`${text} cm`), typed: `${text} cm` });

describe('the progress of a garment', () => {
  it('tells tier by tier what is cut, held, free and to get, and the length to get by shade', async () => {
    const { stock, tierId, code } = putOnTable(house);
    const table = { stock, tierId, code, path: '' };
    addTierLike(house, table, 'Tier 2');
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '96 cm'));
    house.write((tx) => cutLength(tx, bolt.id, { tierId, strips: 1, ...cm('32') }));
    house.write((tx) => holdLength(tx, bolt.id, tierId, cm('32')));
    const { whole, tiers, shades } = await progress(code);
    // 32 cm are left free: one strip, which goes to the first tier; three of the second are to get.
    expect(whole?.strips).toEqual({ wanted: 6, cut: 1, held: 1, short: 3, coming: 0 });
    const figures = tiers.map((tier) => [
      tier.wanted,
      tier.cut,
      tier.held,
      tier.free,
      tier.coming,
      tier.toGet,
    ]);
    expect(figures).toEqual([
      ['3', '1', '1', '1', '', ''],
      ['3', '', '', '', '', '3'],
    ]);
    expect(tiers[0]?.progress.bar.stretches.map(({ fill }) => fill)).toEqual(['solid', 'hatched', 'open']);
    // Three strips of 32 cm are 96 cm; shops cut to 10 cm.
    expect(shades).toMatchObject([{ wanted: '6', toGet: '3', length: '1 m' }]);
    const page = await house.page(`/garments/${code}/progress`).expect(200);
    expect(page.text).toContain('1 of 6 strips cut, 1 held, 3 short');
    const garment = await house.page(`/garments/${code}`).expect(200);
    expect(garment.text).toContain(`href="/garments/${code}/progress"`);
  });

  it('tells what is coming apart from what is to get', async () => {
    const { stock, code } = putOnTable(house);
    house.write((tx) => {
      const { lastId: supplierId } = tx.run(tx.db.insertInto('supplier').values({ name: 'Harbour Cloth' }));
      const order = { code: 'P1', supplier_id: supplierId, drafted_at: tx.at, sent_at: tx.at };
      const { lastId } = tx.run(tx.db.insertInto('order').values({ ...order, expected_on: null }));
      const line = { order_id: lastId, cloth_id: stock.clothId, shade_id: stock.shadeId, typed: '{}' };
      const of = { length_ticks: length('64 cm'), price_minor: null, price_ticks: null };
      tx.run(tx.db.insertInto('order_line').values({ ...line, ...of }));
    });
    const { tiers, shades } = await progress(code);
    expect(tiers).toMatchObject([{ wanted: '3', coming: '2', toGet: '1' }]);
    expect(shades[0]?.progress.bar.stretches.map(({ fill }) => fill)).toEqual(['dotted', 'dashed']);
  });

  it('tells of a finished garment what was cut, and of one without tiers that it wants nothing', async () => {
    const { stock, tierId, code } = putOnTable(house);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '96 cm'));
    house.write((tx) => cutLength(tx, bolt.id, { tierId, strips: 3, ...cm('96') }));
    await house.submit(`/garments/${code}/finished`, {}).expect(303);
    const { whole, tiers, shades } = await progress(code);
    expect(whole?.said).toBe('3 of 3 strips cut');
    expect(tiers).toMatchObject([{ wanted: '3', cut: '3', toGet: '' }]);
    expect(shades).toEqual([]);
    house.write((tx) =>
      tx.run(tx.db.updateTable('tier').set({ taken_out_at: tx.at }).where('id', '=', tierId)),
    );
    const page = await house.page(`/garments/${code}/progress`).expect(200);
    expect(page.text).toContain('Nothing was cut for it.');
    await house.page('/garments/G999/progress').expect(404);
  });

  it('tells what was tapped of the sewing beside what is planned', async () => {
    const { code } = putOnTable(house);
    expect((await progress(code)).sewing).toBeNull();
    await house.send(`/garments/${code}/by-when`, { sewing: '3', fitting: '' }).expect(200);
    expect((await progress(code)).sewing).toMatchObject({
      said: 'none tapped of 3 h planned',
      bar: { stretches: [{ fill: 'dashed', width: 400 }] },
    });
    await house.send(`/garments/${code}/by-when/taps`, { work: 'sew', tap: 'done' }).expect(200);
    expect((await progress(code)).sewing).toMatchObject({
      said: 'Done: none tapped of 3 h planned',
      bar: { stretches: [] },
    });
  });
});
