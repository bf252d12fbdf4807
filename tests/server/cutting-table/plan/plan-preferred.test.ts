import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeTierOf, stockOf } from '../../garments/making.ts';
import { length, makeBolt, makeLot, openTestHouse, type TestHouse } from '../../support.ts';
import { balanceOf } from '../tier/tier.ts';
import { doneOf, needOf, toPlan } from './planned.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

describe('the plan that is shown first', () => {
  it('cuts the piece that was bought for just these strips, not the long lot, and says so', async () => {
    const { path, stock } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    // All 18 strips take 1.3 m; what is left of 1.34 m is too short to be kept.
    const bought = house.write((tx) => makeBolt(tx, makeLot(tx, stock.clothId, stock.shadeId), '1.34 m'));
    const [plan] = (await needOf(house, path)).plans;
    expect(plan?.pieces.map(({ code }) => code)).toEqual([bought.code]);
    expect(plan?.figures).toMatchObject({ missingStrips: 0, chargedTicks: length('1.34 m') });
    expect(plan?.wished).toMatch(
      /^Planned for: least length; short pieces are used up before longer ones are begun/,
    );
    expect((await house.page(path)).text).toContain(plan?.wished);
  });
});

describe('the plans of a garment', () => {
  it('are all held in one step', async () => {
    const { path, stock, code } = await toPlan(house);
    const one = house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    const other = stockOf(house);
    const two = house.write((tx) => makeBolt(tx, other.lotId, '10 m'));
    await makeTierOf(house, code, other, { name: 'Tier 3', depth: '20', strip_length: '30' });
    const { holdAll } = await doneOf(house, path);
    expect(holdAll?.plans).toBe(2);
    expect((await house.page(path)).text).toContain('Hold all 2 plans');
    const fields = { request_key: holdAll?.requestKey, ...holdAll?.fields };
    const { body, status } = await house.send(holdAll?.action ?? '', fields);
    expect([status, body.said]).toEqual([200, `2 plans held for ${code}.`]);
    for (const bolt of [one, two]) expect(balanceOf(house, bolt.code).held).toBeGreaterThan(0);
    const after = await doneOf(house, path);
    expect(after.holdAll).toBeNull();
    expect(after.needs.every(({ held }) => held !== null)).toBe(true);
  });
});
