import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { quickBandPage } from '../../../../server/garments/quick/band.ts';
import { mixed } from '../../../lengths.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { problemsOf } from '../making.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

const address = (fields: Record<string, string>) => `/garments/quick?${new URLSearchParams(fields)}`;

/** 95 in, three times full, of 58 in with seams of ½ in. */
const BAND = {
  base: '95',
  closing: 'ring',
  fullness: '3',
  usable_width: '58',
  seam: '1/2',
  cut_depth: '10',
  unit: 'in',
};

async function resultOf(
  fields: Record<string, string>,
): Promise<NonNullable<ReturnType<typeof quickBandPage>['data']['result']>> {
  const { status, body } = await house.data(address(fields));
  if (status !== 200) throw new Error(JSON.stringify(body));
  return body.result;
}

describe('the quick tier', () => {
  it('asks before it answers', async () => {
    const page = await house.page('/garments/quick');
    expect(page.status).toBe(200);
    expect(page.text).toContain('stand here once');
    expect((await house.data('/garments/quick')).body.result).toBeNull();
    expect((await house.page('/garments')).text).toContain('href="/garments/quick"');
  });

  it('takes 5 strips for 95 in, where the naive form takes 6 (total ÷ width as in Baldt 1916, by hand)', async () => {
    const page = await house.page(address(BAND));
    // 285 in ÷ (58 − 1) in is 5 exactly; adding a closing allowance of an inch would make it 6.
    expect(page.text).toMatch(/<dt>Strips to cut<\/dt><dd>5<\/dd>/);
    expect(page.text).toContain('= 5 exactly, so 5 strips');
    expect(await resultOf({ ...BAND, base: '108' })).toMatchObject({ strips: 6, seams: 6 });
  });

  it('takes 60 in for six cross cuts of 10 in: 1¾ yd at an eighth, 160 cm at 10 cm (common practice)', async () => {
    const { cloth, drops, columns } = await resultOf({ ...BAND, base: '108' });
    expect([drops, columns]).toEqual([6, 1]);
    expect(cloth).toMatchObject({ atShopImperial: '1¾ yd', atShopMetric: '160 cm' });
    expect(cloth).toMatchObject({ exactMetric: '1.524 m', exactImperial: '1 yd 24 in' });
  });

  it('takes 14 cuts of 13 in and 5 in more to 5¼ yd (annasmountaintreasures.blogspot 2013)', async () => {
    // 14 widths of 45 in round a ring: the source counts cuts, so the base is what 14 of them are gathered onto.
    const tiers = { ...BAND, usable_width: '45', seam: '0', base: '630', fullness: '1', cut_depth: '13' };
    const page = await house.page(address({ ...tiers, extra: '5' }));
    expect(page.text).toContain('182 in + 5 in more = 187 in of cloth in all');
    expect(page.text).toContain('<b>5¼ yd</b>');
  });

  it('joins 554 in for a ruffle of 220 in, 2½ times full, with 4 in for the ends (homeguides.sfgate.com 97685)', async () => {
    const ruffle = { ...BAND, base: '220', fullness: '2.5', closing: 'open', end: '2', seam: '0' };
    const page = await house.page(address(ruffle));
    expect(page.text).toMatch(/550 in \+ 2 × 2 in end − 2 × 0 in seam.* = 554 in to join/);
  });

  it('lays strips beside each other, along the cloth, or whichever is shorter', async () => {
    const metric = { ...BAND, unit: 'cm', base: '290', usable_width: '147', seam: '1', cut_depth: '32' };
    // 870 ÷ (72 − 2) = 12.4…: 13 strips, two in a drop: 7 drops of 32 cm.
    expect(await resultOf({ ...metric, strip_length: '72' })).toMatchObject({
      strips: 13,
      columns: 2,
      drops: 7,
    });
    // 870 ÷ 298 = 2.9…: 3 strips of 300 cm, four of 32 cm side by side.
    const along = await resultOf({ ...metric, strip_length: '300', direction: 'along' });
    expect(along).toMatchObject({ strips: 3, columns: 4, drops: 1, lies: 'along' });
    expect(along.cloth.exactMetric).toBe('3 m');
    const either = await resultOf({ ...metric, strip_length: '140', direction: 'either' });
    // 870 ÷ 138 = 6.3…: 7 strips; across 7 × 32 = 224 cm, along 2 × 140 = 280 cm.
    expect(either).toMatchObject({ lies: 'across', strips: 7 });
    expect(either.cloth.exactMetric).toBe('2.24 m');
  });

  it('adds up a finished depth and its allowances, and does with a strip length alone', async () => {
    const { cut_depth: _, usable_width: __, ...rest } = BAND;
    const fields = { ...rest, strip_length: '58', depth: '8', heading: '1', hang_seam: '5/8', hem: '3/8' };
    expect(await resultOf(fields)).toMatchObject({ strips: 5, columns: 1, cutDepthTicks: 10 * 4064 });
  });

  it('prices the length at the step of the shop, in the unit of the price', async () => {
    // 60 in: 1.6 m at 7.50 a metre, 1¾ yd at 8 a yard; 60 in are 1⅔ yd.
    const six = { ...BAND, base: '108' };
    expect((await resultOf({ ...six, price: '7.50', price_per: 'm' })).price).toMatchObject({
      atShop: '€12.00',
      exact: '€11.43',
    });
    expect((await resultOf({ ...six, price: '8', price_per: 'yd' })).price).toMatchObject({
      atShop: '€14.00',
      exact: '€13.33',
    });
  });

  it('gives the same strips for one band typed in inches and in millimetres', async () => {
    const quarters = fc.integer({ min: 1, max: 400 });
    const band = fc.record({
      base: quarters,
      width: quarters,
      seam: fc.nat(6),
      full: fc.integer({ min: 1000, max: 6000 }),
    });
    await fc.assert(
      fc.asyncProperty(band, async ({ base, width, seam, full }) => {
        const common = { closing: 'open', fullness: String(full / 1000), end: '1 cm' };
        const asked = (unit: 'in' | 'mm') => {
          const length = (quarter: number) =>
            unit === 'in' ? `${mixed(quarter, 4)} in` : `${(quarter * 6.35).toFixed(2)} mm`;
          return house.data(
            address({
              ...common,
              base: length(base),
              usable_width: length(width),
              seam: length(seam),
              cut_depth: length(12),
            }),
          );
        };
        const [inches, millimetres] = await Promise.all([asked('in'), asked('mm')]);
        expect(millimetres.status).toBe(inches.status);
        expect(millimetres.body.result?.strips).toBe(inches.body.result?.strips);
        expect(millimetres.body.result?.cloth.exactTicks).toBe(inches.body.result?.cloth.exactTicks);
      }),
      { numRuns: 40 },
    );
  });

  it('means the same to a reader of the other system', async () => {
    const metric = await resultOf(BAND);
    house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ length_system: 'imperial' })));
    const imperial = await resultOf(BAND);
    house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ length_system: 'metric' })));
    expect(imperial.cloth).toEqual(metric.cloth);
    const page = await house.page(address({ ...BAND, unit: '' }));
    expect(page.text).toContain('<input type="hidden" name="unit" value="cm">');
  });

  it('takes the steps of the shops from the rates', async () => {
    await house.send('/setup/rates', { waste: '', put_up: '', metric_step: '25', imperial_step: '1/4' });
    const { cloth } = await resultOf({ ...BAND, base: '108' });
    expect(cloth).toMatchObject({ atShopMetric: '175 cm', atShopImperial: '1¾ yd' });
    await house.send('/setup/rates', { waste: '', put_up: '', metric_step: '10', imperial_step: '1/8' });
  });
});

