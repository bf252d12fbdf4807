import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import {
  CONE,
  makeGarment,
  makeTierOf,
  pageOf,
  problemsOf,
  stockOf,
  tierFields,
  tierOfPage,
  useImperial,
  workedOf,
} from '../making.ts';

let house: TestHouse;
let stock: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterEach(() => house.shut());

describe('the strips of a tier', () => {
  // Baldt, Clothing for Women, 1916: total ÷ width. 285 ÷ 57 is 5 exactly; adding a closing allowance first gives 6.
  it('are 5 for a ring of 95 in at fullness 3 in strips of 58 in with seams of ½ in', async () => {
    useImperial(house);
    const cloth = stockOf(house, { usableWidth: '58 in' });
    const girths = [
      { drop: '0', girth: '95' },
      { drop: '40', girth: '120' },
    ];
    const code = await makeGarment(house, { girths });
    const fields = { depth: '10', seam: '1/2', hang_seam: '5/8', hem: '3/8' };
    await makeTierOf(house, code, cloth, fields);
    const tier = workedOf(await tierOfPage(house, code));
    expect(tier).toMatchObject({ strips: 5, finishedLength: '95 in', cutDepth: '11 in' });
    expect(tier.figures).toEqual([
      { label: 'Flat length', wanted: '285 in', got: '285 in' },
      { label: 'Fullness', wanted: '3×', got: '3×' },
    ]);
    expect(tier.shades).toMatchObject([{ letter: 'A', strips: 5, size: '11 in × 58 in', lots: 'one lot' }]);
    expect(tier.steps).toEqual([
      '10 in finished + ⅝ in gathering seam allowance + ⅜ in hem = 11 in cut depth',
      '95 in girth × 3 full = 285 in flat, wanted',
      '58 in strip − 2 × ½ in seam = 57 in from each strip',
      '285 in ÷ 57 in = 5 exactly, so 5 strips',
      '5 × 57 in = 285 in flat, got; 285 in ÷ 95 in = 3 exactly, the fullness got',
    ]);
  });

  // An open band of 95 cm × 3 = 285 cm with ends of 2 cm and seams of 1 cm: 285 + 4 − 2 = 287; 287 ÷ 48 = 5.979.
  it('of an open band owe two ends and one seam less', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock, { closing: 'open', end: '2', strip_length: '50' });
    const tier = workedOf(await tierOfPage(house, code));
    expect(tier).toMatchObject({ strips: 6, closing: 'Open' });
    expect(tier.steps).toContain(
      '285 cm + 2 × 2 cm end − 2 × 1 cm seam, as there is one seam fewer than strips = 287 cm to join',
    );
    expect(tier.steps).toContain('287 cm ÷ 48 cm ≈ 5.979, so 6 strips');
    // 6 × 48 − 4 + 2 = 286; 286 ÷ 95 = 3.0105.
    expect(tier.figures[0]).toEqual({ label: 'Flat length', wanted: '285 cm', got: '286 cm' });
    expect(tier.figures[1]?.got).toBe('3.01×');
  });

  // The reference case of a repeat: 324 ÷ 57 = 5.684, so 6; made up to whole repeats of 4, 8; 8 × 57 ÷ 108 = 4.222.
  it('make up whole repeats of the colour blocks, and say how full that makes it', async () => {
    useImperial(house);
    const cloth = stockOf(house, { usableWidth: '58 in' });
    const other = stockOf(house);
    const girths = [
      { drop: '0', girth: '108' },
      { drop: '40', girth: '120' },
    ];
    const code = await makeGarment(house, { girths });
    const blocks = [
      { shade_id: String(cloth.shadeId), strips: '3', lots: '' },
      { shade_id: String(other.shadeId), strips: '1', lots: 'any' },
    ];
    await makeTierOf(house, code, cloth, { depth: '10', seam: '1/2', blocks, finish_repeat: 'yes' });
    const tier = workedOf(await tierOfPage(house, code));
    expect(tier.strips).toBe(8);
    expect(tier.shades).toMatchObject([
      { letter: 'A', strips: 6, lots: 'one lot' },
      { letter: 'B', strips: 2, lots: 'any lots' },
    ]);
    expect(tier.steps).toContain('6 strips made up to whole repeats of 4: 8 strips');
    expect(tier.figures[1]?.got).toBe('4.222×');
    expect((await pageOf(house, code)).warnings).toEqual([
      'Tier 1 is 4.222× full instead of 3×, as its repeat of 4 strips is finished.',
    ]);
  });

  it('are those of the girth at the drop: 45 cm down a cone that gains 2 cm a centimetre is 185 cm round', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock, { drop: '45', fullness: '2' });
    const tier = workedOf(await tierOfPage(house, code));
    expect(tier.hangs).toBe('Hangs from the form at a drop of 45 cm, where it is 185 cm round');
    // 370 ÷ 145 = 2.55
    expect(tier.strips).toBe(3);
  });

  it('of a ruffle are gathered onto the edge of the tier above: 2 × 145 = 290 cm', async () => {
    const code = await makeGarment(house);
    const above = await makeTierOf(house, code, stock);
    const fields = { name: 'Ruffle', hangs: `edge-${above}`, drop: '', fullness: '2', depth: '10' };
    await makeTierOf(house, code, stock, fields);
    const ruffle = workedOf(await tierOfPage(house, code, 'Ruffle'));
    expect(ruffle.hangs).toBe('Edges Tier 1, whose lower edge is 290 cm long');
    // 580 ÷ 145 = 4
    expect(ruffle.strips).toBe(4);
    const page = await pageOf(house, code);
    expect(page.tiers.map(({ name }) => name)).toEqual(['Tier 1', 'Ruffle (1r)']);
    // 2 strips of 30 cm and 4 of 10 cm depth: 60 + 40 = 100 cm of fresh cloth.
    expect(page.needs).toMatchObject([{ strips: 6, length: '1 m', met: { held: 0, free: 0, short: 6 } }]);
  });
});

