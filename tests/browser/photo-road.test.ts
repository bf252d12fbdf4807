import { expect, it } from 'vitest';
import { deltaE00 } from '../../src/colour/lab.ts';
import { PAIR_MARKS, pairPhoto } from '../server/shelf/photo/picture-files.ts';
import { makeBolt, makeLot, makeStock } from '../server/support.ts';
import { describeWalks, type Walk } from './walk.ts';

let walk: Walk;
let codes: string[];

const RED = { l: 42, a: 45, b: 20 };
const REDDER = { l: 41, a: 46.5, b: 20 };
const PHOTO = { name: 'two-lots.jpg', mimeType: 'image/jpeg' };

describeWalks(
  'judging two lots from one photo on a phone',
  {
    width: 390,
    begin(begun) {
      walk = begun;
      codes = begun.house.write((tx) => {
        const { clothId, shadeId, lotId } = makeStock(tx);
        const lotIds = [lotId, makeLot(tx, clothId, shadeId)];
        for (const id of lotIds) makeBolt(tx, id, '10 m');
        return lotIds.map(
          (id) => tx.first(tx.db.selectFrom('lot').select('code').where('id', '=', id))?.code ?? '',
        );
      });
    },
  },
  (javaScript) => {
    it('says how far they differ and how sure that is', async () => {
      const { walker, house } = walk;
      const { page } = walker;
      const [one = '', other = ''] = codes;
      await walker.go(`/shelf/lots/${one}`);
      await walker.follow('Judge by photo');
      await walker.fill({ 'Cloth B': other, Light: 'daylight, north window' });
      await page.getByLabel('Take a photo').setInputFiles({ ...PHOTO, buffer: await pairPhoto(RED, REDDER) });
      await walker.press('Keep photo');

      const places = [
        ['card', 'Grey card'],
        ['one', 'Cloth A'],
        ['other', 'Cloth B'],
      ] as const;
      if (javaScript) {
        // Each tap is for the next square; a square is chosen by its name too.
        const picture = page.locator('.photo-picture');
        await picture.scrollIntoViewIfNeeded();
        const { width, height } = (await picture.boundingBox()) ?? { width: 0, height: 0 };
        const tap = (x: number, y: number) =>
          picture.click({ position: { x: (x * width) / 100, y: (y * height) / 100 } });
        await tap(90, 90);
        await page.getByRole('button', { name: 'Grey card', exact: true }).click();
        for (const [area] of places)
          await tap(Number(PAIR_MARKS[`${area}_x`]), Number(PAIR_MARKS[`${area}_y`]));
        expect(Number(await page.getByLabel('Cloth B, across').inputValue())).toBeCloseTo(65, 0);
        const drawn = page.locator('[data-photo-square="other"] rect').first();
        await page.getByLabel('Cloth B, size').fill('20');
        expect(Number(await drawn.getAttribute('width'))).toBeCloseTo(240, 0);
        expect(Number(await drawn.getAttribute('x'))).toBeCloseTo(0.65 * 1200 - 120, -1);
      } else {
        expect(await page.getByRole('button', { name: 'Cloth A', exact: true }).count()).toBe(0);
        for (const [area, name] of places)
          await walker.fill({
            [`${name}, across`]: PAIR_MARKS[`${area}_x`],
            [`${name}, down`]: PAIR_MARKS[`${area}_y`],
            [`${name}, size`]: PAIR_MARKS[`${area}_size`],
          });
      }
      await walker.press('Measure');
      const text = await walker.text();
      const [, told = ''] = /ΔE00 (\d\.\d\d)\. Likely within ± 1\.\d, by one photo\./.exec(text) ?? [];
      expect(Math.abs(Number(told) - deltaE00(RED, REDDER))).toBeLessThan(0.2);
      expect(text).toContain('2 more photos of the cloths, refolded each time, make it surer.');
      await walker.press('Save judgement');
      expect(await walker.text()).toMatch(/Saved: a judgement of ΔE00 \d\.\d+ ± 1\.\d+/);
      await walker.go(`/shelf/lots/${other}`);
      expect(await walker.text()).toContain(`Lot ${one} beside lot ${other}`);
      // Nothing is wider than the phone.
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
      expect(walker.complaints).toEqual([]);
      expect(house.book.all(house.book.db.selectFrom('pair_judgement').select('how'))).toEqual([
        { how: 'photo' },
      ]);
    });
  },
);
