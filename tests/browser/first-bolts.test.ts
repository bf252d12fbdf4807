import { expect, it } from 'vitest';
import { checkBook } from '../../server/ledger/check.ts';
import type { TestHouse } from '../server/support.ts';
import { describeWalks, type Walk } from './walk.ts';
import type { Walker } from './walker.ts';

let house: TestHouse;
let walker: Walker;
let loads: string[];

function begin(walk: Walk): void {
  ({ house, walker } = walk);
  loads = [];
  // A load is a page that the browser goes to and somebody waits for; nothing on these pages is swapped in.
  walker.page.on('response', (answer) => {
    if (answer.request().isNavigationRequest() && answer.status() === 200) loads.push(answer.url());
  });
}

const DELIVERIES = [
  {
    supplier: 'Invented Mill',
    cloths: [
      {
        Name: 'Organza 150',
        Construction: 'organza',
        Fibres: 'nylon',
        'Width (cm)': '150',
        'Usable width (cm)': '147',
      },
      {
        Name: 'Tulle 280',
        Construction: 'tulle',
        Fibres: 'polyester',
        'Width (cm)': '280',
        'Usable width (cm)': '275',
      },
    ],
    shades: [
      { Name: 'White', Undyed: 'yes: cloth in it may be dyed' },
      { Name: 'Ember' },
      { Name: 'Marigold' },
    ],
    pieces: [
      ['New cloth 1', 'New shade 1', '50'],
      ['New cloth 1', 'New shade 2', '25'],
      ['New cloth 2', 'New shade 1', '30'],
      ['New cloth 2', 'New shade 3', '40'],
    ],
  },
  {
    supplier: 'Second Mill',
    cloths: [
      {
        Name: 'Lawn 140',
        Construction: 'voile',
        Fibres: '70 % cotton, 30 % silk',
        'Width (cm)': '142',
        'Usable width (cm)': '140',
      },
    ],
    shades: [{ Name: 'Natural', Undyed: 'yes: cloth in it may be dyed' }],
    pieces: [
      ['New cloth 1', 'New shade 1', '20'],
      ['New cloth 1', 'Ember', '15'],
    ],
  },
] as const;

const inRow = (fields: Readonly<Record<string, string>>, row: string) =>
  Object.fromEntries(Object.entries(fields).map(([label, text]) => [`${label}, ${row}`, text]));

describeWalks('six bolts', { begin }, (javaScript) => {
  it('of two suppliers, three cloths and four shades are in an empty book within 25 loads', async () => {
    await walker.go('/');
    for (const { supplier, cloths, shades, pieces } of DELIVERIES) {
      await walker.go('/shelf/receive');
      const fold = walker.page.locator('#new');
      if (!(await fold.evaluate((node: HTMLDetailsElement) => node.open)))
        await fold.locator('summary').click();
      await walker.fill({ 'New supplier': supplier });
      for (const [at, cloth] of cloths.entries()) await walker.fill(inRow(cloth, `new cloth ${at + 1}`));
      for (const [at, shade] of shades.entries()) await walker.fill(inRow(shade, `new shade ${at + 1}`));
      // What is described can be chosen by its name at once.
      const chosen = walker.page.locator('#f-pieces-0-cloth_id option[value="-1"]');
      if (javaScript) expect(await chosen.textContent()).toBe(`New cloth 1: ${cloths[0].Name}`);
      for (const [at, [Cloth, Shade, length]] of pieces.entries())
        await walker.fill(inRow({ Cloth, Shade, 'Mill lot': '7', 'Length (m)': length }, `piece ${at + 1}`));
      await walker.press('Check');
      await walker.press('Put on shelf');
    }
    expect(loads.length).toBeLessThanOrEqual(25);
    expect(loads.length).toBeGreaterThan(2);
    const { body } = await house.data('/shelf').expect(200);
    expect(JSON.stringify(body)).toContain('Lawn 140');
    expect((await house.data('/shelf/pieces/B6').expect(200)).body.piece).toMatchObject({ onHand: '15 m' });
    expect(checkBook(house.book).findings).toEqual([]);
    expect(walker.complaints).toEqual([]);
  });
});
