import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { holdLength } from '../../../../server/ledger/verbs.ts';
import { length, makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { addTierLike, balanceOf, type OnTable, putOnTable } from '../tier/tier.ts';
import { holdLays } from './hold-lays.ts';

let house: TestHouse;
let table: OnTable;
let bolt: { id: number; code: string };
let ids: number[];

const cm = (n: number) => length(`${n} cm`);

// Two lays of three strips of 32 × 49 cm on 70 cm of cloth, 147 cm wide in use: 6 cm are left. What is kept here is
// at least 30 cm long.
beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house, { strip: '49 cm' });
  bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '70 cm', 700));
  house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ useful_remnant_ticks: cm(30) })));
  ids = layOut([0, 32]);
});
afterEach(() => house.shut());

function layOut(froms: readonly number[]): number[] {
  const runs = [{ tierId: table.tierId, depth: cm(32), length: cm(49), left: 0, columns: 3 }];
  const lays = froms.map((from) => ({
    pieceId: bolt.id,
    from: cm(from),
    height: cm(32),
    runs,
    parts: [cm(32)],
  }));
  return holdLays(house, table, lays);
}

const path = () => `/cutting-table/${table.code}`;
const bench = async () => (await house.data(`${path()}/bench`).expect(200)).body;
const cutNow = async (fields: Record<string, string> = {}) => {
  const { now } = await bench();
  return house.submit(`${path()}/bench`, { lays: now.layIds, ...fields }).expect(303);
};
const leftOf = () => balanceOf(house, bolt.code).onHand;
const check = () => expect(checkBook(house.book).findings).toEqual([]);

describe('the end of a piece after its last lay', () => {
  it('is offered as waste in the tap that cuts the last lay, and in no earlier one', async () => {
    expect((await bench()).now.ends).toBe('');
    await cutNow();
    expect((await bench()).now.ends).toBe(`0.06 m of ${bolt.code}`);
    const page = (await house.page(`${path()}/bench`).expect(200)).text;
    expect(page).toMatch(
      /<input type="checkbox" value="yes" id="f-waste_end" name="waste_end"[^>]* checked>/,
    );
    expect(page).toContain(`Write off the end: 0.06 m of ${bolt.code}`);
    const done = await cutNow({ waste_end: 'yes' });
    expect(balanceOf(house, bolt.code)).toMatchObject({ onHand: 0, held: 0, cost: 0 });
    const told = (await house.page(done.headers.location ?? '')).text;
    expect(told).toContain(`The offcut at the end was written off: 0.06 m of ${bolt.code}.`);
    check();
  });

  it('stays on the shelf where the tick is taken away, and comes back with the lay by one undo', async () => {
    await cutNow();
    await cutNow();
    expect(leftOf()).toBe(cm(6));
    const { db } = house.book;
    const lastKey = () =>
      house.book.all(db.selectFrom('entry').selectAll().orderBy('id')).at(-1)?.request_key;
    await house.submit('/undo', { undoes: lastKey() ?? '' }).expect(303);
    await cutNow({ waste_end: 'yes' });
    expect(leftOf()).toBe(0);
    await house.submit('/undo', { undoes: lastKey() ?? '' }).expect(303);
    expect(leftOf()).toBe(cm(38));
    expect((await bench()).now.ends).toBe(`0.06 m of ${bolt.code}`);
    check();
  });

  it('is not offered where it is long enough to be kept, or held for something else', async () => {
    await cutNow();
    house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ useful_remnant_ticks: cm(6) })));
    expect((await bench()).now.ends).toBe('');
    await cutNow({ waste_end: 'yes' });
    expect(leftOf()).toBe(cm(6));
  });

  it('is not taken from a tier that holds it', async () => {
    await cutNow();
    const other = addTierLike(house, table, 'Tier 2');
    house.write((tx) => holdLength(tx, bolt.id, other, { lengthTicks: cm(5), typed: '' }));
    expect((await bench()).now.ends).toBe('');
    await cutNow({ waste_end: 'yes' });
    expect(balanceOf(house, bolt.code)).toMatchObject({ onHand: cm(6), held: cm(5) });
  });

  it('is what was really left, where another length was used', async () => {
    await cutNow();
    const lay = `${path()}/lays/${ids[1]}`;
    expect((await house.data(lay)).body).toMatchObject({
      ends: `0.06 m of ${bolt.code}`,
      fields: { waste_end: { checked: true } },
    });
    expect((await house.page(lay)).text).toContain('name="waste_end"');
    const done = await house.submit(lay, { length: '35 cm', waste_end: 'yes' }).expect(303);
    expect(leftOf()).toBe(0);
    expect((await house.page(done.headers.location ?? '')).text).toContain(`0.03 m of ${bolt.code}`);
    check();
  });
});
