import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { newKey, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { asForm, pageOf, problemsOf, standingIn, stockOf, useImperial, workedOf } from '../making.ts';

let house: TestHouse;
let stock: Stock;
let other: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  other = stockOf(house);
});
afterEach(() => house.shut());

/** A cone of 95 cm at the waist that gains 2 cm round for each centimetre down, with five tiers and their ruffles. */
function skirt(fields: object = {}): Record<string, unknown> {
  const tier = (row: object) => ({ depth: '20', ruffle_depth: '6', ...row });
  return {
    name: 'Five tiers',
    girths: [
      { drop: '0', girth: '95' },
      { drop: '100', girth: '295' },
    ],
    tiers: [
      tier({ drop: '5', fullness: '2', cloth_id: String(stock.clothId), shade_id: String(stock.shadeId) }),
      tier({ shade_id: String(other.shadeId) }),
      tier({}),
      tier({ fullness: '3', second_shade_id: String(stock.shadeId) }),
      tier({ ruffle_depth: '' }),
    ],
    overlap: '5',
    ...fields,
  };
}

async function made(fields: object = {}): Promise<string> {
  const sent = await house.send('/garments/new', skirt(fields));
  if (sent.status !== 200) throw new Error(JSON.stringify(sent.body));
  return sent.body.location.split('/').at(-1);
}

