import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { sewingPage } from '../../../../server/garments/sewing/page.ts';
import { stripsArea } from '../../../../src/garment/weight.ts';
import { mixed } from '../../../lengths.ts';
import { length, openTestHouse, type TestHouse } from '../../support.ts';
import { asForm, makeGarment, makeTierOf, stockOf, tierFields, useImperial } from '../making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

type SewingPageData = ReturnType<typeof sewingPage>['data'];

const sewingOf = async (code: string): Promise<SewingPageData> =>
  (await house.data(`/garments/${code}/sewing`)).body;
const total = (data: SewingPageData, label: string) =>
  data.totals.find((figure) => figure.label === label)?.text;
const jobOf = (data: SewingPageData, what: string, tier = 0) =>
  data.tiers[tier]?.jobs.find((job) => job.what === what);

const RATE = {
  rate: '1.5',
  passes: '1',
  stitch: '301',
  measured: '',
  stitches: '',
  thickness: '',
  stitch_width: '',
};
const rate = (job: string, fields: object = {}) =>
  house.send(`/setup/rates/${job}`, { ...RATE, passes: job === 'gathering' ? '2' : '1', ...fields });
const whole = (fields: object = {}) =>
  house.send('/setup/rates', { waste: '15', put_up: '', metric_step: '10', imperial_step: '1/8', ...fields });

describe('the sewing of a garment', () => {
  it('says that there is nothing to sew yet', async () => {
    const page = await house.page(`/garments/${await makeGarment(house)}/sewing`);
    expect(page.status).toBe(200);
    expect(page.text).toContain('No tier is worked out yet');
    expect((await house.page('/garments/G99/sewing')).status).toBe(404);
  });

  it('tells seams, hem, gathering and attaching, worked out by hand', async () => {
    // 95 cm × 3 = 285 cm; 147 − 2 = 145 cm from a strip: 2 strips, 290 cm flat, 30 cm deep.
    const code = await makeGarment(house);
    await makeTierOf(house, code, stockOf(house));
    const data = await sewingOf(code);
    expect(Object.fromEntries(data.totals.map(({ label, text }) => [label, text]))).toEqual({
      Strips: '2',
      Seams: '2, 0.6 m',
      Hems: '2.9 m',
      Gathering: '2.9 m',
      Attaching: '0.95 m',
      'Cut area': '0.882 m²',
      'Cloth weighs': '26.5 g',
      'Sewing time': 'not known',
    });
    expect(data.tiers[0]?.figures).toEqual([
      { label: 'Flat length', wanted: '285 cm', got: '290 cm' },
      { label: 'Fullness', wanted: '3×', got: '3.052×' },
    ]);
  });

  it('explains the length of cloth, step by step', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stockOf(house), { strip_length: '72' });
    const [cloth] = (await sewingOf(code)).cloths;
    // 285 ÷ (72 − 2) = 4.07: 5 strips, two in a drop: 3 drops of 30 cm are 90 cm, or 35 7/16 in.
    expect(cloth).toMatchObject({ strips: 5, length: { exact: '0.9 m', metric: '90 cm', imperial: '1 yd' } });
    expect(cloth?.sizes).toEqual([
      {
        size: '30 cm × 72 cm',
        steps: [
          'The length of a strip lies across the cloth',
          '147 cm usable width ÷ 72 cm strip length, rounded down: 2 strips in a cut length, 3 cm left beside',
          '5 strips ÷ 2, rounded up: 3 cut lengths',
          '3 cut lengths × 30 cm strip depth = 90 cm of cloth',
        ],
      },
    ]);
  });

  it('shows six strips of 58 × 10 in at 30 g/m² as 67.4 g, and 1¾ yd of cloth (area × mass per area, by hand)', async () => {
    const code = await makeGarment(house, {
      girths: [
        { drop: '0', girth: '108 in' },
        { drop: '40 in', girth: '108 in' },
      ],
    });
    const stock = stockOf(house, { usableWidth: '58 in' });
    await makeTierOf(house, code, stock, { seam: '1/2 in', depth: '10 in' });
    const page = await house.page(`/garments/${code}/sewing`);
    expect(page.text).toMatch(/<dt>Cloth weighs<\/dt><dd>67\.4 g<\/dd>/);
    expect(page.text).toContain('1¾ yd');
    expect(page.text).toContain('160 cm');
    useImperial(house);
    expect(total(await sewingOf(code), 'Cloth weighs')).toBe('2.38 oz');
  });

  it('adds up what the waist carries, down the chain, and names where each hangs', async () => {
    const code = await makeGarment(house);
    const stock = stockOf(house);
    const first = await makeTierOf(house, code, stock);
    await makeTierOf(house, code, stock, {
      name: 'Ruffle',
      hangs: `edge-${first}`,
      drop: '',
      depth: '10',
      fullness: '2',
    });
    const data = await sewingOf(code);
    // The ruffle: 290 × 2 = 580 cm, 4 strips of 147 × 10 cm = 0.588 m² = 17.64 g; the tier 26.46 g.
    expect(data.waist).toBe('44.1 g');
    expect(data.tiers.map(({ brief }) => [brief.from, brief.carries])).toEqual([
      ['form, drop 0 cm', '44.1 g'],
      ['edge of Tier 1', '17.6 g'],
    ]);
    expect(data.tiers.map(({ massMg, carriesMg }) => [massMg, carriesMg])).toEqual([
      [26_460, 44_100],
      [17_640, 17_640],
    ]);
  });

  it('invents no mass for cloth that nobody has weighed', async () => {
    const code = await makeGarment(house);
    const stock = stockOf(house);
    await makeTierOf(house, code, stock);
    house.write((tx) =>
      tx.run(tx.db.updateTable('cloth').set({ mass_per_area_mg_m2: null }).where('id', '=', stock.clothId)),
    );
    const data = await sewingOf(code);
    expect([total(data, 'Cloth weighs'), data.waist]).toEqual(['not known', 'not known']);
    expect(data.missing[0]).toMatchObject({ href: `/shelf/cloths/${stock.clothId}/edit` });
    await makeTierOf(house, code, stockOf(house), { name: 'Tier 2' });
    expect((await sewingOf(code)).waist).toBe('at least 26.5 g');
  });
});

