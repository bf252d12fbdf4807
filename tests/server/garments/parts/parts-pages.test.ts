import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

interface Figure {
  readonly label: string;
  readonly value: string;
}
const ask = async (part: string, asked: Record<string, string>, status = 200) =>
  (await house.data(`/garments/parts/${part}?${new URLSearchParams(asked)}`).expect(status)).body;
const figure = (body: { result: { figures: Figure[] } }, label: string) =>
  body.result.figures.find((each) => each.label === label)?.value;

/** One of each as somebody would ask it; lengths in inches where a published figure is. */
const ASKED: Readonly<Record<string, Record<string, string>>> = {
  flounce: {
    unit: 'in',
    seam: '120',
    depth: '10',
    circles: '2',
    sectors: '2',
    join: '0',
    upper: '1/2',
    hem: '1/2',
    width: '58',
  },
  pleats: { unit: 'in', kind: 'knife', finished: '108', face: '1', strip: '58', seam: '1/2' },
  bias: { unit: 'cm', cut: '10', length: '30 m', width: '145', join: '1' },
  repeat: { unit: 'cm', height: '240', repeat: '37', count: '4' },
  closing: {
    unit: 'in',
    waist: '28',
    finished: '1 1/2',
    laps: '2',
    seam: '1/2',
    opening: '10',
    spacing: '2',
    pairs: '12',
    gap: '8',
    pitch: '1',
    tail: '12',
  },
  // Three widths of net, 28 cm deep (doczz.net 4765310).
  layer: { unit: 'cm', cut_depth: '28', widths: '3' },
  cage: { unit: 'in', hem: '92', less: '5', steps: '5', hoops: '4', lap: '4', seam: '1/2', tapes: '0' },
  trim: { unit: 'in', edge: '72', fullness: '1', corners: '4', per_corner: '4', edges: '1' },
  gathering: { unit: 'in', flat: '342', finished: '108', rows: '2', most: '500' },
};

const NO_WIDTH = 'Enter the usable width: no cloth is named here to take it from.';

