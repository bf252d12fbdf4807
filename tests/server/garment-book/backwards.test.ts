import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { backwardsPage } from '../../../server/garment-book/backwards-page.ts';
import { cutLength, holdLength } from '../../../server/ledger/verbs.ts';
import { makeGarment, makeTierOf, standingIn, stockOf } from '../garments/making.ts';
import { length, makeBolt, makeLot, openTestHouse, type Stock, type TestHouse } from '../support.ts';

let house: TestHouse;
let code: string;
beforeEach(async () => {
  house = await openTestHouse();
  code = await makeGarment(house);
});
afterEach(() => house.shut());

const backwards = async (tierId: number): Promise<ReturnType<typeof backwardsPage>['data']> =>
  (await house.data(`/garments/${code}/tiers/${tierId}/backwards`)).body;
const bolt = (lotId: number, text: string) => house.write((tx) => makeBolt(tx, lotId, text));

/** A ring of 95 cm, 30 cm deep; each strip of 147 cm gives 145 cm. */
async function ring(stock: Stock, fields: object = {}): Promise<number> {
  return makeTierOf(house, code, stock, fields);
}

describe('how full a tier can be', () => {
  it('counts strips that fit, not lengths that add up', async () => {
    const stock = stockOf(house);
    const tierId = await ring(stock);
    // Four pieces of 50 cm are 2 m, but give one drop of 30 cm each: 4 strips, 580 cm, 6.1 times 95 cm.
    for (let piece = 0; piece < 4; piece += 1) bolt(stock.lotId, '50 cm');
    const { fullness, supply } = await backwards(tierId);
    expect(supply[0]?.text).toBe('2 m free in 4 pieces of 1 lot; one lot');
    // 580 ÷ 95 = 6.105…: at 6.1 four strips are enough.
    expect(fullness?.sentence).toBe('The cloth would do for 6.1×, with 4 strips.');
    expect(fullness?.more).toBe('Whole strips then give 6.105×. 3× is wanted now, which can be cut.');
  });

  it('takes the best lot alone, unless any will do', async () => {
    const stock = stockOf(house);
    const other = house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId));
    bolt(stock.lotId, '60 cm');
    bolt(other, '90 cm');
    const one = await ring(stock);
    // Three strips of the second lot: 435 ÷ 95 = 4.578….
    expect((await backwards(one)).fullness?.sentence).toBe('The cloth would do for 4.57×, with 3 strips.');
    const blocks = [{ shade_id: String(stock.shadeId), strips: '1', lots: 'any' }];
    const any = await ring(stock, { name: 'Tier 2', blocks });
    // Five strips of both: 725 ÷ 95 = 7.631….
    expect((await backwards(any)).fullness?.sentence).toBe('The cloth would do for 7.63×, with 5 strips.');
    expect((await backwards(any)).rivals).toBe('Tier 1');
  });

  it('follows the order of colours, and finishes the repeat where it must', async () => {
    const stock = stockOf(house);
    const second = stockOf(house);
    const lot = house.write((tx) => makeLot(tx, stock.clothId, second.shadeId));
    bolt(stock.lotId, '90 cm');
    bolt(lot, '60 cm');
    const blocks = [
      { shade_id: String(stock.shadeId), strips: '1' },
      { shade_id: String(second.shadeId), strips: '1' },
    ];
    const tierId = await ring(stock, { blocks });
    // 3 and 2 strips there are; the order takes one of each in turn, so 5: 7.63 times.
    expect((await backwards(tierId)).fullness?.sentence).toBe('The cloth would do for 7.63×, with 5 strips.');
    const whole = await ring(stock, { name: 'Tier 2', blocks, finish_repeat: 'yes' });
    expect((await backwards(whole)).fullness?.sentence).toBe('The cloth would do for 6.1×, with 4 strips.');
  });

  it('says so where there is nothing, or too little to lie flat', async () => {
    const tierId = await ring(stockOf(house));
    const { fullness, depth } = await backwards(tierId);
    expect(fullness?.sentence).toBe('It cannot be cut from what there is.');
    expect(fullness?.take).toBeNull();
    expect(depth?.sentence).toBe('At its fullness it cannot be cut in any depth.');
    const stock = stockOf(house);
    bolt(stock.lotId, '1 cm');
    const short = await backwards(await ring(stock, { name: 'Tier 2' }));
    expect(short.fullness?.sentence).toBe('No way was found to cut it from what there is; not proved.');
  });

  it('is taken over into the form, where it is worked out before it is saved', async () => {
    const stock = stockOf(house);
    const tierId = await ring(stock);
    bolt(stock.lotId, '1 m');
    const { fullness } = await backwards(tierId);
    expect(fullness?.take?.text).toBe('Make it 4.57× full');
    const form = await house.data(fullness?.take?.href ?? '');
    expect(standingIn(form.body.fields)).toMatchObject({ fullness: '4.57', depth: '30', name: '' });
    expect(form.body.preview.tier.strips).toBe(3);
    const page = await house.page(`/garments/${code}/tiers/${tierId}`);
    expect(page.text).toContain('value="3"');
  });
});

describe('how deep a tier can be', () => {
  it('shares a piece among the strips that the fullness wants', async () => {
    const stock = stockOf(house);
    const tierId = await ring(stock);
    bolt(stock.lotId, '85.5 cm');
    // Two strips of 145 cm make 290 of 285 cm: each can be 42.7 cm deep to the millimetre.
    const { depth } = await backwards(tierId);
    expect(depth?.sentence).toBe('At 3× the cloth would do for a depth of 42.7 cm.');
    const form = await house.data(depth?.take?.href ?? '');
    expect(form.body.fields.depth.value).toBe('42.7');
  });

  it('leaves room for the allowances', async () => {
    const stock = stockOf(house);
    const tierId = await ring(stock, { heading: '2', hang_seam: '1.5', hem: '1' });
    bolt(stock.lotId, '80 cm');
    const { depth } = await backwards(tierId);
    expect(depth?.sentence).toBe('At 3× the cloth would do for a depth of 35.5 cm.');
    expect(depth?.more).toMatch(/cut 40 cm deep/);
  });
});

