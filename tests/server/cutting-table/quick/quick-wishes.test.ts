import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { quickPlanPage } from '../../../../server/cutting-table/quick/page.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { askForPlan, QUICK_PATH } from './asking.ts';

type QuickPlanData = ReturnType<typeof quickPlanPage>['data'];

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(async () => {
  await house.shut();
});

const resultOf = async (asked: object) => {
  const { body, status } = await askForPlan(house, asked);
  expect(status).toBe(200);
  const { result } = body as QuickPlanData;
  if (!result) throw new Error('no plan was made');
  return result;
};

const MIXED = {
  unit: 'mm',
  strips: [
    { width: 170, length: 610, count: 40 },
    { width: 230, length: 455, count: 35 },
    { width: 120, length: 380, count: 28 },
  ],
  pieces: [{ width: 1400, length: 9000, count: 3 }],
  useful: 500,
};

describe('a quick plan with a wish', () => {
  it('sets out no more often, and tells the price', async () => {
    const least = await resultOf(MIXED);
    const { wish, ...plan } = await resultOf({ ...MIXED, wish: 'fewest lays' });
    expect(least.wish).toBeNull();
    expect(wish).toMatchObject({
      wish: 'fewest lays',
    });
    expect(plan.missingStrips).toBe(0);
    expect(plan.differentLays).toBeLessThan(least.differentLays);
    // Looking for another plan may come upon one that takes less.
    const leastM2 = wish?.leastChargedM2 ?? 0;
    expect(leastM2).toBeLessThanOrEqual(least.chargedM2);
    expect(wish?.moreM2).toBeCloseTo(plan.chargedM2 - leastM2, 5);
    expect(plan.chargedM2).toBeLessThanOrEqual(1.1 * leastM2);
    expect(wish?.leastDifferentLays).toBeGreaterThanOrEqual(plan.differentLays);
    // The gap is that of the plan shown, against the same bound.
    expect(plan.boundM2).toBe(least.boundM2);
    expect(plan.gapPercent).toBeCloseTo((100 * (plan.chargedM2 - plan.boundM2)) / plan.boundM2, 1);
  });

  it('keeps the longest length whole where a shorter piece has enough', async () => {
    // Ten cut lengths of 20 cm: 2 m off the 3 m, where the pieces together are left 10 m and 1 m.
    const { wish } = await resultOf({
      unit: 'mm',
      strips: [{ width: 200, length: 470, count: 30 }],
      pieces: [
        { width: 1500, length: 10_000 },
        { width: 1500, length: 3000 },
      ],
      wish: 'longest remnants',
    });
    expect(wish).toMatchObject({ leftMm: [10_000, 1000], moreMm: 0, moreM2: 0 });
    expect(wish?.said).toBe('Longest remnants: longest length left: 10 m; at no more cloth.');
  });

  it('shows the price on the page, and the wish that was chosen', async () => {
    const { text } = await house
      .submit(QUICK_PATH, {
        'strips.0.width': '20',
        'strips.0.length': '47',
        'strips.0.count': '21',
        'pieces.0.width': '150',
        'pieces.0.length': '10',
        wish: 'fewest lays',
      })
      .redirects(1);
    expect(text).toContain('Fewest different lays: set out 1 time; at no more cloth.');
    expect(text).toMatch(/<option value="fewest lays" selected/);
  });
});

/** A flaw at the left edge, 25 cm from either end: skipped it leaves no strip, beside it 2 × 2 strips. */
const FLAWED = {
  unit: 'mm',
  strips: [{ name: 'Frill', width: 300, length: 500, count: 5 }],
  pieces: [{ width: 1500, length: 600, flaws: '250 to 350, 0 to 100' }],
  flaws: 'skip',
};

describe('a quick plan that is short', () => {
  it('tells what would cure it, and the effect of each', async () => {
    const { cures, missingStrips } = await resultOf(FLAWED);
    expect(missingStrips).toBe(5);
    // Three strips a cut length of new cloth: 5 strips are two cut lengths of 30 cm.
    expect(cures).toEqual([
      expect.objectContaining({ kind: 'past flaws', missingStrips: 1, chargedMm: 600, buyMm: 0 }),
      expect.objectContaining({ kind: 'buy', missingStrips: 0, buyMm: 600, chargedMm: 600 }),
    ]);
  });

  it('leaves the cures out where they are not wanted, and where nothing is short', async () => {
    expect((await resultOf({ ...FLAWED, cures: 'no' })).cures).toEqual([]);
    expect((await resultOf(MIXED)).cures).toEqual([]);
  });

  it('names the strips that would be shorter', async () => {
    // 110 cm take one strip of 60 cm across; of 55 cm two.
    const { cures } = await resultOf({
      unit: 'mm',
      strips: [
        { name: 'Band', width: 100, length: 1000, count: 1 },
        { name: 'Frill', width: 100, length: 600, count: 10 },
      ],
      pieces: [{ width: 1100, length: 600 }],
    });
    const shorter = cures.find(({ kind }) => kind === 'shorter strips');
    expect(shorter).toMatchObject({ missingStrips: 0, shorter: [{ strip: 2, lengthMm: 550 }] });
    expect(shorter?.what).toContain('Frill 55 cm long');
  });

  it('lists the cures on the page', async () => {
    const { text } = await house
      .submit(QUICK_PATH, {
        'strips.0.width': '30',
        'strips.0.length': '50',
        'strips.0.count': '5',
        'pieces.0.width': '150',
        'pieces.0.length': '0.3',
      })
      .redirects(1);
    expect(text).toContain('Ways to fix it');
    expect(text).toContain('Buy 0.3 m, in one lot and one piece');
    expect(text).toContain('All 5 strips can be cut then.');
  });
});