describe('a garment from empty in one form', () => {
  it('has every tier with its ruffle, each row filled in from the one above', async () => {
    const sent = await house.send('/garments/new', skirt());
    expect(sent.body.said).toMatch(
      /^Five tiers was put in the book as G1, with 5 tiers and 4 ruffles, \d+ strips in all\.$/,
    );
    const [listed] = (await house.data('/garments').expect(200)).body.open;
    expect([listed.tiers, listed.ruffles]).toEqual([5, '4 ruffles']);
    const { tiers, warnings } = await pageOf(house, 'G1');
    // Each tier begins 20 − 5 = 15 cm below the one above: drops of 5, 20, 35, 50 and 65 cm.
    const hangs = Object.fromEntries(tiers.map((tier) => [tier.name, workedOf(tier).hangs]));
    expect(hangs).toMatchObject({
      'Tier 1': 'Hangs from the form at a drop of 5 cm, where it is 105 cm round',
      'Tier 2': 'Hangs from the form at a drop of 20 cm, where it is 135 cm round',
      'Tier 5': 'Hangs from the form at a drop of 65 cm, where it is 225 cm round',
    });
    // 105 × 2 = 210 cm in strips of 147 cm that give 145: 2, so 290 cm flat, and twice that is 4 strips of ruffle.
    expect(hangs['Tier 1r']).toBe('Edges Tier 1, whose lower edge is 290 cm long');
    const strips = Object.fromEntries(tiers.map((tier) => [tier.name, workedOf(tier).strips]));
    expect(strips).toMatchObject({ 'Tier 1': 2, 'Tier 1r': 4, 'Tier 2': 2, 'Tier 3': 3 });
    // A fullness of 3 from the fourth row on: 195 × 3 = 585 cm are 5 strips, 225 × 3 = 675 cm are 5.
    expect(strips).toMatchObject({ 'Tier 4': 5, 'Tier 5': 5 });
    const shadesOf = (name: string) => {
      const found = tiers.find((tier) => tier.name === name);
      return found ? workedOf(found).shades.map(({ chip }) => chip.href) : [];
    };
    expect(shadesOf('Tier 4')).toEqual([`/shelf/shades/${other.shadeId}`, `/shelf/shades/${stock.shadeId}`]);
    expect(shadesOf('Tier 5r')).toEqual([]);
    expect(warnings).toEqual([]);
  });

  it('is worked out before it is saved, with the needs, and nothing is written', async () => {
    const fields = { ...asForm(skirt()), act: 'work-out' };
    const page = await house.submit('/garments/new', fields);
    expect(page.status).toBe(200);
    expect(page.text).toContain('Nothing is saved yet.');
    expect(page.text).toContain('Tier 4r');
    const { body } = await house.send('/garments/new', { ...skirt(), act: 'work-out' });
    expect(body.outcome.tiers[0]).toEqual({
      before: null,
      name: 'Tier 1',
      drop: '5 cm',
      onto: '105 cm',
      fullness: '2.761×',
      strips: 2,
      size: '22 cm × 147 cm',
    });
    const needed = body.outcome.needs.reduce((sum: number, need: { strips: number }) => sum + need.strips, 0);
    expect(body.outcome.total).toBe(`${needed} strips in all`);
    expect(body.outcome.drawings[0].tiers).toHaveLength(body.outcome.tiers.length);
    expect(page.text).toContain('<svg class="elevation"');
    expect(body.outcome.mass).toMatch(/^Its cloth weighs .+ as it is cut\.$|^No mass per area/);
    expect((await house.data('/garments')).body.open).toEqual([]);
  });

  it('opens each tier’s own form as it was made, in either system', async () => {
    const code = await made();
    const { tiers } = await pageOf(house, code);
    const second = tiers.find(({ name }) => name === 'Tier 2');
    const path = `/garments/${code}/tiers/${second?.id}`;
    expect(standingIn((await house.data(path)).body.fields)).toMatchObject({
      drop: '20',
      depth: '20',
      fullness: '2',
      overlap: '5',
      seam: '',
      hem: '',
    });
    useImperial(house);
    const { body } = await house.data(path);
    const typed = standingIn(body.fields);
    expect(typed).toMatchObject({ drop: '200 mm', depth: '20 cm', seam: '10 mm' });
    const blocks = typed.blocks.slice(0, 1);
    const before = second && workedOf(second).strips;
    const again = await house.send(path, { ...typed, blocks });
    expect(again.status).toBe(200);
    const after = (await pageOf(house, code)).tiers.find(({ name }) => name === 'Tier 2');
    expect(after && workedOf(after).strips).toBe(before);
  });

  it('has ruffles in the colours of the tier’s blocks, in its first shade, or in one of their own', async () => {
    const two = {
      depth: '20',
      cloth_id: String(stock.clothId),
      shade_id: String(stock.shadeId),
      second_shade_id: String(other.shadeId),
      ruffle_depth: '6',
    };
    const tiers = [
      two,
      { ...two, ruffle_shade_id: 'first' },
      { ...two, ruffle_shade_id: String(other.shadeId) },
    ];
    const code = await made({ tiers, ruffle_fullness: '2' });
    const blocksOf = (name: string) =>
      house.book.all(
        house.book.db
          .selectFrom('colour_block')
          .innerJoin('tier', 'tier.id', 'colour_block.tier_id')
          .innerJoin('garment', 'garment.id', 'tier.garment_id')
          .select(['colour_block.shade_id', 'colour_block.strips'])
          .where('garment.code', '=', code)
          .where('tier.name', '=', name)
          .orderBy('colour_block.position'),
      );
    const [first, second] = [stock.shadeId, other.shadeId];
    expect(blocksOf('Tier 1r')).toEqual([
      { shade_id: first, strips: 2 },
      { shade_id: second, strips: 2 },
    ]);
    expect(blocksOf('Tier 2r')).toEqual([{ shade_id: first, strips: 1 }]);
    expect(blocksOf('Tier 3r')).toEqual([{ shade_id: second, strips: 1 }]);
    const { body } = await house.data('/garments/new').expect(200);
    const { options } = body.fields.tiers[0].ruffle_shade_id;
    expect(options.slice(0, 2).map(({ label }: { label: string }) => label)).toEqual([
      'as the tier’s blocks',
      'first shade',
    ]);
  });

  it('steps the shades from tier to tier and finishes repeats where that is asked', async () => {
    const two = { second_shade_id: String(other.shadeId), ruffle_depth: '' };
    const tiers = [0, 1].map((place) => ({
      depth: '20',
      ...two,
      ...(place === 0 ? { cloth_id: String(stock.clothId), shade_id: String(stock.shadeId) } : {}),
    }));
    const code = await made({ tiers, step: 'yes', finish_repeat: 'yes' });
    const page = await pageOf(house, code);
    expect(page.tiers.map((tier) => workedOf(tier).shades.map(({ strips }) => strips))).toEqual([
      [1, 1],
      [2, 2],
    ]);
    const stored = house.book.all(
      house.book.db.selectFrom('tier').select(['name', 'offset_strips', 'finish_repeat']),
    );
    expect(stored).toEqual([
      { name: 'Tier 1', offset_strips: 0, finish_repeat: 1 },
      { name: 'Tier 2', offset_strips: 1, finish_repeat: 1 },
    ]);
  });

  it('does so once however often it is sent', async () => {
    const request_key = newKey();
    const sent = [1, 2].map(() => house.submit('/garments/new', { ...asForm(skirt()), request_key }));
    const places = (await Promise.all(sent)).map((answer) => answer.headers.location);
    expect(places[0]).toBe(places[1]);
    expect((await house.data('/garments')).body.open).toHaveLength(1);
  });

  it('takes forty tiers, and says where there are more than it takes at once', async () => {
    const row = { depth: '2', drop: '40', cloth_id: String(stock.clothId), shade_id: String(stock.shadeId) };
    const code = await made({ tiers: Array.from({ length: 40 }, () => row), overlap: '' });
    expect((await pageOf(house, code)).tiers).toHaveLength(40);
    const many = await house.send('/garments/new', skirt({ tiers: Array.from({ length: 51 }, () => row) }));
    expect(many.status).toBe(422);
    expect(problemsOf(many)).toEqual({ tiers: 'Too many: enter at most 50 tiers at once.' });
  });
});

