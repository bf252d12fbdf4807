import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { weeksPage } from '../../../server/by-when/weeks-page.ts';
import { SEWING_JOBS } from '../../../src/garment/sewing.ts';
import { makeGarment, makeTierOf } from '../garments/making.ts';
import { makeBolt, makeStock, openTestHouse, type TestHouse } from '../support.ts';

// Monday 2 March 2026, then as the clock is set.
let now = new Date('2026-03-02T12:00:00.000Z');
let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse(() => now);
});
afterAll(() => house.shut());

type Weeks = ReturnType<typeof weeksPage>['data'];
const weeks = async (query = ''): Promise<Weeks> => (await house.data(`/by-when${query}`).expect(200)).body;
const WEEK = { mon: 'yes', tue: 'yes', wed: 'yes', thu: 'yes', fri: 'yes' };
const DAYS = { drying: '1', swatch: '2', receiving: '1', spare: '3', finishing: '0' };

describe('the weeks', () => {
  it('say what is missing while nothing has a due day', async () => {
    expect(await weeks()).toMatchObject({ garments: [], chart: null });
    expect((await house.page('/by-when').expect(200)).text).toContain('No garment in hand has a due day.');
    expect((await house.page('/').expect(200)).text).not.toContain('week by week');
  });

  it('have the load of people and table, and Today leads with what is late', async () => {
    await house.send('/by-when/hours', { ...WEEK, ...DAYS, table: '2', strips: '2' }).expect(200);
    await house.send('/by-when/people', { person_1: '6' }).expect(200);
    const stock = house.write((tx) => {
      const made = makeStock(tx);
      makeBolt(tx, made.lotId, '20 m');
      return made;
    });
    for (const [name, due, sewing] of [
      ['Cape', '2026-03-13', '18'],
      ['Skirt', '2026-03-06', '24'],
    ]) {
      const code = await makeGarment(house, { name, due_on: due });
      await makeTierOf(house, code, stock);
      await house.send(`/garments/${code}/by-when`, { sewing, fitting: '' }).expect(200);
    }
    const page = await weeks();
    // The skirt: cut on 2 March, sewn from the 3rd to the 6th, fitted on Monday the 9th; the cape from the 9th to the 11th.
    expect(page.garments.map(({ name, ready, next }) => [name, ready, next.late])).toEqual([
      ['Skirt', '9 Mar 2026', 'at least 3 days late, soonest ready 9 Mar 2026'],
      ['Cape', '12 Mar 2026', ''],
    ]);
    expect(page.table?.columns).toEqual(['Sewing', 'Cutting table']);
    expect(page.table?.rows.map(({ week, cells }) => [week, cells[0]?.text])).toEqual([
      ['2 Mar 2026', '24 h planned, 24 h at the latest, of 30 h'],
      ['9 Mar 2026', '18 h planned, 18 h at the latest, of 30 h'],
    ]);
    const today = (await house.data('/')).body;
    expect(today.days).toMatchObject({ late: 1, rows: [{ name: 'Skirt' }, { name: 'Cape' }] });
    const html = (await house.page('/')).text;
    expect(html.indexOf('Late or at risk')).toBeLessThan(html.indexOf('Can I take?'));
    expect(html).toContain('at least 3 days late, soonest ready 9 Mar 2026');
  });
});

