import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import {
  CONE,
  makeGarment,
  makeTierOf,
  pageOf,
  problemsOf,
  standingIn,
  stockOf,
  tierFields,
  tierOfPage,
  workedOf,
} from '../making.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house, { foundation_ease: '10' });
});
afterEach(() => house.shut());

async function refusalOf(fields: object, path = `/garments/${code}/tiers/new`) {
  const answer = await house.send(path, tierFields(stock, fields));
  expect([answer.status, fields]).toEqual([422, fields]);
  return problemsOf(answer);
}

describe('where a tier is sewn on', () => {
  it('is the foundation layer, wider than the form', async () => {
    await makeTierOf(house, code, stock, { hangs: 'foundation', drop: '40' });
    // 95 + 2 × 40 = 175 cm and 10 cm of ease.
    expect(workedOf(await tierOfPage(house, code)).hangs).toBe(
      'Hangs from the foundation layer at a drop of 40 cm, where it is 185 cm round',
    );
  });

  it('is the face of another tier, at a height above its lower edge', async () => {
    const id = await makeTierOf(house, code, stock);
    const face = { name: 'Band', hangs: `face-${id}`, drop: '', height: '12', depth: '6', fullness: '2' };
    await makeTierOf(house, code, stock, face);
    const band = workedOf(await tierOfPage(house, code, 'Band'));
    expect(band.hangs).toBe(
      'Lies on the face of Tier 1, 12 cm above its lower edge, where it is 290 cm long',
    );
    expect(band.steps).toContain('290 cm face × 2 full = 580 cm flat, wanted');
    expect(await refusalOf({ ...face, name: 'High', height: '30' })).toEqual({
      height: 'The height must lie on Tier 1, above its lower edge and below its upper.',
    });
    expect(await refusalOf({ ...face, name: 'Nowhere', height: '' })).toEqual({
      height: 'Give the height above the lower edge of the tier that it lies on.',
    });
    for (const hangs of ['form', 'foundation', `edge-${id}`]) {
      const unused = { hangs, drop: hangs.startsWith('edge') ? '' : '40' };
      expect(await refusalOf({ ...face, ...unused, name: 'Elsewhere' })).toEqual({
        height: 'A height is only of a tier on the face of another: leave it blank, or choose a face.',
      });
    }
    const out = await house.submit(`/garments/${code}/tiers/${id}/taken-out`, {});
    expect(out.status).toBe(409);
    expect(out.text).toContain('Band (1r) lies on Tier 1: take Band (1r) out first, or change it.');
  });

  it('keeps whose length a ratio is of, shows both fullnesses, and lets neither tier go alone', async () => {
    const id = await makeTierOf(house, code, stock);
    const ratio = { name: 'Flounce', drop: '30', ratio_tier_id: String(id), fullness: '2' };
    const second = await makeTierOf(house, code, stock, ratio);
    const flounce = workedOf(await tierOfPage(house, code, 'Flounce'));
    // Tier 1 is 290 cm flat; twice that is 580 cm, onto 155 cm: 3.741 full.
    expect(flounce.steps).toContain('290 cm of Tier 1, flat, × 2 full = 580 cm flat, wanted');
    expect(flounce.figures.slice(1)).toEqual([
      { label: 'Fullness', wanted: '3.741×', got: '3.741×' },
      { label: 'Times Tier 1', wanted: '2×', got: '2×' },
    ]);
    const out = await house.submit(`/garments/${code}/tiers/${id}/taken-out`, {});
    expect(out.text).toContain(
      'Flounce (2) takes its length from Tier 1: take Flounce (2) out first, or change it.',
    );
    const loop = await house.send(
      `/garments/${code}/tiers/${id}`,
      tierFields(stock, { ratio_tier_id: String(second) }),
    );
    expect(problemsOf(loop).ratio_tier_id).toContain('Tier 1 takes its length from Flounce (2), which takes');
  });
});