describe('a tier that is being changed', () => {
  it('has its fresh cloth and its mass previewed before it is saved', async () => {
    const code = await makeGarment(house);
    const stock = stockOf(house);
    const asked = { ...tierFields(stock), act: 'work-out' };
    const { body } = await house.send(`/garments/${code}/tiers/new`, asked);
    // 2 strips of 147 × 30 cm at 30 g/m², in two drops.
    expect(body.preview.takes).toEqual([
      expect.stringMatching(/^Fresh cloth by itself: 0\.6 m in A Shade \d+\.$/),
      'Its cloth weighs 26.5 g as it is cut.',
    ]);
    house.write((tx) =>
      tx.run(tx.db.updateTable('cloth').set({ mass_per_area_mg_m2: null }).where('id', '=', stock.clothId)),
    );
    const again = await house.submit(`/garments/${code}/tiers/new`, asForm(asked));
    expect(again.text).toContain('No mass per area of its cloth is known, so it is not weighed.');
  });
});

describe('thread and time', () => {
  it('are asked for where they are missing, by a link to the figure', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stockOf(house));
    const { missing } = await sewingOf(code);
    for (const job of ['plain', 'narrow', 'gathering', 'attaching']) {
      expect(missing.filter(({ href }) => href === `/setup/rates/${job}`)).toHaveLength(2);
    }
    const page = await house.page(`/garments/${code}/sewing`);
    expect(page.text).toContain('10 figures are missing');
  });

  it('take the workroom’s own rate, with its passes', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stockOf(house));
    await rate('gathering');
    let data = await sewingOf(code);
    // 2.9 m in two rows at 1.5 m a minute: 3.87 min.
    expect(jobOf(data, 'Gathering')?.time).toBe('3.9 min');
    expect(total(data, 'Sewing time')).toBe('at least 3.9 min');
    for (const job of ['plain', 'narrow', 'attaching']) await rate(job);
    data = await sewingOf(code);
    // And 0.6, 2.9 and 0.95 m once, each up to a tenth of a minute: 3.9 + 0.4 + 2 + 0.7 = 7 min, as a pencil adds them up.
    expect(data.tiers[0]?.jobs.map(({ time }) => time)).toEqual(['0.4 min', '2 min', '3.9 min', '0.7 min']);
    expect(data.tiers[0]?.brief.time).toBe('7 min');
    expect(total(data, 'Sewing time')).toBe('7 min');
  });

  it('take the flat figure of a stitch, or the measured one, and the waste', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stockOf(house));
    await whole();
    await rate('attaching', { stitch: '401' });
    // 0.95 m of 401 at 5.4 (apparelscience.com) with 15 % waste: 5.90 m.
    expect(jobOf(await sewingOf(code), 'Attaching tiers')).toMatchObject({
      ratio: '1.3 + 4.1, from a table',
      thread: '5.9 m',
    });
    await rate('attaching', { stitch: '401', measured: '6' });
    expect(jobOf(await sewingOf(code), 'Attaching tiers')).toMatchObject({
      ratio: '6, measured here',
      thread: '6.56 m',
    });
    await rate('attaching', { stitch: '504' });
    const data = await sewingOf(code);
    expect(jobOf(data, 'Attaching tiers')).toMatchObject({ ratio: 'measure a sample', thread: '' });
    expect(data.missing.some(({ text }) => text.includes('sources differ'))).toBe(true);
  });

  it('meet 621 cm for a metre of 401 with 15 % waste on the page (apparelscience.com)', async () => {
    const code = await makeGarment(house, {
      girths: [
        { drop: '0', girth: '100' },
        { drop: '100', girth: '100' },
      ],
    });
    await makeTierOf(house, code, stockOf(house));
    await whole({ metric_step: '10' });
    await rate('attaching', { stitch: '401' });
    const page = await house.page(`/garments/${code}/sewing`);
    expect(page.text).toContain('6.21 m');
    const [colour] = (await sewingOf(code)).colours;
    expect(colour?.stitches).toBe('401: 6.21 m');
  });

  it('count cones by colour, for each thread of a machine', async () => {
    const code = await makeGarment(house);
    const stock = stockOf(house);
    await makeTierOf(house, code, stock);
    await whole({ waste: '0', put_up: '10' });
    for (const job of ['plain', 'narrow', 'gathering', 'attaching']) await rate(job);
    // 10.25 m of 301 take 12.81 m of needle and as much of bobbin thread: two cones of 10 m each.
    expect((await sewingOf(code)).colours).toMatchObject([{ length: '25.63 m', cones: '4' }]);
    await rate('plain', { stitch: '304' });
    // 0.6 m of 304 take 3.3 m, of needle and bobbin nobody knows how much: 2 cones are enough, beside 2 + 2.
    expect((await sewingOf(code)).colours).toMatchObject([{ cones: '6 are enough' }]);
  });

  it('are in the colour that was chosen for a tier, till it is given up again', async () => {
    const code = await makeGarment(house);
    const [stock, other] = [stockOf(house), stockOf(house)];
    const tierId = await makeTierOf(house, code, stock);
    const colours = async () => (await sewingOf(code)).colours.map(({ chip }) => chip.href);
    expect(await colours()).toEqual([`/shelf/shades/${stock.shadeId}`]);
    const path = `/garments/${code}/tiers/${tierId}/thread`;
    const chosen = await house.submit(path, { shade_id: String(other.shadeId) });
    expect(chosen.status).toBe(303);
    expect(await colours()).toEqual([`/shelf/shades/${other.shadeId}`]);
    await house.submit(path, { shade_id: '' });
    expect(await colours()).toEqual([`/shelf/shades/${stock.shadeId}`]);
    expect((await house.submit(path, { shade_id: '999999' })).status).toBe(422);
    await house.send(`/garments/${code}/finished`, {});
    expect((await house.submit(path, { shade_id: String(other.shadeId) })).status).toBe(409);
    expect((await sewingOf(code)).choose).toEqual([]);
  });
});

