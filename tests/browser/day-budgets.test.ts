import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Counted, DESK, PHONE, startCounted } from './counted.ts';

// What the work of a day may cost a hand, counted in a real browser on the demo: taps, keys, loads. What costs more fails.

let hand: Counted;
beforeAll(async () => {
  hand = await startCounted();
});
afterAll(() => hand.close());

const valuesOf = (fields: Element[]) => fields.map((field) => (field as HTMLInputElement).value);

describe('cutting', () => {
  it('cuts a planned lay in one tap and one load, and takes it back in one more', async () => {
    const { page } = hand;
    await page.setViewportSize(PHONE);
    await hand.open('/cutting-table/G2/bench');
    expect(await hand.taps(/lays are cut$/)).toBe(1);
    expect(hand.loads).toEqual(['/cutting-table/G2/bench']);
    const undo = page.locator('.slip-done button');
    expect(await undo.isVisible()).toBe(true);
    expect((await undo.boundingBox())?.y ?? Infinity).toBeLessThan(PHONE.height);
    expect(await hand.taps('Undo')).toBeLessThanOrEqual(2);
    await page.getByText('0 of 4 lays cut').waitFor();
  });

  it('cuts equal lays in one tap and one load where the cloth is cut in one ply', async () => {
    hand.house.write((tx) => tx.run(tx.db.updateTable('cloth').set({ ply_limit: 1 })));
    await hand.open('/cutting-table/G2/bench');
    expect(await hand.taps('All 4 are cut')).toBe(1);
    expect(hand.loads).toEqual(['/cutting-table/G2/bench']);
    await hand.page.getByText('4 of 4 lays cut').waitFor();
    await hand.taps('Undo');
    await hand.page.getByText('0 of 4 lays cut').waitFor();
  });

  it('enters a cut that nothing planned in two taps and six keys, and takes it back from Today in two', async () => {
    const { book } = hand.house;
    const yoke = book.first(book.db.selectFrom('tier').select('id').where('name', '=', 'Yoke'));
    await hand.open(`/cutting-table/G6/${yoke?.id}/bench`);
    let taps = await hand.taps('Something else');
    await hand.type('length', '1.25');
    taps += await hand.taps('Enter the cut');
    await hand.page.locator('.slip-done', { hasText: /cut for .*Yoke.* from 1\.25 m of B20/ }).waitFor();
    expect(taps).toBeLessThanOrEqual(2);
    expect(hand.keys).toBeLessThanOrEqual(6);
    expect(hand.loads.length).toBeLessThanOrEqual(2);
    await hand.open('/');
    expect(await hand.taps('Done lately', /^Undo: 1 strip cut for .*Yoke/)).toBeLessThanOrEqual(2);
    await hand.page.locator('.slip-done', { hasText: /undone/i }).waitFor();
  });
});

describe('asking', () => {
  it('answers “Can I take?” with eight keys and one load', async () => {
    const { page } = hand;
    await hand.open('/');
    await page.locator('#find-code').focus();
    const keys = [...'3m kelp', 'Enter'];
    expect(keys.length).toBeLessThanOrEqual(8);
    for (const key of keys) await page.keyboard.press(key === ' ' ? 'Space' : key);
    await page
      .locator('main .slip')
      .filter({ hasText: /^\s*(Yes|No|Perhaps|Only)/ })
      .or(page.locator('h1', { hasText: 'Can I take' }))
      .first()
      .waitFor();
    expect(hand.loads).toHaveLength(1);
  });

  it('tells what a garment costs within two loads of its own page', async () => {
    await hand.open('/garments/G2');
    expect(await hand.taps(/^Costs?$|What it costs|Cost/)).toBeLessThanOrEqual(2);
    expect(hand.loads.length).toBeLessThanOrEqual(2);
  });
});

describe('dyeing', () => {
  it('logs a reading of a bath in two taps', async () => {
    const { page } = hand;
    await hand.open('/dye-bench/batches/D9/bench');
    const reading = page.getByRole('button', { name: '94 °C', exact: true });
    let taps = 0;
    if (!(await reading.isVisible())) taps += await hand.taps('Log temperature');
    await reading.click();
    taps += 1;
    await page.getByText(/Last: 94 °C/).waitFor();
    expect(taps).toBeLessThanOrEqual(2);
  });

  it('plans a batch from a need on one page', async () => {
    const { page } = hand;
    await hand.open('/short');
    const need = page.locator('.short-line', { hasText: 'Slack water' }).first();
    const dye = need.getByRole('link', { name: 'Dye', exact: true });
    if (!(await dye.isVisible())) await hand.taps(/short: Slack water/);
    await dye.click();
    // The recipe of the shade is chosen, and what to send stands beside the piece that gives it.
    await page.getByRole('button', { name: 'Plan batch', exact: true }).waitFor();
    const lengths = await page.locator('[name$=".length"]').evaluateAll(valuesOf);
    expect(lengths.filter((text) => text !== '')).toHaveLength(1);
    expect(hand.loads).toEqual(['/dye-bench/batches/new']);
    await hand.taps('Plan batch');
    await page.locator('.slip-done', { hasText: 'is planned: one length' }).waitFor();
    expect(hand.loads).toHaveLength(2);
    expect(hand.keys).toBe(0);
  });
});

