import { expect, it } from 'vitest';
import { makeStock, type Stock } from '../server/support.ts';
import { describeWalks, type Walk } from './walk.ts';
import type { Walker } from './walker.ts';

let stock: Stock;
let walker: Walker;

function begin(walk: Walk): void {
  stock = walk.house.write((tx) => makeStock(tx));
  walker = walk.walker;
}

describeWalks('a garment of five tiers with ruffles', { begin }, (javaScript) => {
  it('is planned from empty in one page, by two to four fields a tier', async () => {
    await walker.go('/garments/new');
    await walker.fill({ Name: 'Five tiers' });
    await walker.fill({ 'Drop, cm': '0', 'Girth, cm': '95' }, 'Girth 1');
    await walker.fill({ 'Drop, cm': '100', 'Hoop width, cm': '100', 'Hoop depth, cm': '85' }, 'Girth 2');
    await walker.page.locator('#f-tiers-0-cloth_id').selectOption(String(stock.clothId));
    await walker.page.locator('#f-tiers-0-shade_id').selectOption(String(stock.shadeId));
    for (const place of [1, 2, 3, 4, 5]) {
      await walker.fill({ Depth: '20', Ruffle: '6' }, `Tier ${place}`);
    }
    // The bar says how many strips there are, and opens; what is unfolded stays so when the next result comes.
    await walker.page.locator('.result > details > summary').click();
    await walker.fill({ Overlap: '4' });
    if (javaScript) {
      // The outcome follows what is typed, and what is typed stays under the hand.
      await walker.page.locator('#worked').getByRole('rowheader', { name: 'Tier 5r' }).waitFor();
      expect(await walker.page.evaluate(() => document.activeElement?.id)).toBe('f-overlap');
      const field = await walker.page.locator('#f-overlap').boundingBox();
      const bar = await walker.page.locator('.result > details > summary').boundingBox();
      expect((field?.y ?? Infinity) + (field?.height ?? 0)).toBeLessThanOrEqual(bar?.y ?? 0);
    } else {
      await walker.press('Work it out');
      expect(await walker.text()).toContain('Tier 5r');
    }
    await walker.press('Save');
    expect(await walker.text()).toContain('with 5 tiers and 5 ruffles');
    expect(walker.complaints).toEqual([]);
  });
});