describe('what a tier is refused', () => {
  it('fullness below 1, a drop beyond the form, strips narrower than their seams, each at its field', async () => {
    const code = await makeGarment(house);
    const wrong: [object, string, string][] = [
      [{ fullness: '0.9' }, 'fullness', '1 is flat'],
      [{ drop: '101' }, 'drop', 'below the lowest girth'],
      [{ strip_length: '2' }, 'strip_length', 'longer than its two seam allowances'],
      [{ strip_length: '148' }, 'strip_length', 'longer than the usable width'],
      [{ depth: '' }, 'depth', ''],
      [{ drop: '' }, 'drop', 'Give the drop'],
      [{ cloth_id: '999' }, 'cloth_id', 'Choose a cloth'],
      [{ hangs: 'edge-999' }, 'hangs', 'Choose what it hangs from'],
      [{ closing: 'half' }, 'closing', 'Choose ring or open'],
      [{ blocks: [] }, 'blocks', 'at least one of the colour blocks'],
      [{ blocks: [{ shade_id: '999', strips: '1' }] }, 'blocks.0.shade_id', 'Choose a shade'],
      [{ blocks: [{ shade_id: '1', strips: '0' }] }, 'blocks.0.strips', '1 or more'],
      [{ hem: '-1' }, 'hem', 'negative'],
      [{ colour: 'red' }, '', 'no field colour'],
    ];
    for (const [fields, field, message] of wrong) {
      const answer = await house.send(`/garments/${code}/tiers/new`, tierFields(stock, fields));
      expect([answer.status, fields]).toEqual([422, fields]);
      expect(Object.keys(problemsOf(answer))).toEqual([field]);
      expect(problemsOf(answer)[field]).toContain(message);
    }
    expect((await pageOf(house, code)).tiers).toEqual([]);
  });

  it('to edge itself by way of others: the loop is named', async () => {
    const code = await makeGarment(house);
    const one = await makeTierOf(house, code, stock);
    const two = await makeTierOf(house, code, stock, { name: '', hangs: `edge-${one}` });
    await makeTierOf(house, code, stock, { name: '', hangs: `edge-${two}` });
    const three = (await tierOfPage(house, code, 'Tier 1rr')).id;
    const fields = tierFields(stock, { hangs: `edge-${three}` });
    const answer = await house.send(`/garments/${code}/tiers/${one}`, fields);
    expect(answer.status).toBe(422);
    expect(problemsOf(answer)).toEqual({
      hangs:
        'Tier 1 edges Tier 1rr, which edges Tier 1r, which edges Tier 1: one tier of a loop must hang from the form.',
    });
    const self = tierFields(stock, { hangs: `edge-${one}` });
    expect((await house.send(`/garments/${code}/tiers/${one}`, self)).status).toBe(422);
  });

  it('the name of another tier of the garment, and a change on top of somebody else’s', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock, { name: 'Foam' });
    const twin = await house.send(`/garments/${code}/tiers/new`, tierFields(stock, { name: 'Foam' }));
    expect(problemsOf(twin)).toEqual({ name: `${code} has a Foam already.` });
    const id = await makeTierOf(house, code, stock, { drop: '60' });
    await house.send(`/garments/${code}/tiers/${id}`, tierFields(stock, { depth: '31', version: '1' }));
    const late = await house.send(
      `/garments/${code}/tiers/${id}`,
      tierFields(stock, { depth: '32', version: '1' }),
    );
    expect(late.status).toBe(409);
    expect(late.body.error.problems[0].message).toContain('Tier 2 was changed by Maker');
  });
});

describe('a form that no longer reaches', () => {
  it('leaves the tier in sight, with the reason, and takes nothing else down with it', async () => {
    const code = await makeGarment(house);
    const low = await makeTierOf(house, code, stock, { name: 'Low', drop: '90' });
    await makeTierOf(house, code, stock, { name: 'Edge', hangs: `edge-${low}`, depth: '5' });
    await makeTierOf(house, code, stock, { name: 'High' });
    const girths = [CONE.girths[0], { drop: '50', girth: '195' }];
    await house.send(`/garments/${code}/edit`, { ...CONE, girths });
    const page = await pageOf(house, code);
    const said = Object.fromEntries(page.tiers.map(({ name, problems }) => [name, problems]));
    expect(said).toEqual({
      'High (1)': [],
      'Low (2)': ['This drop is below the lowest girth of the form: add a girth further down.'],
      'Edge (2r)': ['It edges Low (2), which cannot be worked out.'],
    });
    const list = (await house.data('/garments')).body.open[0];
    expect(list.trouble).toBe('1 tier cannot be worked out');
    const short = (await house.data('/short')).body;
    expect(short.troubles[0].text).toContain(`Low (2) of ${code}: This drop is below`);
    expect((await house.page(`/garments/${code}`)).text).toContain('Not worked out');
  });
});
