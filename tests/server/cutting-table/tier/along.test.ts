import { afterEach, beforeEach, expect, it } from 'vitest';
import { length, makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { balanceOf, type OnTable, putOnTable } from './tier.ts';

let house: TestHouse;
let table: OnTable;
let bolt: string;

beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house);
  // Strips of 70 × 32 cm that lie along the cloth: 4 side by side in 147 cm, so one cut length of 70 cm is enough.
  house.write((tx) =>
    tx.run(tx.db.updateTable('tier').set({ direction: 'along', strip_length_ticks: length('70 cm') })),
  );
  bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '2 m', 1000)).code;
});
afterEach(() => house.shut());

it('takes its strips off the piece in cut lengths as long as a strip', async () => {
  const { body } = await house.data(table.path);
  const [shade] = body.shades;
  expect(shade.size).toBe('70 cm × 32 cm');
  const cutLengths = Math.ceil(shade.wantedStrips / 4);
  expect(shade.toCut).toContain(
    `${cutLengths} ${cutLengths === 1 ? 'cut length' : 'cut lengths'} of 70 cm, 4 strips a length`,
  );
  expect(shade.free[0]).toMatchObject({ strips: 8 });
  const cut = await house.submit(`${table.path}/cuts`, {
    piece: bolt,
    strips: '4',
    length: '0.7',
    rest: 'waste',
  });
  expect(cut.status).toBe(303);
  expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('1.3 m') });
  const after = (await house.data(table.path)).body.shades[0];
  expect(after.cutStrips).toBe(4);
});