describe('what a change would move', () => {
  it('is told for a lost day, and nothing of it is saved', async () => {
    const { change } = await weeks('?lost=2026-03-04');
    expect(change).toMatchObject({
      said: '4 Mar 2026 is lost',
      rows: [
        {
          name: 'Skirt',
          readyWas: '9 Mar 2026',
          readyIs: '10 Mar 2026',
          late: 'at least 4 days late, soonest ready 10 Mar 2026',
        },
        { name: 'Cape', readyWas: '12 Mar 2026', readyIs: '13 Mar 2026', late: '' },
      ],
    });
    expect((await weeks()).change).toBeNull();
    expect((await weeks('?lost=2026-03-28')).change?.rows).toEqual([]);
  });

  it('is refused where it cannot be read, beside the field', async () => {
    const supplier = house.write(
      (tx) => tx.run(tx.db.insertInto('supplier').values({ name: 'Weaver', lead_days: 9 })).lastId,
    );
    const html = (await house.page(`/by-when?supplier=${supplier}`)).text;
    expect(html).toContain('Days later: enter how many, such as 5.');
    expect((await house.page('/by-when?days=4')).text).toContain(
      'A supplier is late: choose which supplier.',
    );
    expect((await house.page('/by-when?lost=soon')).text).toContain('is not a day');
  });

  it('is told for a supplier that is late and a bath that is dyed again', async () => {
    const { supplierId, garment } = house.write((tx) => {
      const made = makeStock(tx);
      const { lastId } = tx.run(tx.db.insertInto('supplier').values({ name: 'Spinner', lead_days: 4 }));
      tx.run(tx.db.updateTable('cloth').set({ supplier_id: lastId }).where('id', '=', made.clothId));
      tx.run(tx.db.insertInto('vessel').values({ name: 'Pot', volume_ml: 20_000, pots: 1 }));
      return { supplierId: lastId, garment: made };
    });
    const code = await makeGarment(house, { name: 'Bonnet', due_on: '2026-05-29' });
    await makeTierOf(house, code, garment);
    const later = await weeks(`?supplier=${supplierId}&days=14`);
    expect(later.change).toMatchObject({ said: 'Spinner is 14 days late', rows: [{ name: 'Bonnet' }] });
    const [row] = later.change?.rows ?? [];
    expect(Date.parse(`${row?.readyIs} UTC`) - Date.parse(`${row?.readyWas} UTC`)).toBe(14 * 86_400_000);
    const id = house.book.first(
      house.book.db.selectFrom('garment').select('id').where('code', '=', code),
    )?.id;
    const failed = await weeks(`?failed=${id}`);
    expect(failed.change).toMatchObject({ said: `one bath for ${code} is dyed again` });
  });
});

describe('own rates', () => {
  it('are measured from taps, and what was tapped is taken off what is left', async () => {
    const { body } = await house.data('/by-when');
    const code = body.garments.find(({ name }: { name: string }) => name === 'Cape').code;
    const tap = async (clock: string, work: string, what: string) => {
      now = new Date(`2026-03-02T${clock}:00.000Z`);
      await house.send(`/garments/${code}/by-when/taps`, { work, tap: what }).expect(200);
    };
    await tap('12:10', 'sew', 'begun');
    await tap('15:10', 'sew', 'left');
    const days = (await house.data(`/garments/${code}/by-when`)).body;
    expect(days.rows.find(({ step }: { step: string }) => step === 'Sew').work).toBe('15 h left of 18 h');
    expect((await house.data('/by-when/hours')).body.measured).toEqual([]);
    // Only where every job has a rate: all of them at 1 m/min.
    for (const job of SEWING_JOBS)
      await house
        .send(`/setup/rates/${job}`, {
          rate: '1',
          passes: '1',
          stitch: '',
          measured: '',
          stitches: '',
          thickness: '',
          stitch_width: '',
        })
        .expect(200);
    await tap('16:00', 'sew', 'done');
    const { measured } = (await house.data('/by-when/hours')).body;
    expect(measured).toEqual([
      expect.stringMatching(/^Measured: sewing took \d+\.\d × what your rates say, over 1 garment\.$/),
    ]);
    const { totals } = (await house.data(`/garments/${code}/sewing`)).body;
    const time = totals.find(({ label }: { label: string }) => label === 'Sewing time').text;
    const minutes = Math.ceil(Number(/^([\d.]+) min$/.exec(time)?.[1]));
    expect(measured[0]).toContain(`took ${(180 / minutes).toFixed(1)} ×`);
  });
});