describe('the strips of a tier', () => {
  it('come from each block’s own cloth, and are told apart from those cut before', async () => {
    const narrow = stockOf(house, { usableWidth: '100 cm' });
    const blocks = [
      { shade_id: String(stock.shadeId), strips: '1' },
      { shade_id: String(stock.shadeId), strips: '1', cloth_id: String(narrow.clothId), lots: 'meet' },
    ];
    const id = await makeTierOf(house, code, stock, { blocks, offset: '1' });
    const tier = workedOf(await tierOfPage(house, code));
    // 285 cm from 98, 145 and 98 cm in turn, the narrow cloth first.
    expect(tier.shades).toMatchObject([
      { strips: 1, size: '30 cm × 147 cm', lots: 'one lot' },
      { strips: 2, size: '30 cm × 100 cm', lots: 'matching lots' },
    ]);
    const { body } = await house.data(`/garments/${code}/tiers/${id}`);
    const typed = standingIn(body.fields);
    expect(typed.blocks[1]).toMatchObject({ cloth_id: String(narrow.clothId), lots: 'meet' });
    expect(typed.offset).toBe('1');
    const sizes = house.book.all(
      house.book.db.selectFrom('tier_size').select(['cloth_id', 'strip_length_ticks']).orderBy('cloth_id'),
    );
    expect(sizes).toEqual([
      { cloth_id: stock.clothId, strip_length_ticks: 235_200 },
      { cloth_id: narrow.clothId, strip_length_ticks: 160_000 },
    ]);
  });

  it('lie along the cloth where that is asked, of a length that must be given', async () => {
    expect(await refusalOf({ direction: 'along' })).toEqual({
      strip_length: 'Give the strip length: along the cloth nothing else bounds it.',
    });
    expect(await refusalOf({ direction: 'along', strip_length: '290', depth: '150' })).toEqual({
      depth:
        'A strip along the cloth is cut deeper than its usable width: enter less depth, or cut it across.',
    });
    await makeTierOf(house, code, stock, { direction: 'along', strip_length: '290' });
    expect(workedOf(await tierOfPage(house, code)).strips).toBe(1);
  });

  it('take the usual allowance of each kind of seam and edge where it is left blank', async () => {
    const blank = { seam: '', hang_seam: '', hem: '', seam_kind: 'overlocked', lower_edge: 'rolled' };
    const id = await makeTierOf(house, code, stock, blank);
    const tier = workedOf(await tierOfPage(house, code));
    // Finished 30 cm, 1.5 cm in the seam it hangs by, 6 mm of rolled hem; 147 cm less 6 mm at each end.
    expect(tier.steps[0]).toBe(
      '30 cm finished + 1.5 cm gathering seam allowance + 0.6 cm hem = 32.1 cm cut depth',
    );
    expect(tier.steps).toContain('147 cm strip − 2 × 0.6 cm seam = 145.8 cm from each strip');
    const form = (await house.data(`/garments/${code}/tiers/${id}`)).body;
    expect(standingIn(form.fields)).toMatchObject({
      seam: '',
      hem: '',
      hang_seam: '',
      seam_kind: 'overlocked',
    });
    expect(form.more).toEqual({ hanging: false, sewing: true, strip: false });
  });
});

