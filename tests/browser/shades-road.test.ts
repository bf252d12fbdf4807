import { expect, it } from 'vitest';
import { makeGarment, makeTierOf } from '../server/garments/making.ts';
import { PAIR_MARKS, pairPhoto } from '../server/shelf/photo/picture-files.ts';
import { makeBolt, makeLot, makeStock, type Stock } from '../server/support.ts';
import { describeWalks, type Walk } from './walk.ts';

let walk: Walk;
let stock: Stock;
let codes: string[];

/** ΔE00 of the two is 0.24. */
const RED = { l: 42, a: 45, b: 20 };
const NEAR = { l: 42.2, a: 45.2, b: 20 };

describeWalks(
  'from three lots to a tier of those that match, on a phone',
  {
    width: 390,
    begin(begun) {
      walk = begun;
      codes = begun.house.write((tx) => {
        stock = makeStock(tx);
        const { clothId, shadeId, lotId } = stock;
        const lotIds = [lotId, makeLot(tx, clothId, shadeId), makeLot(tx, clothId, shadeId)];
        // Two strips of 60 cm are wanted: no lot has both.
        for (const id of lotIds) makeBolt(tx, id, '70 cm');
        return lotIds.map(
          (id) => tx.first(tx.db.selectFrom('lot').select('code').where('id', '=', id))?.code ?? '',
        );
      });
    },
  },
  (javaScript) => {
    it('judges two by one photo, puts the third apart, and plans the tier', async () => {
      const { walker, house } = walk;
      const [one = '', other = '', third = ''] = codes;
      const garment = await makeGarment(house);
      const blocks = [{ shade_id: String(stock.shadeId), strips: '1', lots: 'meet' }];
      await makeTierOf(house, garment, stock, { depth: '60', blocks });
      await walker.go('/short');
      expect(await walker.text()).toContain('Nobody has compared them: 3 pairs of lots.');
      await walker.follow('May these be sewn together?');

      await judge(`Judge by photo ?: ${one} and ${other}`);
      await walker.fill({ Light: 'daylight, north window' });
      await walker.page
        .getByLabel('Take a photo')
        .setInputFiles({ name: 'two.jpg', mimeType: 'image/jpeg', buffer: await pairPhoto(RED, NEAR) });
      await walker.press('Keep photo');
      for (const [area, name] of [
        ['card', 'Grey card'],
        ['one', 'Cloth A'],
        ['other', 'Cloth B'],
      ] as const)
        await walker.fill({
          [`${name}, across`]: PAIR_MARKS[`${area}_x`],
          [`${name}, down`]: PAIR_MARKS[`${area}_y`],
          [`${name}, size`]: PAIR_MARKS[`${area}_size`],
        });
      await walker.press('Measure');
      await walker.press('Save judgement');
      await walker.follow('May these be sewn together?');
      expect(await walker.text()).toMatch(
        /3 pairs of lots: 1 by photo and 2 not compared\. Measured differences are likely within ± 1\.\d\./,
      );

      await judge(`Judge by eye ?: ${one} and ${third}`);
      await walker.fill({ 'Side by side': 'Keep them apart', Light: 'daylight' });
      await walker.press('Save judgement');
      const text = await walker.text();
      expect(text).toContain(`${one} and ${third}: keep apart`);
      expect(text).toContain(`${one} and ${other}: may be sewn together`);
      expect(text).toMatch(/How sure: 3 pairs of lots: 1 judged by eye, 1 by photo and 1 not compared\./);
      expect(await walker.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);

      await walker.go(`/cutting-table/${garment}/plan`);
      expect(await walker.text()).toContain(`${one} + ${other} may be sewn together`);
      const hold = walker.page.getByRole('button', { name: /^Hold this plan/ });
      for (let looks = 0; (await hold.count()) === 0; looks += 1) {
        if (looks > 600) throw new Error(`no plan was found: ${await walker.text()}`);
        if (javaScript) await walker.page.waitForTimeout(100);
        else await walker.go(`/cutting-table/${garment}/plan`);
      }
      await expect.poll(() => walker.page.locator('#plans[hx-get]').count()).toBe(0);
      await Promise.all([walker.page.waitForEvent('load'), hold.first().click()]);
      const held = house.book.all(
        house.book.db
          .selectFrom('hold')
          .innerJoin('piece', 'piece.id', 'hold.piece_id')
          .innerJoin('lot', 'lot.id', 'piece.lot_id')
          .select('lot.code')
          .distinct()
          .orderBy('lot.id'),
      );
      expect(held.map(({ code }) => code)).toEqual([one, other]);
      expect(walker.complaints).toEqual([]);
    });
  },
);

/** The words for readers alone stand apart from those in sight. */
async function judge(name: string): Promise<void> {
  const { page } = walk.walker;
  const link = page.getByRole('link', { name: new RegExp(`^${name}$`) });
  await Promise.all([page.waitForEvent('load'), link.click()]);
}
