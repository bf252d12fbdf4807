import { JSDOM } from 'jsdom';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { bookPage } from '../../../server/garment-book/printed-page.ts';
import { makeGarment, makeTierOf, pageOf, stockOf } from '../garments/making.ts';
import { openTestHouse, type Stock, type TestHouse } from '../support.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
// A ring of 95 × 3 = 285 cm: 2 strips of 147 − 2 = 145 cm, 290 cm flat. A ruffle of 290 × 2 = 580 cm on its edge:
// 4 strips, 580 cm flat.
beforeAll(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house);
  const top = await makeTierOf(house, code, stock, { lower_edge: 'rolled', hem: '0.5' });
  await makeTierOf(house, code, stock, {
    name: 'Ruffle',
    hangs: `edge-${top}`,
    drop: '',
    depth: '9',
    fullness: '2',
    hem: '1',
    hem_first: 'yes',
  });
});
afterAll(() => house.shut());

async function book(): Promise<ReturnType<typeof bookPage>['data']> {
  return (await house.data(`/garments/${code}/book`).expect(200)).body;
}

describe('the garment book', () => {
  it('ends with what the garment costs, as its page of costs has it', async () => {
    const { body } = await house.data(`/garments/${code}/cost`).expect(200);
    const { costs } = await book();
    expect(costs).toEqual(body.sums);
    expect(costs?.rows).toHaveLength(1);
    expect((await house.page(`/garments/${code}/book`).expect(200)).text).toContain('Committed: held for it');
  });

  it('has the form, every tier with its strips and their cut size, and the same needs as the garment', async () => {
    const { form, tiers, needs, version } = await book();
    expect(form).toEqual([
      { what: 'Girth at a drop of 0 cm', text: '95 cm' },
      { what: 'Girth at a drop of 100 cm', text: '295 cm' },
    ]);
    expect(tiers.map(({ name, depth, strips }) => [name, depth, strips])).toEqual([
      ['Tier 1', '30 cm', 2],
      ['Ruffle (1r)', '9 cm', 4],
    ]);
    expect(tiers.map(({ worked }) => worked?.shades.map(({ size, strips }) => [size, strips]))).toEqual([
      [['30.5 cm × 147 cm', 2]],
      [['10 cm × 147 cm', 4]],
    ]);
    expect(needs).toEqual((await pageOf(house, code)).needs);
    expect(version).toBe(3);
  });

  it('has a sewing sheet in the order of work, with lengths worked out by hand', async () => {
    const { sheet } = await book();
    expect(sheet.map(({ name }) => name)).toEqual(['Ruffle (1r)', 'Tier 1']);
    // 4 seams of 10 cm; 2 seams of 30.5 cm.
    expect(sheet[0]?.steps.slice(1)).toEqual([
      'Narrow-hem each strip, 1 cm allowance.',
      'Join into a ring in the order of the chart: 4 seams, plain, 1 cm allowance, 0.4 m in all.',
      // In quarters; 2 × (5.8 m × 2.5 and 8 tails of 10 cm).
      'Gather 5.8 m to 290 cm. 2 rows, 4 sections: mark it every 145 cm and what it is sewn to every 72.5 cm, and begin a new thread at each mark. 30.6 m of thread with tails of 10 cm, or 6.6 m of cord under a zigzag.',
    ]);
    expect(sheet[1]?.steps.slice(1)).toEqual([
      'Join into a ring in the order of the chart: 2 seams, plain, 1 cm allowance, 0.61 m in all.',
      'Roll-hem the lower edge, 0.5 cm allowance, 2.9 m.',
      'Sew Ruffle (1r) on while it lies flat, along its lower edge: 2.9 m.',
      'Gather 2.9 m to 95 cm. 2 rows, 4 sections: mark it every 72.5 cm and what it is sewn to every ≈ 23.8 cm, and begin a new thread at each mark. 16.1 m of thread with tails of 10 cm, or 3.7 m of cord under a zigzag.',
      'Hang it from the form at a drop of 0 cm, 95 cm round.',
    ]);
  });

  it('hems the two ends of an open band, so that its hems come to what the sewing page counts', async () => {
    const open = await makeGarment(house);
    await makeTierOf(house, open, stock, { closing: 'open', end: '1', depth: '30', hem: '1' });
    const { body } = await house.data(`/garments/${open}/book`).expect(200);
    const steps: string[] = body.sheet[0].steps;
    const hems = [
      /^Turn in 1 cm at both ends and hem them, (\S+) m\.$/,
      /^Narrow-hem the lower edge.* (\S+) m\.$/,
    ];
    const lengths = hems.map((hem) =>
      Number(steps.map((step) => hem.exec(step)?.[1]).find((found) => found)),
    );
    // Both ends of 30 cm and a hem of 1 cm are 62 cm.
    expect(lengths[0]).toBe(0.62);
    const sewing = (await house.data(`/garments/${open}/sewing`).expect(200)).body;
    expect(sewing.tiers[0].brief.hems).toBe(`${((lengths[0] ?? 0) + (lengths[1] ?? 0)).toFixed(2)} m`);
  });

  it('says the day of its figures, and tells shades by letters beside their names', async () => {
    const { document } = new JSDOM((await house.page(`/garments/${code}/book`)).text).window;
    expect(document.querySelector('.book-head')?.textContent).toContain('Figures as of 2 Mar 2026, 12:00');
    const keys = [...document.querySelectorAll('.letters .shade-of')].map((key) =>
      key.textContent?.replace(/\s+/g, ' ').trim(),
    );
    expect(keys).toEqual([expect.stringMatching(/^A Shade \d+/)]);
    const charts = [...document.querySelectorAll('.strip-chart title')].map((title) => title.textContent);
    expect(charts).toEqual(['Order of the strips of Tier 1: 2 A', 'Order of the strips of Ruffle (1r): 4 A']);
  });

  it('is there for a garment without tiers', async () => {
    const bare = await makeGarment(house);
    const page = await house.page(`/garments/${bare}/book`);
    expect([page.status, page.text.includes('It has no tiers yet.')]).toEqual([200, true]);
  });
});