describe('what lies bare or too low', () => {
  it('is said with the height it bares, while a tier is worked out and on the garment’s page', async () => {
    await makeTierOf(house, code, stock, { overlap: '5' });
    await makeTierOf(house, code, stock, { name: 'Tier 2', drop: '33', depth: '20' });
    const bare =
      '3 cm of the form are bare between the lower edge of Tier 1 and Tier 2, which hangs at a drop of 33 cm.';
    expect((await pageOf(house, code)).warnings).toEqual([bare]);
    const asked = tierFields(stock, { name: 'Tier 2', drop: '28', depth: '20' });
    const second = (await tierOfPage(house, code, 'Tier 2')).id;
    const preview = await house.send(`/garments/${code}/tiers/${second}`, { ...asked, act: 'work-out' });
    expect(preview.body.preview.others).toEqual(['Tier 1 covers Tier 2 by 2 cm, and 5 cm are wanted.']);
  });

  it('is refused at the depth where the floor is in the way, and said where the floor came up later', async () => {
    const floor = { ...CONE, waist_height: '60', clearance: '4' };
    await makeTierOf(house, code, stock, { depth: '62' });
    await house.send(`/garments/${code}/edit`, floor);
    // Down the cone: r grows 200/2π = 31.83 cm over 100 cm of slant, so 62 cm of it fall 58.77 cm.
    const page = await pageOf(house, code);
    expect(page.warnings).toEqual(['Tier 1 ends ≈ 1.2 cm above the floor, and 4 cm are wanted clear.']);
    // 56 cm straight down are 56 ÷ 0.948 = 59.07 cm of slant.
    expect(page.form).toContainEqual({ what: 'Drop to 4 cm above the floor', text: '≈ 59.1 cm' });
    const deeper = await refusalOf({ depth: '70', name: 'Deep' });
    expect(deeper.depth).toMatch(/^Its lower edge would lie ≈ 6\.4 cm below the floor/);
    await house.send(`/garments/${code}/edit`, { ...floor, waist_height: '50' });
    expect((await pageOf(house, code)).warnings[0]).toMatch(
      /^Tier 1: Its lower edge would lie ≈ 8\.8 cm below/,
    );
  });

  it('says how the tier that makes a level hem is shaped over a tilted form', async () => {
    await makeTierOf(house, code, stock, { depth: '62' });
    const drops = { front_drop: '52', side_drop: '55', back_drop: '62' };
    const half = await house.send(`/garments/${code}/edit`, { ...CONE, ...drops, side_drop: '' });
    expect(problemsOf(half)).toEqual({
      side_drop: 'A level hem needs the drops in front, at the side and at the back.',
    });
    await house.send(`/garments/${code}/edit`, { ...CONE, ...drops });
    expect((await pageOf(house, code)).warnings).toEqual([
      'For a level hem take 10 cm at the front and 7 cm at the sides off the upper edge of Tier 1 before it is gathered.',
    ]);
  });
});

describe('a form of hoops', () => {
  it('is kept as it was typed, and its girths follow from it', async () => {
    const girths = [
      { drop: '0', girth: '95' },
      { drop: '60', width: '60' },
      { drop: '100', width: '110', depth: '0.9 m' },
    ];
    await house.send(`/garments/${code}/edit`, { ...CONE, girths, profile: 'domed', meet: '0.8' });
    const { body } = await house.data(`/garments/${code}/edit`);
    const typed = standingIn(body.fields);
    expect(typed.girths.slice(0, 3)).toEqual([
      { drop: '0', girth: '95', width: '', depth: '' },
      { drop: '60', girth: '', width: '60', depth: '' },
      { drop: '100', girth: '', width: '110', depth: '0.9 m' },
    ]);
    expect(typed).toMatchObject({ profile: 'domed', meet: '0.8' });
    const stored = house.book.all(
      house.book.db.selectFrom('girth').select('girth_ticks').orderBy('drop_ticks'),
    );
    // π × 60 cm, and the ellipse of 55 × 45 cm, 314.945 cm by integration, each up to a tick of 1/160 mm.
    expect(stored.map((row) => row.girth_ticks)).toEqual([152_000, Math.ceil(Math.PI * 96_000), 503_913]);
    const again = await house.send(`/garments/${code}/edit`, typed);
    expect(again.status).toBe(200);
  });

  it('is refused where the figures do not agree, at the field', async () => {
    const wrong = { ...CONE, clearance: '5', profile: 'round', meet: '30' };
    const answer = await house.send(`/garments/${code}/edit`, wrong);
    expect(problemsOf(answer)).toMatchObject({
      profile: 'Choose straight or domed.',
      meet: 'Write 20 or less.',
    });
    const high = await house.send(`/garments/${code}/edit`, { ...CONE, clearance: '5' });
    expect(Object.keys(problemsOf(high))).toEqual(['waist_height']);
  });
});
