import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { garmentDaysPage } from '../../../server/by-when/garment-page.ts';
import { cutMinutesOf } from '../../../server/by-when/plan.ts';
import { bestOf, hold, toPlan } from '../cutting-table/plan/planned.ts';
import { makeBolt, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

const OPEN = { mon: 'yes', tue: 'yes', wed: 'yes', thu: 'yes', fri: 'yes' };
const HOURS = { ...OPEN, drying: '1', swatch: '2', receiving: '1', spare: '3', finishing: '1', table: '1' };

describe('the minutes of cutting', () => {
  it('are those of the held plan, else by strips an hour, and the page says which', async () => {
    const { code, path, stock } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    const cutRow = async () => {
      const { rows }: ReturnType<typeof garmentDaysPage>['data'] = (
        await house.data(`/garments/${code}/by-when`).expect(200)
      ).body;
      return rows.find(({ step }) => step === 'Cut')?.work;
    };
    await house.send('/by-when/hours', { ...HOURS, strips: '', baths: '' }).expect(200);
    expect(await cutRow()).toBe('18 strips');
    await house.send('/by-when/hours', { ...HOURS, strips: '12', baths: '' }).expect(200);
    expect(await cutRow()).toBe('18 strips, 1 h 30 min at the table, by strips an hour');
    const best = await bestOf(house, path);
    await hold(house, best).expect(200);
    // What the plan said of the table before it was held.
    const minutes = /about (.*?)(;|$)/.exec(best.table)?.[1];
    expect(await cutRow()).toBe(`18 strips, ${minutes} at the table, by the held plans`);
    // Without a rate the plan is enough.
    await house.send('/by-when/hours', { ...HOURS, strips: '', baths: '' }).expect(200);
    expect(await cutRow()).toBe(`18 strips, ${minutes} at the table, by the held plans`);
  });

  it('of what is in no plan are added, or not known', () => {
    const strips = { wanted: 20, cut: 4, planned: 6, plannedMinutes: 7 };
    // 10 strips at 12 an hour are 50 minutes.
    expect(cutMinutesOf(strips, 12)).toBe(57);
    expect(cutMinutesOf(strips, null)).toBeNull();
    expect(cutMinutesOf({ ...strips, planned: 16 }, null)).toBe(7);
    expect(cutMinutesOf({ wanted: 4, cut: 4, planned: 0, plannedMinutes: 0 }, 12)).toBe(0);
  });
});