describe('every tier that can be made', () => {
  it('weighs its cut area times the mass per area, alike in both systems', async () => {
    const stock = stockOf(house);
    const sixteenth = fc.integer({ min: 16, max: 400 });
    const tier = fc.record({
      depth: sixteenth,
      seam: fc.nat(16),
      fullness: fc.integer({ min: 1000, max: 5000 }),
    });
    await fc.assert(
      fc.asyncProperty(tier, async ({ depth, seam, fullness }) => {
        const inches = { depth: `${mixed(depth, 16)} in`, seam: `${mixed(seam, 16)} in` };
        const mm = (sixteenths: number) => `${((sixteenths * 25.4) / 16).toFixed(4)} mm`;
        const metric = { depth: mm(depth), seam: mm(seam) };
        const found: SewingPageData['tiers'][number][] = [];
        for (const sizes of [inches, metric]) {
          const code = await makeGarment(house);
          await makeTierOf(house, code, stock, { ...sizes, fullness: String(fullness / 1000) });
          const [only] = (await sewingOf(code)).tiers;
          if (!only) throw new Error('a tier was made');
          found.push(only);
        }
        const [first, second] = found;
        const count = first?.strips[0]?.strips ?? 0;
        expect(second?.strips.map(({ strips }) => strips)).toEqual(first?.strips.map(({ strips }) => strips));
        const area = stripsArea([{ depthTicks: length(inches.depth), lengthTicks: length('147 cm'), count }]);
        const massMg = Number((area * 30_000n * 2n + 160_000n ** 2n) / (2n * 160_000n ** 2n));
        expect([first?.massMg, second?.massMg]).toEqual([massMg, massMg]);
      }),
      { numRuns: 15 },
    );
  });
});
