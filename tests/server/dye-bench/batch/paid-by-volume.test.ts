import { afterAll, beforeAll, expect, it } from 'vitest';
import { reckonDyeing } from '../../../../server/dye-bench/batch/cost.ts';
import { readBatch } from '../../../../server/dye-bench/batch/store.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { furnish, plan, start } from '../recipe/making.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

it('a chemical that is bought by volume costs what was paid for its lots, by its density', async () => {
  const { piece, recipeId, vesselId } = await furnish(house);
  // Acid for 6.00 the 10 mL; the price list says another price for a kilogram of it.
  const acid = { name: 'Acid', kind: 'chemical', measure: 'volume', used_as: 'acetic-acid/56' };
  const { body } = await house.send('/supplies/new', acid).expect(200);
  const supplyId = /\d+$/.exec(body.location)?.[0] ?? '';
  const came = { rows: [{ supply_id: supplyId, amount: '10 mL', lot: 'A-1', cost: '6.00' }] };
  await house.send('/supplies/receive', came).expect(200);
  const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
  await start(house, code);
  const lines = () => {
    const cost = reckonDyeing(house.book, readBatch(house.book, code));
    return Object.fromEntries((cost?.lines ?? []).map(({ name, costMinor }) => [name, costMinor]));
  };
  const [name = ''] = Object.keys(lines()).filter((each) => each.includes('acetic'));
  expect(lines()[name]).toBeNull();
  house.write((tx) =>
    tx.run(
      tx.db.insertInto('auxiliary_price').values({
        kind: 'acetic-acid',
        form: '56',
        price_minor: 100_000,
        price_mg: 1_000_000,
        at: tx.at,
        person_id: tx.personId,
      }),
    ),
  );
  // 1.8 g at 1000.00 a kilogram.
  expect(lines()[name]).toBe(180);
  for (let turn = 0; turn < 20; turn += 1) {
    const { body: bench } = await house.data(`/dye-bench/batches/${code}/bench?bath=1`).expect(200);
    const step = bench.bath.step?.key;
    if (!step) break;
    await house
      .send(`/dye-bench/batches/${code}/logs/steps`, { bath: '1', step, skip_hold: 'yes' })
      .expect(200);
    const { body: stock } = await house.data(`/supplies/${supplyId}`);
    if (stock.onHand !== '10 mL') break;
  }
  // 1.8 g at 1.0625 g/mL are 1.694 mL of the 10 mL for 6.00.
  expect(lines()[name]).toBe(102);
});