describe('what is wrong in one form', () => {
  it('is told all at once, at the rows, and what was typed stays', async () => {
    const tiers = [
      { depth: '', fullness: '0.5', cloth_id: '999', shade_id: '' },
      {},
      { depth: '20', ruffle_shade_id: String(stock.shadeId) },
    ];
    const girths = [
      { drop: '0', girth: '-5', width: '' },
      { drop: '40', girth: '95', width: '30' },
      { drop: '50', girth: '', depth: '30' },
      { drop: '60' },
    ];
    const wrong = skirt({ girths, tiers, overlap: 'some' });
    const answer = await house.send('/garments/new', wrong);
    expect(answer.status).toBe(422);
    expect(Object.keys(problemsOf(answer)).sort()).toEqual([
      'girths.0.girth',
      'girths.1.girth',
      'girths.2.width',
      'girths.3.girth',
      'overlap',
      'tiers.0.cloth_id',
      'tiers.0.depth',
      'tiers.0.fullness',
    ]);
    const page = await house.submit('/garments/new', asForm(wrong));
    expect(page.status).toBe(422);
    for (const typed of ['value="0.5"', 'value="-5"', 'value="some"', 'href="#f-tiers-0-depth"']) {
      expect(page.text).toContain(typed);
    }
    expect((await house.data('/garments')).body.open).toEqual([]);
  });

  it('is a list that is none: no tier is dropped without a word', async () => {
    const answer = await house.send('/garments/new', { ...skirt(), tiers: 'three' });
    expect(problemsOf(answer)).toEqual({ tiers: 'Give the tiers as a list.' });
  });

  it('is told at the row where a tier cannot hang or be cut', async () => {
    const [first] = skirt().tiers as object[];
    const low = await house.send('/garments/new', skirt({ tiers: [{ ...first, drop: '101' }] }));
    expect(problemsOf(low)).toEqual({
      'tiers.0.drop': 'This drop is below the lowest girth of the form: add a girth further down.',
    });
    const none = await house.send('/garments/new', skirt({ tiers: [{ depth: '10' }] }));
    expect(problemsOf(none)).toEqual({
      'tiers.0.cloth_id': 'Choose a cloth.',
      'tiers.0.shade_id': 'Choose a shade.',
    });
    const lost = { ...first, ruffle_depth: '', ruffle_shade_id: String(stock.shadeId) };
    const ruffle = await house.send('/garments/new', skirt({ tiers: [lost] }));
    expect(problemsOf(ruffle)).toEqual({ 'tiers.0.ruffle_depth': 'Give the depth of the ruffle.' });
  });

  it('is depth beyond the floor, at the depth', async () => {
    // A waist 50 cm up on a form that falls straight: a tier of 20 cm at 35 cm ends 5 cm under the floor.
    const girths = [
      { drop: '0', girth: '95' },
      { drop: '100', girth: '95' },
    ];
    const [first] = skirt().tiers as object[];
    const tiers = [{ ...first, drop: '35', ruffle_depth: '' }];
    const floor = { girths, tiers, waist_height: '50', clearance: '3' };
    const answer = await house.send('/garments/new', skirt(floor));
    expect(problemsOf(answer)).toEqual({
      'tiers.0.depth': 'Its lower edge would lie 5 cm below the floor: the waist is 50 cm above it.',
    });
    const high = [{ ...first, drop: '28', ruffle_depth: '' }];
    const code = await made({ ...floor, tiers: high });
    expect((await pageOf(house, code)).warnings).toEqual([
      'Tier 1 ends 2 cm above the floor, and 3 cm are wanted clear.',
    ]);
  });

  it('draws more girths and tiers without a script and writes nothing', async () => {
    const typed = asForm(skirt());
    const girths = await house.submit('/garments/new', { ...typed, act: 'more-girths' });
    expect(girths.text).toContain('name="girths.5.drop"');
    const tiers = await house.submit('/garments/new', { ...typed, act: 'more-tiers' });
    expect(tiers.text).toContain('name="tiers.9.depth"');
    expect(tiers.text).toContain('value="Five tiers"');
    expect((await house.data('/garments')).body.open).toEqual([]);
  });
});