describe('the parts', () => {
  it('are listed, and each opens with the usual figures and nothing worked out', async () => {
    const { body } = await house.data('/garments/parts').expect(200);
    expect(body.parts.map(({ href }: { href: string }) => href.split('/').at(-1)).sort()).toEqual(
      Object.keys(ASKED).sort(),
    );
    for (const part of Object.keys(ASKED)) {
      const page = await house.page(`/garments/parts/${part}`).expect(200);
      expect(page.text).toContain('what to cut stands here');
      expect((await ask(part, {})).result).toBeNull();
    }
    await house.data('/garments/parts/collar').expect(404);
  });

  // The figures of the published checks that tests/src/garment/parts names with their sources.
  it.each([
    ['flounce', 'Radius of the seam', '9.55 in'],
    ['flounce', 'Cut', '4 half rings'],
    ['flounce', 'Cloth', expect.stringContaining('(73.72 in)')],
    ['pleats', 'Strips', '6'],
    ['pleats', 'Pleats in a strip', '19'],
    ['bias', 'Strips', '15'],
    ['bias', 'Cloth', expect.stringMatching(/^3\.6 m \(357\.1\d cm\)$/)],
    ['repeat', 'Each is cut', '259 cm'],
    ['repeat', 'Cloth', expect.stringContaining('(1017 cm)')],
    ['closing', 'Hooks or snaps', '6'],
    ['closing', 'Lace', '209.37 in'],
    ['closing', 'Band, cut', '31 in × 4 in'],
    ['cage', 'Steel', '259.6 in'],
    ['layer', 'Cut', '3 widths of 28 cm'],
    ['layer', 'Cloth', '84 cm'],
    ['trim', 'Total', '88 in'],
    ['gathering', 'Sections', '4'],
  ])('%s: %s', async (part, label, value) => {
    expect(figure(await ask(part, ASKED[part] ?? {}), label)).toEqual(value);
  });

  it('draw the sections of a flounce as many as are cut, inside the cloth', async () => {
    for (const sectors of ['1', '2', '4', '8']) {
      const { result } = await ask('flounce', { ...ASKED.flounce, sectors });
      expect(result.drawing.paths).toHaveLength(2 * Number(sectors));
      const numbers =
        result.drawing.paths
          .join(' ')
          .match(/-?\d+(?:\.\d+)?/g)
          ?.map(Number) ?? [];
      expect(Math.max(...numbers)).toBeLessThanOrEqual(
        Math.max(result.drawing.width, result.drawing.height) + 1,
      );
    }
    const page = await house
      .page(`/garments/parts/flounce?${new URLSearchParams(ASKED.flounce)}`)
      .expect(200);
    const [drawing = ''] = /<svg class="part-lay"[\s\S]*?<\/svg>/.exec(page.text) ?? [];
    expect(drawing.match(/<path d="M/g)).toHaveLength(4);
  });

  it.each([
    ['flounce', { ...ASKED.flounce, circles: '' }, 'flare', 'Give the flare, or the full circles.'],
    ['flounce', { ...ASKED.flounce, flare: '2' }, 'circles', 'Give the flare or the circles, not both.'],
    [
      'flounce',
      { ...ASKED.flounce, circles: '', flare: '1' },
      'flare',
      'Enter more than 1: at 1 it would be a straight strip.',
    ],
    [
      'flounce',
      { ...ASKED.flounce, width: '20' },
      'width',
      'A section is wider than the cloth: take smaller sections, or more circles.',
    ],
    [
      'flounce',
      { ...ASKED.flounce, upper: '10' },
      'upper',
      'The circle is too small for its gathering seam: take fewer circles.',
    ],
    [
      'pleats',
      { ...ASKED.pleats, strip: '3' },
      'strip',
      'No whole pleat goes on a strip of this length: enter a longer strip or smaller pleats.',
    ],
    [
      'pleats',
      { ...ASKED.pleats, kind: 'box', under: '1' },
      'under',
      'The folds of a box meet behind it: enter half its face or less.',
    ],
    ['bias', { ...ASKED.bias, join: '80' }, 'join', 'The joins take the whole width of the cloth.'],
    ['closing', { ...ASKED.closing, gap: '' }, 'gap', 'This belongs to the lacing: fill it in too.'],
    ['cage', { ...ASKED.cage, casing: '5' }, 'width', NO_WIDTH],
    [
      'cage',
      { ...ASKED.cage, casing: '5', width: '1' },
      'seam',
      'The joins take the whole width of the cloth.',
    ],
    [
      'layer',
      { ...ASKED.layer, widths: '' },
      'widths',
      'Give whole widths, a flat length, or the length of a piece.',
    ],
    [
      'layer',
      { ...ASKED.layer, flat: '300', width: '145' },
      'flat',
      'Give only one of whole widths, flat length and length of a piece.',
    ],
    ['layer', { ...ASKED.layer, widths: '', flat: '300' }, 'width', NO_WIDTH],
    [
      'layer',
      { ...ASKED.layer, widths: '', flat: '300', width: '40', join: '50' },
      'join',
      'A join takes the whole width of the cloth: enter less.',
    ],
    ['layer', { ...ASKED.layer, count: '2' }, 'count', 'Give the length of a piece too.'],
    ['cage', { ...ASKED.cage, hem: '' }, 'girths', 'Give the girths, or the hem of the dress.'],
    ['cage', { ...ASKED.cage, girths: '100, 120' }, 'hem', 'Give the girths or the hem, not both.'],
    [
      'cage',
      { ...ASKED.cage, hoops: '9' },
      'hoops',
      'Enter fewer hoops than steps: the last step is the waist.',
    ],
    ['cage', { ...ASKED.cage, hem: '', girths: '100, wide' }, 'girths', expect.stringMatching(/^wide: /)],
    [
      'gathering',
      { ...ASKED.gathering, flat: '100' },
      'flat',
      'Enter the gathered length or more: gathering only shortens.',
    ],
  ])('%s refuses beside its field', async (part, asked, field, message) => {
    const { error } = await ask(part, asked as Record<string, string>, 422);
    expect(error.problems).toContainEqual({ field, message });
    const page = await house
      .page(`/garments/parts/${part}?${new URLSearchParams(asked as Record<string, string>)}`)
      .expect(422);
    expect(page.text).toContain(`id="f-${field}"`);
  });

  it('tell how an opening goes through a layer, and where the rays of a sunray pleating meet', async () => {
    const through = async (layer: string, depth: string) =>
      figure(await ask('closing', { ...ASKED.closing, layer, layer_depth: depth }), 'That layer');
    const { groups } = (await ask('closing', {})) as {
      groups: { fields: { name: string; unit?: string }[] }[];
    };
    const fields = groups.flatMap((group) => group.fields);
    expect(fields.find(({ name }) => name === 'layer')?.unit).toBe('cm');
    const alone = await ask('closing', { ...ASKED.closing, layer_depth: '20' }, 422);
    expect(alone.error.problems[0].field).toBe('layer');
    expect(await through('10', '20')).toBe('stays a ring');
    expect(await through('0', '10')).toBe('open its whole depth');
    expect(await through('4', '20')).toBe('open above, closed below');
    // 6 mm at the waist, 48 mm at the hem, 1.19 m long (nzpleaters.co.nz): 17 cm.
    const sun = {
      unit: 'cm',
      kind: 'knife',
      finished: '66',
      face: '0.6',
      strip: '150',
      sun_hem: '4.8',
      sun_depth: '119',
    };
    expect(figure(await ask('pleats', sun), 'Sunray: radius of the waist')).toBe('17 cm');
    expect((await ask('pleats', { ...sun, sun_depth: '' }, 422)).error.problems[0].field).toBe('sun_depth');
    expect((await ask('pleats', { ...sun, sun_hem: '0.5' }, 422)).error.problems[0].field).toBe('sun_hem');
  });

  it('say what does not pass, which steels no coil has, and girths one by one', async () => {
    const tight = await ask('closing', { ...ASKED.closing, pull_over: '60' });
    expect(tight.result.warnings[0]).toMatch(
      /^It does not pass: 28 in of band and an opening of 10 in open to 48 in/,
    );
    const wide = await ask('closing', { ...ASKED.closing, pull_over: '40' });
    expect(wide.result.warnings).toEqual([]);
    const cage = await ask('cage', {
      unit: 'in',
      girths: '51, 74, 97, 120',
      lap: '4',
      tapes: '8',
      drop: '40',
      turns: '2',
      coil: '130',
    });
    expect(figure(cage, 'Coils')).toBe('4');
    expect(figure(cage, 'Tape')).toBe('336 in');
    expect(cage.result.rows.cells).toHaveLength(4);
    expect(figure(await ask('cage', { unit: 'in', girths: '120', coil: '100', tapes: '0' }), 'Coils')).toBe(
      '0',
    );
  });
});