describe('which strip wastes least', () => {
  it('tells what the whole usable width saves against strips of 130 cm', async () => {
    // A ring of 10 m, twice full: 2000 ÷ 128 = 15.6: 16 strips of 130 cm; 2000 ÷ 145 = 13.8: 14 of 147 cm.
    const girths = [
      { drop: '0', girth: '1000' },
      { drop: '100', girth: '1000' },
    ];
    code = await makeGarment(house, { girths });
    const tierId = await ring(stockOf(house), { fullness: '2', strip_length: '130' });
    const { lengths } = await backwards(tierId);
    expect(lengths?.best.sentence).toBe(
      'Strips of the whole usable width of 147 cm instead of 130 cm save 0.6 m of cloth and 2 seams.',
    );
    // 16 × 130 × 30 of 480 × 147 cm: 11.6 % are wasted. Halves: 2000 ÷ 71.5 = 28 strips in 14 drops, none wasted.
    expect(lengths?.rows.slice(0, 3)).toMatchObject([
      { now: true, strips: 16, seams: 16, cloth: '4.8 m', waste: '12 %' },
      { best: true, strips: 14, seams: 14, cloth: '4.2 m', waste: '0 %' },
      { length: '73.5 cm', strips: 28, cloth: '4.2 m', waste: '0 %' },
    ]);
    const form = await house.data(lengths?.best.take?.href ?? '');
    expect(form.body.fields.strip_length.value).toBe('');
    expect(form.body.preview.tier.strips).toBe(14);
  });

  it('says so where the present strip is the best', async () => {
    const { lengths } = await backwards(await ring(stockOf(house)));
    expect(lengths?.best.sentence).toMatch(/take least cloth: they are what is cut now/);
    expect(lengths?.best.take).toBeNull();
  });

  it('looks at the depth where strips lie along the cloth', async () => {
    const fields = { direction: 'along', strip_length: '300', depth: '30' };
    const { lengths } = await backwards(await ring(stockOf(house), fields));
    // 147 ÷ 30: four side by side, 27 cm beside; four of 36.7 cm fit as well.
    expect(lengths?.best.sentence).toBe(
      'Along the cloth 4 strips lie side by side in 147 cm, and 27 cm are left beside.',
    );
    expect(lengths?.best.take?.text).toBe('Make it 36.7 cm deep');
  });
});

describe('a tier backwards', () => {
  it('counts what is cut and held for it, and stays with the lot that was cut into', async () => {
    const stock = stockOf(house);
    const other = house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId));
    const tierId = await ring(stock);
    const piece = bolt(stock.lotId, '95 cm');
    bolt(other, '20 m');
    const measured = { lengthTicks: length('30 cm'), typed: '30 cm' };
    house.write((tx) => {
      holdLength(tx, piece.id, tierId, { ...measured, lengthTicks: length('60 cm') });
      cutLength(tx, piece.id, { ...measured, tierId, strips: 1 });
    });
    const { supply, fullness } = await backwards(tierId);
    expect(supply[0]?.text).toMatch(
      /^20\.35 m free in 2 pieces of 2 lots; 0\.3 m held for it; 1 of 2 strips cut/,
    );
    // One strip is cut; 30 cm are held and 35 cm free: a drop each. Three strips: 435 ÷ 95 = 4.578….
    expect(fullness?.sentence).toBe('The cloth would do for 4.57×, with 3 strips.');
  });

  it('is not there for what does not exist, and offers nothing for a finished garment', async () => {
    const stock = stockOf(house);
    const tierId = await ring(stock);
    bolt(stock.lotId, '2 m');
    expect((await house.page(`/garments/${code}/tiers/${tierId + 99}/backwards`)).status).toBe(404);
    expect((await house.page(`/garments/${code}/tiers/x/backwards`)).status).toBe(404);
    await house.send(`/garments/${code}/finished`, {});
    const { fullness, depth } = await backwards(tierId);
    expect([fullness?.take, depth?.take]).toEqual([null, null]);
  });

  it('says where the tier itself cannot be worked out', async () => {
    const stock = stockOf(house);
    const tierId = await ring(stock);
    await house.send(`/garments/${code}/tiers/${tierId}/taken-out`, {});
    const { trouble, fullness } = await backwards(tierId);
    expect(trouble).toMatch(/cannot be worked out/);
    expect(fullness).toBeNull();
  });
});

describe('a tier that is cut', () => {
  it('stays as full and as deep as it is', async () => {
    const stock = stockOf(house);
    const tierId = await ring(stock);
    const { id } = bolt(stock.lotId, '20 m');
    // 3 × 95 cm are two strips that give 145 cm each.
    const asked = { lengthTicks: length('62 cm'), typed: '', tierId, strips: 2 };
    house.write((tx) => cutLength(tx, id, asked));
    const { fullness, depth, lengths } = await backwards(tierId);
    expect(fullness).toEqual({
      sentence: 'Its fullness stays at 3×.',
      more: 'All its strips are cut.',
      take: null,
    });
    expect(depth).toEqual({
      sentence: 'Its depth stays at 30 cm.',
      more: 'All its strips are cut.',
      take: null,
    });
    expect(lengths).toBeNull();
  });
});
