import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { addVessel, furnish, plan, start } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const ON = '2026-03-03';
const day = async (on = ON) => (await house.data(`/dye-bench/day?on=${on}`).expect(200)).body;
const begin = (code: string, bath: string) =>
  house.send(`/dye-bench/batches/${code}/logs/steps`, { bath, step: 'begin' });

interface Row {
  batch: string;
  bath: string;
  vessel_id: string;
  begins: string;
}

/** A small pot, and five planned batches of one bath each. */
async function fiveBatches() {
  const made = await furnish(house, '100 m');
  const codes: string[] = [];
  for (let at = 0; at < 5; at += 1) {
    codes.push(
      await plan(house, {
        recipeId: made.recipeId,
        vesselId: made.vesselId,
        lengths: { [made.piece.code]: '2' },
      }),
    );
  }
  const rows = (begins: readonly string[]): Row[] =>
    codes.map((batch, at) => ({
      batch,
      bath: '1',
      vessel_id: String(made.vesselId),
      begins: begins[at] ?? '',
    }));
  const save = (baths: readonly Row[], fit = '') => house.send('/dye-bench/day', { on: ON, baths, fit });
  return { ...made, codes, rows, save };
}

describe('pots over the day', () => {
  it('say when nothing is planned, and that a vessel is wanted', async () => {
    const { text } = await house.page(`/dye-bench/day?on=${ON}`).expect(200);
    expect(text).toContain('No vessel is in use.');
    expect(text).toContain('No bath stands in a pot on 3 Mar 2026');
    expect((await day('no day')).day).toBe('2 Mar 2026');
  });

  it('hold five baths one after another in one pot, with the time and the energy', async () => {
    const { rows, save } = await fiveBatches();
    await save(rows([]), 'yes').expect(200);
    const { rows: shown, totals, chart } = await day();
    expect(shown).toHaveLength(5);
    for (const [at, row] of shown.entries()) {
      expect(row.pot).toBe('Small pot');
      expect(row.from).toBe(at === 0 ? '09:00' : shown[at - 1].to);
      expect(row.energy).toMatch(/^\d\.\d\d kWh$/);
    }
    // 90 g at 20 litres to the kilogram are 1.8 L, which takes (1.8 × 4.186 + 0.09 × 1.3) ÷ 3600 = 0.002125 kWh for 1 °C:
    // from 15 to 98 °C for the dye bath 0.176, and from 15 to 70 °C for the scour of nylon 0.117 kWh.
    expect(shown[0].energy).toBe('0.29 kWh');
    expect(totals).toMatchObject({ baths: 5, from: '09:00', energy: '1.47 kWh' });
    expect(totals.takes).toBe(totals.inPots);
    expect(chart.lanes).toHaveLength(1);
    const { text } = await house.page(`/dye-bench/day?on=${ON}`).expect(200);
    for (const row of shown) expect(text).toContain(`${row.from}–${row.to}`);
  });

  it('take two pots for two baths that overlap, and refuse them in one', async () => {
    const { rows, save, vesselId } = await fiveBatches();
    const two = rows(['9', '10.30']).slice(0, 2);
    const refused = await save(two).expect(422);
    expect(refused.body.error.problems).toMatchObject([
      {
        field: 'baths.1.begins',
        message: expect.stringMatching(
          /^Small pot holds D1 from 09:00 to \d\d:\d\d: 2 baths at a time need 2 pots\.$/,
        ),
      },
    ]);
    expect((await day()).rows).toEqual([]);
    await house
      .submit(`/dye-bench/vessels/${vesselId}`, { name: 'Small pot', volume: '5', pots: '2' })
      .expect(303);
    await save(two).expect(200);
    expect((await day()).rows.map(({ pot, from }: { pot: string; from: string }) => [pot, from])).toEqual([
      ['Small pot 1', '09:00'],
      ['Small pot 2', '10:30'],
    ]);
  });

  it('refuse a pot that does not hold the bath, and what is no time, at their fields', async () => {
    const { rows, save } = await fiveBatches();
    const beaker = String(await addVessel(house, 'Beaker', '1'));
    const small = await save([{ ...(rows(['9'])[0] as Row), vessel_id: beaker }]).expect(422);
    expect(small.body.error.problems).toMatchObject([
      { field: 'baths.0.vessel_id', message: expect.stringContaining('Beaker may be filled with 0.67 L') },
    ]);
    const late = await save(rows(['25:00']).slice(0, 1)).expect(422);
    expect(late.body.error.problems).toMatchObject([{ field: 'baths.0.begins' }]);
  });
});

describe('a pot at the bench', () => {
  it('holds one bath: another begins when it is out, or in another pot', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const larger = await addVessel(house, 'Large pot', '9');
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    await start(house, code);
    await begin(code, '1').expect(200);
    const taken = await begin(code, '2').expect(409);
    expect(taken.body.error.message).toMatch(
      /^Small pot holds bath 1 of D1, at .+\. One pot holds one bath at a time/,
    );
    const stays = await house
      .send(`/dye-bench/batches/${code}/pots`, { bath: '1', vessel_id: String(larger) })
      .expect(409);
    expect(stays.body.error.message).toContain('it stays in its pot');
    await house.send(`/dye-bench/batches/${code}/pots`, { bath: '2', vessel_id: String(larger) }).expect(200);
    await begin(code, '2').expect(200);
    const { rows } = await day('2026-03-02');
    expect(rows.map(({ pot, stands }: { pot: string; stands: string }) => [pot, stands !== ''])).toEqual([
      ['Large pot', true],
      ['Small pot', true],
    ]);
  });
});

describe('a batch in pots of several sizes', () => {
  it('shares its cloth by what each may hold', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const larger = await addVessel(house, 'Large pot', '10');
    const fields = {
      recipe_id: String(recipeId),
      vessel_id: String(larger),
      pieces: [{ piece: piece.code, length: '6' }],
      pots: [{ vessel_id: String(vesselId) }],
    };
    const { body } = await house.send('/dye-bench/batches/new', fields).expect(200);
    const code = body.location.split('/').at(-1);
    const { card } = (await house.data(`/dye-bench/batches/${code}`)).body;
    // 10 L and 5 L at the boil hold 6.67 and 3.33 L: two thirds and one third of 6 m.
    expect(card.contents).toMatchObject([
      { pot: 'Large pot', lengths: [expect.stringMatching(/4 m of B1$/)] },
      { pot: 'Small pot', lengths: [expect.stringMatching(/2 m of B1$/)] },
    ]);
    await start(house, code);
    await begin(code, '1').expect(200);
    await begin(code, '2').expect(200);
  });
});
