import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { dyeingCost } from '../../../src/dye/dyeing-cost.ts';
import { furnish, plan, start, undo } from '../dye-bench/recipe/making.ts';
import { newKey, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

describe('what a batch costs', () => {
  it('is dyes, auxiliaries and heat, each rounded once, and names what has no price', () => {
    // 2 g of dye at €18.50 for 25 g are €1.48; 50 g of salt at €0.90 a kilogram 4.5 cents, so 5; 7200 kJ are 2 kWh.
    const amounts = [
      { name: 'Red', massMg: 2000, price: { minor: 1850, perMg: 25_000 } },
      { name: 'salt', massMg: 50_000, price: { minor: 90, perMg: 1_000_000 } },
      { name: 'vinegar', massMg: 1, price: null },
    ];
    const cost = dyeingCost(amounts, { kj: 7200, minorPerKwh: 32 });
    expect(cost.lines.map(({ costMinor }) => costMinor)).toEqual([148, 5, null]);
    expect(cost).toMatchObject({ energyMinor: 64, totalMinor: 217, unknown: ['vinegar'] });
    expect(dyeingCost([], { kj: 10, minorPerKwh: null }).unknown).toEqual(['fuel']);
    expect(() => dyeingCost([], { kj: -1, minorPerKwh: null })).toThrow(RangeError);
  });
});

describe('the cost of dyeing', () => {
  it('goes with the lengths by what was sent of each, and is given back by undo', async () => {
    const { piece, recipeId, vesselId } = await furnish(house, '10 m', 10_000);
    await house.submit('/setup/fuel', { energy: '0.30' }).expect(303);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    await start(house, code);
    const { body } = await house.data(`/dye-bench/batches/${code}/finish`).expect(200);
    expect(Number(body.cost.value)).toBeGreaterThan(0);
    // Two baths of the card's 635 kJ, from 15 °C, are 0.353 kWh: 10.6 cents.
    expect(body.cost.said).toMatch(/^Reckoned: .*heat €0\.11\. No price is known of /);

    const rows = body.rows.map((row: { sent_id: { value: string } }) => ({
      sent_id: row.sent_id.value,
      length: '1.95',
      usable_width: '',
      place_id: '',
    }));
    const key = newKey();
    const sent = { cost: '3.33', request_key: key };
    const long = { ...sent, pieces: [{ ...rows[0], length: '3.9' }] };
    const refused = await house.send(`/dye-bench/batches/${code}/finish`, long).expect(422);
    expect(refused.body.error.problems).toEqual([
      {
        field: 'pieces.0.length',
        message: '2 m was sent, and cloth does not come back more than a tenth longer: measure it again.',
      },
    ]);
    await house.send(`/dye-bench/batches/${code}/finish`, { ...sent, pieces: rows }).expect(200);
    // 2 of 10 m that cost €100.00, and half of €3.33 for the dyeing.
    const made = house.book.all(
      house.book.db
        .selectFrom('piece')
        .select('cost_minor')
        .where('on_hand_ticks', '=', 1.95 * 160_000),
    );
    expect(made).toEqual([{ cost_minor: 2167 }, { cost_minor: 2166 }]);
    expect((await house.data('/orders/spend').expect(200)).body.months.at(-1)).toMatchObject({
      dyeing: '€3.33',
    });
    expect(checkBook(house.book).findings).toEqual([]);
    house.write((tx) =>
      tx.run(
        tx.db.insertInto('garment').values({ code: 'G1', name: 'Skirt', due_on: null, finished_at: null }),
      ),
    );
    const cut = { length: '0.65', kind: 'repair', garment: 'G1', doing: 'cut' };
    const cutKey = newKey();
    await house.send('/shelf/pieces/B2/uses', { ...cut, request_key: cutKey }).expect(200);
    // A third of 20.00 for the cloth and 1.67 for its dyeing: 7.22, of which 6.66 and 0.56.
    expect((await house.data('/garments/G1/cost').expect(200)).body.sums.madeOf).toMatchObject({
      rows: [
        { name: 'Cloth', spent: '€6.66' },
        { name: 'Dyeing', spent: '€0.56' },
      ],
      spent: '€7.22',
    });
    await undo(house, cutKey);
    await undo(house, key);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('is refused where it is no amount, with what was typed', async () => {
    const refused = await house.submit('/setup/fuel', { energy: '1,500' }).expect(422);
    expect(refused.text).toContain('value="1,500"');
    const key = { 'auxiliaries.0.key': 'none as-sold', 'auxiliaries.0.price': '1' };
    await house.submit('/setup/fuel', { energy: '', ...key }).expect(422);
    const { body } = await house.data('/setup/fuel').expect(200);
    const { value: known } = body.fields.auxiliaries[0].key;
    await house
      .submit('/setup/fuel', { energy: '', 'auxiliaries.0.key': known, 'auxiliaries.0.price': '2.40' })
      .expect(303);
    const { body: after } = await house.data('/setup/fuel').expect(200);
    expect(after.fields.auxiliaries[0].price.value).toBe('2.40');
  });
});
