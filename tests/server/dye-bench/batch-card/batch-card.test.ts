import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { furnish, plan, planFields, start } from '../recipe/making.ts';

let house: TestHouse;
let now: Date;
beforeEach(async () => {
  now = new Date('2026-03-02T12:00:00.000Z');
  house = await openTestHouse(() => now);
});
afterEach(() => house.shut());

interface Line {
  readonly label: string;
  readonly values: readonly string[];
}
const page = async (code: string) => (await house.data(`/dye-bench/batches/${code}/card`).expect(200)).body;
const fill = (code: string, fields: object) =>
  house.send(`/dye-bench/batches/${code}/card`, { bath: '1', ...fields });
const line = async (code: string, label: string) =>
  (await page(code)).lines.find((each: Line) => each.label === label)?.values;

/** 4 m of organza in two baths of the small pot. */
async function twoBaths() {
  const { piece, recipeId, vesselId } = await furnish(house);
  const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
  await start(house, code);
  return code;
}

describe('the batch card', () => {
  it('prints a blank line for what is not typed', async () => {
    const code = await twoBaths();
    const { text } = await house.page(`/dye-bench/batches/${code}/card`).expect(200);
    for (const label of [
      'Mass after the scour',
      'Topped up',
      'pH at the middle',
      'Bath at the end',
      'By stage light',
    ]) {
      expect(text).toContain(`>${label}</th>`);
      expect(await line(code, label)).toEqual(['', '']);
    }
    expect(text.match(/class="blank"/g)?.length).toBeGreaterThan(30);
    expect(await line(code, 'Dry mass')).toEqual(['90 g', '90 g']);
  });

  it('says how hard a specimen is pressed: its own figures make the force and the weight that it names', async () => {
    const { text } = await house.page(`/dye-bench/batches/${await twoBaths()}/card`).expect(200);
    // ISO 105-E04:2013, as excerpted: 40 × 100 mm under 12.5 kPa. 12.5 kPa on 0.004 m² is 50 N, 5.1 kg × 9.80665 m/s².
    const [, width, length] = /E01, E04\): (\d+) × (\d+) mm/.exec(text)?.map(Number) ?? [];
    const [, kPa = 0, newtons, cm2, kilograms = 0] =
      /pressed at ([\d.]+) kPa \((\d+) N on (\d+) cm², the weight of ([\d.]+) kg\)/.exec(text)?.map(Number) ??
      [];
    expect([width, length, kPa]).toEqual([40, 100, 12.5]);
    expect([newtons, cm2]).toEqual([50, 40]);
    expect((kPa * 1000 * 40 * 100) / 1e6).toBe(newtons);
    expect(Math.abs(kilograms * 9.80665 - 50)).toBeLessThan(0.5);
  });

  it('keeps mass, water, pH, the bath, both lights, grades and the difference of each bath', async () => {
    const code = await twoBaths();
    await fill(code, {
      scoured: '87.5',
      topped_up: '250 mL',
      ph_start: '6.8',
      ph_middle: '5.5',
      ph_end: '4.6',
      bath_end: 'nearly clear',
      daylight: 'match',
      stage_light: 'near',
      light_note: 'redder under the lamp',
      tests: [{ grade: '45' }, { grade: '35' }, { grade: '' }, { grade: '40' }],
    }).expect(200);
    await fill(code, { topped_up: '0.25' }).expect(200);
    await fill(code, { bath: '2', difference_how: 'instrument', difference: '0.62' }).expect(200);
    const expected = {
      'Mass after the scour': ['87.5 g', ''],
      'Topped up': ['500 mL in 2 fillings', ''],
      'pH at the start': ['6.8', ''],
      'pH at the middle': ['5.5', ''],
      'pH at the end': ['4.6', ''],
      'Bath at the end': ['nearly clear', ''],
      'By daylight': ['match; redder under the lamp', ''],
      'By stage light': ['near; redder under the lamp', ''],
      'Rub, dry': ['4-5', ''],
      'Rub, wet': ['3-4', ''],
      'Water, change': ['', ''],
      'Water, staining': ['4', ''],
      'Difference to bath 1': ['–', 'ΔE00 0.62, measured'],
    };
    for (const [label, values] of Object.entries(expected))
      expect(await line(code, label), label).toEqual(values);
    const { last } = (await house.data(`/dye-bench/batches/${code}/card?bath=2`)).body;
    await house
      .send(`/dye-bench/batches/${code}/logs/take-backs`, { bath: '2', id: String(last.id) })
      .expect(200);
    expect(await line(code, 'Difference to bath 1')).toEqual(['–', '']);
  });

  it('takes the pH of a point from the log of the pot where none is typed', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    const log = (what: string, fields: object) =>
      house.send(`/dye-bench/batches/${code}/logs/${what}`, { bath: '1', ...fields }).expect(200);
    await log('steps', { step: 'begin' });
    for (let steps = 0; steps < 20; steps += 1) {
      const { step } = (await house.data(`/dye-bench/batches/${code}/bench`)).body.bath;
      if (step.key.startsWith('heat')) break;
      if (step.key.startsWith('set')) await log('phs', { ph: '6.2' });
      await log('steps', { step: step.key });
      now = new Date(now.getTime() + 60_000);
    }
    expect(await line(code, 'pH at the start')).toEqual(['6.2']);
    expect(await line(code, 'pH at the end')).toEqual(['']);
  });

  it('refuses an empty filling, half a difference, no grade and a batch that is not there, and keeps what was typed', async () => {
    const code = await twoBaths();
    const problemsOf = async (fields: object) =>
      (await fill(code, fields).expect(422)).body.error.problems.map(({ field }: { field: string }) => field);
    expect(await problemsOf({})).toEqual(['scoured']);
    expect(await problemsOf({ bath: '2', difference_how: 'instrument' })).toEqual(['difference']);
    expect(await problemsOf({ bath: '2', difference_how: 'eye', difference: '4.2' })).toEqual(['difference']);
    expect(await problemsOf({ difference_how: 'eye', difference: '4.5' })).toEqual(['difference_how']);
    const { text } = await house
      .submit(`/dye-bench/batches/${code}/card`, { bath: '1', scoured: 'some', light_note: 'north window' })
      .expect(422);
    expect(text).toContain('value="north window"');
    await house.data('/dye-bench/batches/D9/card').expect(404);
  });
});

describe('the strength of a dye lot', () => {
  it('takes more of a weaker lot, with its sum, and stands on the card', async () => {
    const { piece, recipeId, vesselId } = await furnish(house, '10 m', 0, '9');
    const fields = {
      ...planFields({ recipeId, vesselId, lengths: { [piece.code]: '2' } }),
      strengths: [{ strength: '80', how: 'swatch' }],
    };
    const { body } = await house.send('/dye-bench/batches/new', fields).expect(200);
    const code = body.location.split('/').at(-1);
    const { card } = (await house.data(`/dye-bench/batches/${code}`)).body;
    // 2 % of 90 g are 1.8 g; of a lot of 80 % they are 1.8 ÷ 0.8 = 2.25 g.
    expect(card.lines[0]).toMatchObject({
      inAll: '2.25 g',
      how: expect.stringContaining('÷ 80 % strength = 2.25 g'),
    });
    await start(house, code);
    expect(await line(code, 'Fern A')).toEqual(['80 % strength, by swatches']);
    const refused = await house
      .send('/dye-bench/batches/new', { ...fields, strengths: [{ strength: '5', how: '' }] })
      .expect(422);
    expect(refused.body.error.problems).toMatchObject([{ field: 'strengths.0.strength' }]);
  });
});
