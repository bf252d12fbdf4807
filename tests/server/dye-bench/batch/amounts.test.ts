import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { furnish, planFields, start } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

// Organza of 45 g a metre, 2 % of Fern A and ½ % of levelling agent on it, 1 g/L of 56 % acid at 1:20, in a pot of 5 L
// that is filled to 3333 mL at 98 °C.
type Fields = Record<string, string>;

async function planned(length: string, more: Record<string, unknown>) {
  const made = await furnish(house);
  const { recipeId, vesselId, piece } = made;
  const fields = { ...planFields({ recipeId, vesselId, lengths: { [piece.code]: length } }), ...more };
  return { ...made, fields };
}

async function cardOf(length: string, more: Fields) {
  const { fields, piece } = await planned(length, more);
  const { pieces: _, ...plain } = fields;
  const query = new URLSearchParams({ ...plain, 'pieces.0.piece': piece.code, 'pieces.0.length': length });
  const answer = await house.data(`/dye-bench/batches/new?${query}`);
  expect(answer.status).toBe(200);
  return answer.body;
}

async function refusedAt(field: string, length: string, more: Fields): Promise<string> {
  const { fields } = await planned(length, more);
  const answer = await house.send('/dye-bench/batches/new', fields);
  expect(answer.status).toBe(422);
  expect(house.book.all(house.book.db.selectFrom('batch').select('id'))).toEqual([]);
  const found = answer.body.error.problems.find((problem: { field: string }) => problem.field === field);
  return found?.message ?? JSON.stringify(answer.body.error.problems);
}

