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

/** 21 strips of 47 × 20 cm off one bolt of 150 cm: three a cut length, seven cut lengths of 20 cm. */
const ONE_KIND = {
  strips: [{ width: '20 cm', length: '47 cm', count: 21 }],
  pieces: [{ width: '150 cm', length: '10 m', lot: 'A' }],
};

describe('a quick plan in JSON', () => {
  it('gives lays with counts and places, length, area, bound and gap', async () => {
    const { body, status } = await askForPlan(house, ONE_KIND);
    expect(status).toBe(200);
    const { result } = body as QuickPlanData;
    expect(result).toMatchObject({
      stopped: '',
      madeStrips: 21,
      missingStrips: 0,
      usedMm: 1400,
      chargedMm: 1400,
      chargedM2: 2.1,
      stripsM2: 1.974,
      boundM2: 2.1,
      gapPercent: 0,
      lays: 7,
      differentLays: 1,
      lots: ['A'],
    });
    expect(result?.pieces[0]?.lays).toEqual([
      expect.objectContaining({
        times: 7,
        fromMm: 0,
        heightMm: 200,
        columns: [
          expect.objectContaining({
            strip: 1,
            leftMm: 0,
            acrossMm: 470,
            alongMm: 200,
            columns: 3,
            strips: 3,
          }),
        ],
      }),
    ]);
  });

  it('reads bare numbers in the unit named', async () => {
    const { body } = await askForPlan(house, {
      unit: 'mm',
      strips: [{ width: 200, length: 470, count: 21, direction: 'across' }],
      pieces: [{ count: 2, width: 1500, length: 10_000 }],
    });
    expect((body as QuickPlanData).result).toMatchObject({ usedMm: 1400, missingStrips: 0 });
  });

  it('cuts beside a flaw, or ends before it', async () => {
    const flawed = {
      unit: 'mm',
      strips: [{ width: 300, length: 500, count: 5 }],
      pieces: [{ width: 1500, length: 600, flaws: [{ from: 250, to: 350, left: 0, right: 100 }] }],
    };
    // Skipped, the flaw leaves 250 mm on either side: no strip. Beside it two strips fit in 1400 mm, twice along.
    const skipped = (await askForPlan(house, { ...flawed, flaws: 'skip' })).body as QuickPlanData;
    expect(skipped.result).toMatchObject({ missingStrips: 5, leastMissingStrips: 5 });
    const beside = (await askForPlan(house, flawed)).body as QuickPlanData;
    expect(beside.result).toMatchObject({ missingStrips: 1, leastMissingStrips: 1 });
    const typed = (
      await askForPlan(house, {
        ...flawed,
        pieces: [{ width: 1500, length: 600, flaws: '250 to 350, 0 to 100' }],
      })
    ).body as QuickPlanData;
    expect(typed.result).toEqual(beside.result);
  });

  it('keeps to one lot, to lots that may meet, or takes any', async () => {
    const short = {
      unit: 'mm',
      strips: [{ width: 100, length: 1000, count: 10 }],
      pieces: ['A', 'B', 'C'].map((lot, i) => ({ width: 1000, length: 400 + 100 * i, lot })),
    };
    const missing = async (more: object) =>
      ((await askForPlan(house, { ...short, ...more })).body as QuickPlanData).result;
    expect(await missing({ lot_rule: 'one' })).toMatchObject({ missingStrips: 4, lots: ['C'] });
    expect(await missing({ lot_rule: 'meet', lots_that_meet: 'A B' })).toMatchObject({ missingStrips: 1 });
    // A and C, or B and C: two of them hold ten strips, and no third is begun.
    const any = await missing({ lot_rule: 'any' });
    expect(any).toMatchObject({ missingStrips: 0 });
    expect(any?.lots).toHaveLength(2);
  });

  it('gives the same plan for the same input', async () => {
    const mixed = {
      unit: 'mm',
      strips: [
        { width: 170, length: 610, count: 40 },
        { width: 230, length: 455, count: 35, direction: 'either' },
      ],
      pieces: [{ width: 1400, length: 9000, count: 3 }],
      useful: 500,
    };
    const [first, second] = [await askForPlan(house, mixed), await askForPlan(house, mixed)];
    expect(first.body).toEqual(second.body);
  });
});

describe('the page of a quick plan', () => {
  it('shows rows to fill in, and more of them when asked', async () => {
    const { text } = await house.page(QUICK_PATH);
    expect(text).toContain('name="strips.2.width"');
    const more = await house.submit(QUICK_PATH, { act: 'more-pieces', 'strips.0.width': '14 cm' });
    expect(more.text).toContain('name="pieces.7.width"');
    expect(more.text).toContain('value="14 cm"');
  });

  it('draws the lays of a plan and keeps what was typed', async () => {
    const { text, status } = await house
      .submit(QUICK_PATH, {
        'strips.0.width': '20',
        'strips.0.length': '47',
        'strips.0.count': '21',
        'strips.0.direction': '',
        'pieces.0.width': '150',
        'pieces.0.length': '10',
        'pieces.1.width': '',
      })
      .redirects(1);
    expect(status).toBe(200);
    expect(text).toContain('All 21 strips can be cut, from 1 piece, with 1.4 m charged.');
    expect(text).toContain('A lay 20 cm long of cloth 150 cm wide, slit into 3 strips');
    expect(text).toContain('value="47"');
  });

  it('tells what is wrong at the fields', async () => {
    const { text, status } = await house.submit(QUICK_PATH, {
      'strips.0.width': 'deep',
      'strips.0.length': '47',
      'strips.0.count': '1,500',
      'pieces.0.width': '150',
      'pieces.0.length': '10',
      'pieces.0.flaws': 'somewhere',
    });
    expect(status).toBe(422);
    for (const id of ['strips-0-width', 'strips-0-count', 'pieces-0-flaws'])
      expect(text).toContain(`id="f-${id}-error"`);
    expect(text).toContain('value="deep"');
    // Nothing is saved here whatever is typed, so that is not what is told.
    expect(text).toContain('Not worked out');
    expect(text).not.toContain('Not saved');
  });

  it.each([
    [{ ...ONE_KIND, strips: [] }, 'strips'],
    [{ ...ONE_KIND, pieces: [] }, 'pieces'],
    [{ ...ONE_KIND, strips: [{ width: 1, length: 1, count: 10_001 }] }, 'strips.0.count'],
    [{ ...ONE_KIND, strips: Array.from({ length: 501 }, () => ONE_KIND.strips[0]) }, 'strips'],
    [{ ...ONE_KIND, pieces: Array.from({ length: 201 }, () => ONE_KIND.pieces[0]) }, 'pieces'],
    [{ ...ONE_KIND, pieces: [{ width: 150, length: 10, count: 10_001 }] }, 'pieces.0.count'],
    [{ ...ONE_KIND, pieces: [{ width: 150, length: 10, flaws: '12 m' }] }, 'pieces.0.flaws'],
    [{ ...ONE_KIND, lot_rule: 'meet', lots_that_meet: 'A Z' }, 'lots_that_meet'],
    [{ ...ONE_KIND, seconds: 61 }, 'seconds'],
    [{ ...ONE_KIND, colour: 'red' }, ''],
  ])('refuses what is beyond its limits (%#)', async (asked, field) => {
    const { body, status } = await askForPlan(house, asked);
    expect(status).toBe(422);
    expect(body.error.problems.map((problem: { field: string }) => problem.field)).toContain(field);
  });
});
