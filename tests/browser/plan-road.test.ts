import type { Locator } from 'playwright-core';
import { expect, it } from 'vitest';
import { checkBook } from '../../server/ledger/check.ts';
import { makeGarment, makeTierOf, stockOf } from '../server/garments/making.ts';
import { length, makeBolt, type TestHouse } from '../server/support.ts';
import { describeWalks, type Walk } from './walk.ts';
import type { Walker } from './walker.ts';

let house: TestHouse;
let walker: Walker;

// A phone on the cutting table.
const phone = {
  width: 390,
  begin(walk: Walk) {
    ({ house, walker } = walk);
  },
};

describeWalks('from the cut plan to the last lay', phone, (javaScript) => {
  it('holds, cuts, keeps what is left, undoes, cuts again and prints', async () => {
    const code = await furnish();
    await holdPlans(code, javaScript);
    await cutAtBench();
    await printSheet(code);
    expect(checkBook(house.book).findings).toEqual([]);
    expect(walker.complaints).toEqual([]);
  });
});

/**
 * Two tiers in a shade each: a ring of 95 cm at fullness 3 is 285 cm flat, so 7 strips of 49 cm (47 without seams), 60 cm
 * deep. Three lie side by side on 147 cm: three lays, the last with one strip and 98 cm beside it.
 */
async function furnish(): Promise<string> {
  const code = await makeGarment(house);
  for (const name of ['Upper tier', 'Lower tier']) {
    const stock = stockOf(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '5 m'));
    await makeTierOf(house, code, stock, { name, depth: '60', strip_length: '49' });
  }
  return code;
}

async function holdPlans(code: string, javaScript: boolean): Promise<void> {
  await walker.go(`/garments/${code}`);
  await walker.follow('Plan the cut');
  const hold = walker.page.getByRole('button', { name: /^Hold this plan ?: Least length$/ });
  for (let looks = 0; (await hold.count()) < 2; looks += 1) {
    if (looks > 600) throw new Error(`no plan was found: ${await walker.text()}`);
    // With scripts the page looks again by itself.
    if (javaScript) await walker.page.waitForTimeout(100);
    else await walker.go(`/cutting-table/${code}/plan`);
  }
  await expectNarrow();
  // Until all is worked out, the page is drawn again under the hand.
  await expect.poll(() => walker.page.locator('#plans[hx-get]').count()).toBeLessThan(2);
  await holdFirst(hold);
  expect(await walker.page.locator('.slip').first().textContent()).toContain(
    '3 lays on 1 piece held for G1: 1.8 m for 7 strips of',
  );
  await holdFirst(hold);
  await walker.follow('Cut at the table');
}

async function holdFirst(hold: Locator): Promise<void> {
  await Promise.all([walker.page.waitForEvent('load'), hold.first().click()]);
}

async function cutAtBench(): Promise<void> {
  await measureTargets();
  expect(await walker.text()).toContain('Lay 1 of 6');
  await walker.press('It is cut');
  expect(await walker.text()).toContain('Pull 60 cm off B1');
  await walker.press('It is cut');
  // The third lay has one strip; 98 × 60 cm of it are kept by the same tick.
  await measureTargets();
  expect(await walker.text()).toContain('Keep the remnant: 98 cm wide, 60 cm long');
  await walker.press('It is cut');
  expect(remnants()).toEqual(['R3 60 cm']);
  expect(await walker.page.locator('.slip').first().textContent()).toContain('kept: R3');
  await walker.press('Undo');
  expect(remnants()).toEqual(['R3 0 cm']);
  await walker.go('/cutting-table/G1/bench');
  expect(await walker.text()).toContain('2 of 6 lays cut');
  await walker.press('It is cut');
  // The code of what was undone is not given again.
  expect(remnants()).toEqual(['R3 0 cm', 'R4 60 cm']);
  expect(await walker.text()).toContain('3 of 6 lays cut');
}

/** Code and length on hand of every remnant. */
function remnants(): string[] {
  const { db } = house.book;
  const rows = house.book.all(
    db.selectFrom('piece').select(['code', 'on_hand_ticks']).where('code', 'like', 'R%').orderBy('id'),
  );
  return rows.map((row) => `${row.code} ${row.on_hand_ticks / length('1 cm')} cm`);
}

/** The sheet has a box to tick for every lay that is left, and nothing that a device is needed for. */
async function printSheet(code: string): Promise<void> {
  await walker.go(`/cutting-table/${code}/sheet`);
  await walker.page.emulateMedia({ media: 'print' });
  expect(await walker.page.getByRole('img', { name: /^Box for lay \d$/ }).count()).toBe(3);
  expect(await walker.page.locator('main a.button:visible, main button:visible').count()).toBe(0);
  const printed = await walker.page.pdf({ format: 'A4', preferCSSPageSize: true });
  const pages = [...printed.toString('latin1').matchAll(/\/Type\s*\/Page\b/g)].length;
  expect(pages).toBeLessThanOrEqual(2);
}

/** What is pressed at the table is at least 64 px high, and nothing is wider than the phone. */
async function measureTargets(): Promise<void> {
  const small = await walker.page.locator('[data-hand="bench"]').evaluate((bench) =>
    [...bench.querySelectorAll('button, .button')]
      .filter((target) => target.getClientRects().length > 0)
      .filter((target) => target.getBoundingClientRect().height < 64)
      .map((target) => target.textContent),
  );
  expect(small).toEqual([]);
  await expectNarrow();
}

async function expectNarrow(): Promise<void> {
  expect(await walker.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
}