describe('the card', () => {
  it('shows the sum behind every amount', async () => {
    const { card } = await cardOf('4', {});
    expect([card.mass, card.massHow, card.bathHow]).toEqual([
      '180 g',
      'length × width × mass per area',
      '180 g × 20 L/kg = 3.6 L',
    ]);
    expect(card.lines.map(({ how }: { how: string }) => how)).toEqual([
      '180 g × 2 % = 3.6 g',
      '180 g × 0.5 % = 0.9 g',
      '3.6 L × 1 g/L = 3.6 g; ÷ 1.0625 g/mL ≈ 3.388 mL',
      '3.6 L − 3.388 mL = 3.596612 L',
    ]);
  });

  it('puts the scale before the area, and asks how it was weighed', async () => {
    const { card } = await cardOf('4', { scale: '200 g', basis: 'oven-dry' });
    // Organza of nylon, regain 4.0 %: 200 g × 1.04, dyed at 2 % of that.
    expect([card.mass, card.massHow]).toEqual([
      '208 g',
      '200 g oven-dry × (1 + 4 %) = 208 g air-dry, the mass that owf is of; by area it is 180 g',
    ]);
    expect(card.lines[0].how).toBe('208 g × 2 % = 4.16 g');
    house.shut();
    house = await openTestHouse();
    expect(await refusedAt('basis', '4', { scale: '200 g' })).toBe('Say how the cloth was weighed.');
    house.shut();
    house = await openTestHouse();
    expect(await refusedAt('basis', '4', { scale: '200 g', basis: 'wet' })).toMatch(/weighs its water too/);
  });

  it('needs no mass per area of cloth that is on the scale', async () => {
    const made = await furnish(house);
    house.write((tx) => tx.run(tx.db.updateTable('cloth').set({ mass_per_area_mg_m2: null })));
    const query = `recipe_id=${made.recipeId}&vessel_id=${made.vesselId}&pieces.0.piece=${made.piece.code}&pieces.0.length=4`;
    await house.data(`/dye-bench/batches/new?${query}`).expect(422);
    const { body } = await house
      .data(`/dye-bench/batches/new?${query}&scale=180&basis=conditioned`)
      .expect(200);
    expect([body.card.mass, body.card.massHow]).toEqual([
      '180 g',
      'from the scale, air-dry, the mass that owf is of',
    ]);
  });

  it('cuts whole strips for each bath: 9 m make eight strips of 1.0912 m, three a bath at most', async () => {
    // 1.0639 m ÷ (1 − 2.5 %) is 1.0912 m. A strip of 50.625 g takes 1.0125 L and pushes up 35 mL: three fit 3.333 L.
    const { card, figures } = await cardOf('9', { strip: '1.0639' });
    expect(
      card.contents.map(({ lengths, strips }: { lengths: string[]; strips: number }) => [strips, ...lengths]),
    ).toEqual([
      [3, '≈ 3.38 m of B1'],
      [3, '≈ 3.38 m of B1'],
      [2, '2.25 m of B1'],
    ]);
    expect(card.options).toEqual([
      { baths: '3', what: '3 strips in each, all alike, 1 more than wanted', taken: false },
      { baths: '3', what: '3, 3 and 2 strips: each bath weighed for itself', taken: true },
      { baths: '4', what: '2 strips in each, all alike', taken: false },
    ]);
    expect(figures.baths.map(({ massMg }: { massMg: number }) => massMg)).toEqual([
      151_875, 151_875, 101_250,
    ]);
  });

  it('shares by the parts that are asked for, and refuses those that are not the strips', async () => {
    const { figures } = await cardOf('9', { strip: '1.0639', parts: '2 2 2 2' });
    expect(figures.baths.map(({ massMg }: { massMg: number }) => massMg)).toEqual([
      101_250, 101_250, 101_250, 101_250,
    ]);
    house.shut();
    house = await openTestHouse();
    expect(await refusedAt('parts', '9', { strip: '1.0639', parts: '4 3' })).toMatch(
      /must make the 8 strips/,
    );
  });

  it('refuses strips longer than the cloth, and a vessel that does not take one', async () => {
    expect(await refusedAt('strip', '4', { strip: '4' })).toMatch(
      /None of these lengths makes a whole strip/,
    );
    house.shut();
    house = await openTestHouse();
    expect(await refusedAt('vessel_id', '9', { strip: '4.2' })).toMatch(
      /One strip's cloth with its liquor takes/,
    );
  });

  it('offers every vessel in use, fewest baths first', async () => {
    const made = await furnish(house);
    await house.submit('/dye-bench/vessels', { name: 'Large pot', volume: '30' }).expect(303);
    const query = `recipe_id=${made.recipeId}&vessel_id=${made.vesselId}&pieces.0.piece=${made.piece.code}&pieces.0.length=4`;
    const { body } = await house.data(`/dye-bench/batches/new?${query}`);
    expect(body.byVessel).toEqual([
      { vessel: 'Large pot, 30 L', baths: 1, how: 'all alike', taken: false },
      { vessel: 'Small pot, 5 L', baths: 2, how: 'all alike', taken: true },
    ]);
  });

  it('tells what to send for strips and a swatch: 12 × 1.3 m ÷ (1 − 2.5 %) and 10 cm', async () => {
    // 1.3 ÷ 0.975 = 1.3333 m; twelve are 16 m, and the swatch makes 16.1 m.
    const made = await furnish(house);
    const { body } = await house.data(
      `/dye-bench/batches/new?recipe_id=${made.recipeId}&strip=1.3&strips=12&swatch=10`,
    );
    expect(body.send).toMatch(/^To have 12 strips of 1\.3 m, 15\.6 m after dyeing, send (≈ )?16\.1\d? m: /);
  });

  it('is worked out the same way when the batch starts: scale, strips, parts and stocks are kept', async () => {
    const { fields } = await planned('9', {
      scale: '420 g',
      basis: 'conditioned',
      strip: '1.0639',
      parts: '2 2 2 2',
      stocks: [{ strength: '1' }],
    });
    const answer = await house.send('/dye-bench/batches/new', fields).expect(200);
    const code = answer.body.location.split('/').at(-1);
    const before = await house.data(`/dye-bench/batches/${code}`);
    await start(house, code);
    const after = await house.data(`/dye-bench/batches/${code}`);
    expect(after.body.card.lines).toEqual(before.body.card.lines);
    expect(after.body.card.mass).toBe('420 g');
    expect(after.body.card.baths.count).toBe(4);
    // 420 g × 2 % = 8.4 g, 840 mL of a 1 % stock, 210 mL in each of four baths.
    expect(after.body.card.lines[0].amounts).toEqual([{ amount: '2.1 g', volume: '210 mL' }]);
  });
});
