import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { makeGarment, stockOf, tierFields } from '../making.ts';

/** What a page prints when a figure is missing or was never worked out. */
const SPILLED = /undefined|NaN|Infinity|\[object|>null</;

let house: TestHouse;
let stocks: Stock[];
beforeAll(async () => {
  house = await openTestHouse();
  stocks = [stockOf(house), stockOf(house, { usableWidth: '110 cm' }), stockOf(house, { ground: true })];
});
afterAll(() => house.shut());

const millimetres = (min: number, max: number) =>
  fc.integer({ min, max }).map((tenths) => `${tenths / 10} mm`);
const tier = fc.record({
  drop: millimetres(0, 11_000),
  on: fc.record({ tier: fc.nat(4), how: fc.constantFrom('edge', 'face') }),
  free: fc.constantFrom('form', 'foundation'),
  height: millimetres(1, 3000),
  ratio: fc.nat(12),
  overlap: fc.oneof(fc.constant(''), millimetres(0, 900)),
  depth: millimetres(1, 9000),
  fullness: fc.integer({ min: 1000, max: 20_000 }).map((milli) => String(milli / 1000)),
  closing: fc.constantFrom('ring', 'open'),
  seam: millimetres(0, 300),
  end: millimetres(0, 900),
  heading: millimetres(0, 500),
  hem: millimetres(0, 300),
  strip_length: fc.oneof(fc.constant(''), millimetres(1, 16_000)),
  finish_repeat: fc.constantFrom('', 'yes'),
  hem_first: fc.constantFrom('', 'yes'),
  offset: fc.nat(9).map(String),
  direction: fc.constantFrom('across', 'along', 'either'),
  seam_kind: fc.constantFrom('plain', 'french', 'overlocked'),
  lower_edge: fc.constantFrom('rolled', 'narrow', 'faced', 'bound', 'raw'),
  upper_edge: fc.constantFrom('seam', 'rolled', 'raw'),
  cloth: fc.nat(2),
  blocks: fc.array(
    fc.record({
      shade: fc.nat(2),
      strips: fc.integer({ min: 1, max: 40 }),
      cloth: fc.nat(5),
      lots: fc.constantFrom('one', 'meet', 'any'),
    }),
    { minLength: 1, maxLength: 5 },
  ),
});
const garment = fc.record({
  waist: fc.integer({ min: 1, max: 20_000 }),
  steps: fc.array(
    fc.record({
      down: fc.integer({ min: 1, max: 9000 }),
      round: fc.integer({ min: 1, max: 60_000 }),
      hoop: fc.option(fc.integer({ min: 1, max: 20_000 })),
    }),
    {
      minLength: 1,
      maxLength: 4,
    },
  ),
  tiers: fc.array(tier, { maxLength: 5 }),
  profile: fc.constantFrom('straight', 'domed'),
  floor: fc.option(millimetres(3000, 20_000)),
  ease: millimetres(0, 900),
  imperial: fc.boolean(),
});
type Garment = typeof garment extends fc.Arbitrary<infer G> ? G : never;

/** Makes the garment with those of its tiers that are not refused; gives the pages to look at. */
async function pagesOf({ waist, steps, tiers, profile, floor, ease }: Garment): Promise<string[]> {
  let down = 0;
  const lower = steps.map((step) => {
    down += step.down;
    const drop = `${down / 10} mm`;
    if (step.hoop === null) return { drop, girth: `${step.round / 10} mm` };
    return { drop, width: `${step.hoop / 10} mm`, depth: `${step.round / 10} mm` };
  });
  const heights = floor === null ? {} : { waist_height: floor, clearance: '50 mm', front_drop: '9 m' };
  const drops = floor === null ? {} : { side_drop: '10 m', back_drop: '8 m' };
  const code = await makeGarment(house, {
    girths: [{ drop: '0', girth: `${waist / 10} mm` }, ...lower],
    ...{ profile, foundation_ease: ease, ...heights, ...drops },
  });
  const ids: string[] = [];
  const refused: string[] = [];
  for (const [place, { on, free, height, ratio, cloth, blocks, ...figures }] of tiers.entries()) {
    const stock = stocks[cloth] ?? stockOf(house);
    const fields = tierFields(stock, {
      ...figures,
      name: `Tier ${place + 1}`,
      hangs: ids[on.tier] ? `${on.how}-${ids[on.tier]}` : free,
      height: ids[on.tier] && on.how === 'face' ? height : '',
      ratio_tier_id: ids[ratio] ?? '',
      blocks: blocks.map(({ shade, strips, cloth: own, lots }) => ({
        shade_id: String(stocks[shade]?.shadeId ?? stock.shadeId),
        strips: String(strips),
        cloth_id: stocks[own] ? String(stocks[own].clothId) : '',
        lots,
      })),
    });
    const worked = await house.send(`/garments/${code}/tiers/new`, { ...fields, act: 'work-out' });
    const saved = await house.send(`/garments/${code}/tiers/new`, fields);
    // What can be worked out can be saved, and the other way round.
    expect(saved.status).toBe(worked.status);
    if (saved.status === 200) ids.push(saved.body.location.split('#tier-').at(-1));
    else refused.push(worked.text);
  }
  const answers = [
    `/garments/${code}/sewing`,
    ...ids.slice(0, 1).map((id) => `/garments/${code}/tiers/${id}/backwards`),
  ];
  const kept = ['book', 'versions/compare'].map((page) => `/garments/${code}/${page}`);
  const paths = [`/garments/${code}`, ...answers, ...kept, `/short?garment=${code}`, '/short', '/garments'];
  const forms = ids.map((id) => `/garments/${code}/tiers/${id}`);
  const texts = [...refused];
  for (const path of [...paths, ...forms]) {
    const page = await house.page(path);
    expect([path, page.status]).toEqual([path, 200]);
    texts.push(page.text);
  }
  await house.send(`/garments/${code}/finished`, {});
  return texts;
}

describe('pages of generated garments', () => {
  it('print no figure that is none, in either system', async () => {
    let looked = 0;
    await fc.assert(
      fc.asyncProperty(garment, async (made) => {
        house.write((tx) =>
          tx.run(tx.db.updateTable('workroom').set({ length_system: made.imperial ? 'imperial' : 'metric' })),
        );
        for (const text of await pagesOf(made)) {
          expect(SPILLED.exec(text)?.[0] ?? '').toBe('');
          looked += 1;
        }
      }),
      { numRuns: 40 },
    );
    expect(looked).toBeGreaterThan(240);
  });
});