describe('bad input of the quick tier', () => {
  const refused = async (fields: Record<string, string>) => {
    const answer = await house.data(address({ ...BAND, ...fields }));
    expect(answer.status).toBe(422);
    return problemsOf(answer);
  };

  it('is told at its field', async () => {
    expect((await refused({ base: '0' })).base).toMatch(/too small/);
    expect((await refused({ base: '-5' })).base).toMatch(/negative/);
    expect((await refused({ fullness: '0.5' })).fullness).toMatch(/1 or more/);
    expect((await refused({ usable_width: '1' })).strip_length).toMatch(/longer than its two seam/);
    expect((await refused({ usable_width: '' })).usable_width).toMatch(/Give the usable width/);
    expect((await refused({ cut_depth: '' })).cut_depth).toMatch(/cut depth, or the finished depth/);
    expect((await refused({ depth: '3' })).depth).toMatch(/not both/);
    expect((await refused({ strip_length: '60' })).strip_length).toMatch(/longer than the usable width/);
    expect((await refused({ direction: 'along', strip_length: '90', cut_depth: '60' })).cut_depth).toMatch(
      /deeper than its usable width/,
    );
    expect((await refused({ direction: 'along' })).strip_length).toMatch(/Give the strip length/);
    expect((await refused({ price: '1,500' })).price).toMatch(/1\.5 or 1500|1,500/);
    expect((await refused({ colour: 'red' }))['']).toMatch(/no field colour/);
  });

  it('keeps what was typed, with the first problem on top', async () => {
    const asked = { ...BAND, fullness: 'lots', base: '95 ells', usable_width: '' };
    const page = await house.page(address(asked));
    expect(page.status).toBe(422);
    expect(page.text).toContain('value="lots"');
    expect(page.text).toContain('value="95 ells"');
    expect(page.text).toContain('Please fix 3 things');
  });

  it('is no fault of the server, whatever is asked', async () => {
    const text = fc.oneof(fc.constantFrom('', '0', '1e9', '½', '1/0', '9'.repeat(70), '-1'), fc.string());
    await fc.assert(
      fc.asyncProperty(fc.dictionary(fc.constantFrom(...Object.keys(BAND)), text), async (fields) => {
        const { status, text: shown } = await house.page(address({ ...BAND, ...fields }));
        expect([200, 422]).toContain(status);
        expect(shown).not.toMatch(/>[^<]*\b(NaN|Infinity|undefined)\b/);
      }),
      { numRuns: 60 },
    );
  });
});
