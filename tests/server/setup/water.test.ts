import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readWater } from '../../../server/setup/water/store.ts';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

describe('the water of the workroom', () => {
  it('is not known at first, and the page says what that means', async () => {
    expect(readWater(house.book)).toBeNull();
    const page = await house.page('/setup/water').expect(200);
    expect(page.text).toContain('The water has not been measured.');
  });

  it('is that of the newest day, whatever was written last, and older tests stay', async () => {
    const test = (on_day: string, alkalinity: string) =>
      house.submit('/setup/water', { on_day, alkalinity, hardness: '10 °dH', ph: '7.8', source: 'strip' });
    await test('2026-03-01', '7 °dH').expect(303);
    await test('2026-01-01', '90').expect(303);
    expect(readWater(house.book)).toEqual({
      onDay: '2026-03-01',
      alkalinityTenths: 1250,
      hardnessTenths: 1785,
      pHTenths: 78,
    });
    const { body } = await house.data('/setup/water').expect(200);
    expect(body.tests).toHaveLength(2);
    expect(body.tests[0]).toMatchObject({
      day: '1 Mar 2026',
      alkalinity: '125 mg/L',
      alkalinityTyped: 'typed as 7 °dH',
      pH: '7.8',
      source: 'strip',
    });
    // 0.106 and 0.372 g to 100 mg/L, at 178.5.
    expect(body.lost).toContain('0.19 g of soda ash');
    expect(body.lost).toContain('0.66 g of EDTA');
    // Of one day the row written last counts.
    await test('2026-03-01', '110').expect(303);
    expect(readWater(house.book)?.alkalinityTenths).toBe(1100);
  });

  it('takes today where no day is given, and neither hardness nor pH need be known', async () => {
    await house.submit('/setup/water', { alkalinity: '120' }).expect(303);
    expect(readWater(house.book)).toMatchObject({
      alkalinityTenths: 1200,
      hardnessTenths: null,
      pHTenths: null,
    });
    const { body } = await house.data('/setup/water').expect(200);
    expect(body).toMatchObject({ lost: '', tests: [{ hardness: '', pH: '', alkalinityTyped: '' }] });
  });

  it('says what is wrong beside the field, keeps what was typed, and writes nothing', async () => {
    const typed = { on_day: '2999-01-01', alkalinity: '5 ells', hardness: '3000', ph: '15' };
    const refused = await house.submit('/setup/water', typed).expect(422);
    for (const words of ['no unit of water', '2000 mg/L or less', 'pH runs from 0 to 14', 'value="5 ells"']) {
      expect(refused.text).toContain(words);
    }
    const early = await house.submit('/setup/water', { on_day: '2999-01-01', alkalinity: '5' }).expect(422);
    expect(early.text).toContain('this day is to come');
    expect(readWater(house.book)).toBeNull();
  });
});