describe('buying', () => {
  it('drafts an order of ten bolts in ten shades on two pages by 90 keys and taps', async () => {
    const { page } = hand;
    await page.setViewportSize(DESK);
    await hand.open('/orders');
    let taps = await hand.taps('New order');
    const choose = async (field: string, index: number) => {
      await page.locator(`#f-${field}`).selectOption({ index });
      taps += 2;
    };
    await choose('supplier_id', 1);
    await choose('lines-0-cloth_id', 1);
    taps += await hand.taps(/more lines/);
    for (let line = 0; line < 10; line += 1) {
      await choose(`lines-${line}-shade_id`, line + 1);
      await hand.type(`lines-${line}-length`, '50');
    }
    taps += await hand.taps('Save the draft');
    await page.locator('.slip-done', { hasText: 'is drafted' }).waitFor();
    expect(await page.getByRole('row', { name: /50 m/ }).count()).toBe(10);
    expect(hand.keys + taps).toBeLessThanOrEqual(90);
    expect(hand.loads).toHaveLength(2);
  });

  it('puts all that is short on one page of an order', async () => {
    await hand.open('/short');
    const toOrder = await hand.page.locator('.short-line a', { hasText: /^Order$/ }).count();
    await hand.taps('Order what is short');
    expect(hand.loads).toEqual(['/orders/new']);
    const lengths = hand.page.locator('[name^="lines."][name$=".length"]');
    expect((await lengths.evaluateAll(valuesOf)).filter((text) => text !== '')).toHaveLength(toOrder);
    expect(toOrder).toBeGreaterThan(1);
  });
});

describe('describing', () => {
  it('describes a skirt of five ruffled tiers on one page, by 60 keys and 30 taps', async () => {
    const { page } = hand;
    await hand.open('/garments/new');
    let taps = 0;
    const choose = async (field: string, label: string) => {
      await page.locator(`#f-${field}`).selectOption({ label });
      taps += 2;
    };
    await hand.type('name', 'Skirt');
    for (const [place, [drop, girth]] of [
      ['0', '72'],
      ['200', '500'],
    ].entries()) {
      await hand.type(`girths-${place}-drop`, drop ?? '');
      await hand.type(`girths-${place}-girth`, girth ?? '');
    }
    await choose('tiers-0-cloth_id', 'Nylon voile 150');
    await choose('tiers-0-shade_id', 'Spume');
    for (let tier = 0; tier < 5; tier += 1) {
      await hand.type(`tiers-${tier}-depth`, '38');
      await hand.type(`tiers-${tier}-ruffle_depth`, '8');
    }
    taps += await hand.taps(/^Save$/);
    await page.getByText('with 5 tiers and 5 ruffles').waitFor();
    expect(hand.keys).toBeLessThanOrEqual(60);
    expect(taps).toBeLessThanOrEqual(30);
    expect(hand.loads).toHaveLength(1);
  });

  it('describes a great skirt of ten ruffled tiers in at most 200 keys, 50 taps and 4 pages', async () => {
    // Without JavaScript: the result that follows each key there costs no hand anything.
    const plain = await (await hand.chromium.open({ javaScript: false, width: DESK.width })).newPage();
    let keys = 0;
    let taps = 0;
    let pages = 0;
    plain.on('load', () => {
      pages += 1;
    });
    const type = async (field: string, text: string) => {
      await plain.locator(`#f-${field}`).fill(text);
      keys += text.length + 1;
    };
    const choose = async (field: string, label: string) => {
      await plain.locator(`#f-${field}`).selectOption({ label });
      taps += 2;
    };
    const press = async (name: string) => {
      await Promise.all([
        plain.waitForEvent('load'),
        plain.getByRole('button', { name, exact: true }).click(),
      ]);
      taps += 1;
    };
    await plain.goto(`${hand.house.origin}/garments/new`);
    await type('name', 'A second great skirt');
    for (const [place, girth] of ['72', '190', '330', '450'].entries()) {
      await type(`girths-${place}-drop`, String(32 * place));
      await type(`girths-${place}-girth`, girth);
    }
    await press('More tiers');
    await choose('tiers-0-cloth_id', 'Nylon voile 150');
    const shades = ['Spume', 'Slack water', 'Low water'];
    for (let tier = 0; tier < 10; tier += 1) {
      await type(`tiers-${tier}-drop`, String(4 + 7 * tier));
      await type(`tiers-${tier}-depth`, '38');
      await type(`tiers-${tier}-fullness`, '7.5');
      await type(`tiers-${tier}-ruffle_depth`, '8');
      await choose(`tiers-${tier}-shade_id`, shades[tier % 3] ?? '');
      await choose(`tiers-${tier}-ruffle_shade_id`, shades[(tier + 1) % 3] ?? '');
    }
    await press('Save');
    await plain.getByText('with 10 tiers and 10 ruffles').waitFor();
    expect(keys).toBeLessThanOrEqual(200);
    expect(taps).toBeLessThanOrEqual(50);
    expect(pages).toBeLessThanOrEqual(4);
  });
});
