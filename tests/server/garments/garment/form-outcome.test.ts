import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cutLength } from '../../../../server/ledger/verbs.ts';
import { length, makeBolt, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { asForm, CONE, makeGarment, makeTierOf, pageOf, stockOf, tierFields } from '../making.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
// A ring of 95 cm × 3 in strips of 147 cm less two seams of 1 cm: 2 strips.
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house);
});
afterEach(() => house.shut());

/** The waist of 95 cm becomes 150 cm: 450 cm flat are 4 strips of 145 cm sewn. */
const WIDER = {
  ...CONE,
  girths: [
    { drop: '0', girth: '150' },
    { drop: '100', girth: '295' },
  ],
};

describe('a form that is changed', () => {
  it('is worked out before it is saved: strips, needs, mass, picture, and what would differ from what is cut', async () => {
    const tierId = await makeTierOf(house, code, stock);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '2 m'));
    house.write((tx) => {
      const strips = { lengthTicks: 2 * length('30 cm'), typed: '', tierId, strips: 2 };
      cutLength(tx, bolt.id, strips);
    });
    const { status, body } = await house.send(`/garments/${code}/edit`, { ...WIDER, act: 'work-out' });
    expect(status).toBe(200);
    const { outcome } = body;
    expect(outcome.tiers).toMatchObject([{ name: 'Tier 1', onto: '150 cm', strips: 4, before: 2 }]);
    expect(outcome.needs).toMatchObject([{ strips: 4, length: '1.2 m' }]);
    expect(outcome.mass).not.toBe('');
    expect(outcome.drawings).toHaveLength(1);
    expect((await pageOf(house, code)).tiers[0]?.worked?.strips).toBe(2);
    // A shallower hoop would leave one strip of two that are cut.
    const narrow = { ...CONE, girths: [{ drop: '0', girth: '48' }, CONE.girths[1]], act: 'work-out' };
    const less = (await house.send(`/garments/${code}/edit`, narrow)).body.outcome;
    expect(less.tiers).toMatchObject([{ strips: 1, before: 2 }]);
    expect(less.differences).toEqual([expect.stringMatching(/^Tier 1: /)]);
  });

  it('is worked out without a script, and what was typed stays', async () => {
    await makeTierOf(house, code, stock);
    const typed = { ...asForm(WIDER), act: 'work-out' };
    const page = await house.submit(`/garments/${code}/edit`, typed);
    expect(page.status).toBe(200);
    expect(page.text).toContain('4, was 2');
    expect(page.text).toContain('value="150"');
    const wrong = await house.submit(`/garments/${code}/edit`, { ...typed, 'girths.0.girth': '-1' });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('It cannot be worked out yet');
  });

  it('tells which tier could not hang any more', async () => {
    await makeTierOf(house, code, stock, { drop: '90' });
    const girths = [CONE.girths[0], { drop: '80', girth: '200' }];
    const { body } = await house.send(`/garments/${code}/edit`, { ...CONE, girths, act: 'work-out' });
    expect(body.outcome.warnings).toContain(
      'Tier 1: This drop is below the lowest girth of the form: add a girth further down.',
    );
  });
});

describe('the hatches of the shades', () => {
  it('are one each for as many shades as there are letters', async () => {
    await makeTierOf(house, code, stock);
    const { text } = await house.page(`/garments/${code}`);
    const patterns = [...text.matchAll(/<pattern id="hatch-[A-Z]"[^>]*>.*?<\/pattern>/g)].map(([drawn]) =>
      drawn.replace(/id="hatch-."/, ''),
    );
    expect(new Set(patterns).size).toBe(26);
    expect(text).toContain('url(#hatch-A)');
  });
});

describe('a level hem over a tilted form', () => {
  it('reaches as deep as its longest drop, and no deeper than the floor', async () => {
    // On a form that falls straight the waist is 50 cm up: 55 cm down the back are level with 48 in front.
    const girths = [
      { drop: '0', girth: '95' },
      { drop: '100', girth: '95' },
    ];
    const tilt = { waist_height: '50', clearance: '2', front_drop: '48', side_drop: '51', back_drop: '55' };
    const tilted = await makeGarment(house, { girths, ...tilt });
    await makeTierOf(house, tilted, stock, { depth: '55' });
    expect((await pageOf(house, tilted)).warnings).toEqual([
      'For a level hem take 7 cm at the front and 4 cm at the sides off the upper edge of Tier 1 before it is gathered.',
    ]);
    const deep = tierFields(stock, { name: 'Deep', depth: '58' });
    const refused = await house.send(`/garments/${tilted}/tiers/new`, deep);
    expect(refused.status).toBe(422);
    expect(refused.body.error.problems[0].message).toBe(
      'Its lower edge would lie 1 cm below the floor: it is deeper than the drops to a level hem allow.',
    );
  });
});
