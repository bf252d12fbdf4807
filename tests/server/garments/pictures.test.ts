import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawElevations, type Elevation } from '../../../server/garments/elevation.ts';
import type { Names } from '../../../server/garments/names.ts';
import type { Garment, TierRecord } from '../../../server/garments/records.ts';
import { drawStripChart } from '../../../server/garments/strip-chart.ts';
import { orderRuns } from '../../../server/garments/strip-runs.ts';
import { workedBy } from '../../../server/garments/version-worked.ts';
import { METRIC } from '../../../src/length-show.ts';
import { cm } from '../../lengths.ts';

const LETTERS = 'ABCDEFGHIJ';
const names: Names = {
  cloth: () => 'Organza',
  shade: (id) => `Shade ${id}`,
  colour: (id) => (id % 2 === 0 ? '#204060' : null),
  letter: (id) => LETTERS[id - 1] ?? '?',
  chip: (id) => ({ colour: null, name: `Shade ${id}`, href: '/' }),
};

const CLOTH = 1;
const TIER: TierRecord = {
  id: 1,
  position: 1,
  name: 'Tier 1',
  hangs: 'form',
  dropTicks: cm(10),
  onTierId: null,
  heightTicks: null,
  clothId: CLOTH,
  depthTicks: cm(30),
  overlapTicks: 0,
  fullnessMilli: 3000,
  ratioTierId: null,
  ring: true,
  seamKind: 'plain',
  seamTicks: cm(1),
  endTicks: 0,
  headingTicks: 0,
  upperEdge: 'seam',
  hangSeamTicks: 0,
  lowerEdge: 'narrow',
  hemTicks: 0,
  hemFirst: false,
  direction: 'across',
  stripLengthTicks: null,
  offsetStrips: 0,
  finishRepeat: false,
  takenOutAt: null,
  version: 1,
  changedAt: null,
  changedBy: null,
  typed: '{}',
  blocks: [
    { shadeId: 1, clothId: null, strips: 2, lots: 'one' },
    { shadeId: 2, clothId: null, strips: 1, lots: 'one' },
  ],
};

function garment(parts: Partial<Garment> = {}): Garment {
  const round = { hoopWidthTicks: null, hoopDepthTicks: null, typed: '{}' };
  return {
    id: 1,
    code: 'G1',
    name: 'Petticoat',
    note: '',
    dueOn: null,
    finishedAt: null,
    waistHeightTicks: null,
    clearanceTicks: null,
    frontDropTicks: null,
    sideDropTicks: null,
    backDropTicks: null,
    profile: 'straight',
    foundationEaseTicks: 0,
    meetCentiDeltaE: 100,
    typed: '{}',
    version: 1,
    changedAt: null,
    changedBy: null,
    girths: [
      { dropTicks: 0, girthTicks: cm(70), ...round },
      { dropTicks: cm(100), girthTicks: cm(300), ...round },
    ],
    tiers: [TIER],
    ...parts,
  };
}

function draw(parts: Partial<Garment> = {}): Elevation[] {
  return drawElevations(workedBy(garment(parts), new Map([[CLOTH, cm(147)]])), names, METRIC);
}

/** Every point of a path; relative steps are followed from where they begin. */
function pointsOf(path: string): [number, number][] {
  const points: [number, number][] = [];
  let [x, y] = [0, 0];
  for (const [, step = '', text = ''] of path.matchAll(/([MLHVhvlZ])([^MLHVhvlZ]*)/g)) {
    const [first = 0, second = 0] = text
      .trim()
      .split(/[ ,]|(?<=\d)(?=-)/)
      .map(Number);
    if (step === 'M' || step === 'L') [x, y] = [first, second];
    if (step === 'H') x = first;
    if (step === 'V') y = first;
    if (step === 'h') x += first;
    if (step === 'v') y += first;
    if (step === 'l') [x, y] = [x + first, y + second];
    if (step !== 'Z') points.push([x, y]);
  }
  return points;
}

function everyPoint(drawing: Elevation): [number, number][] {
  const { floor, line, extensions, drops } = drawing.dimensions;
  const tiers = drawing.tiers.flatMap(({ outline, gathers, shades }) => [
    outline,
    gathers,
    ...shades.map(({ path }) => path),
  ]);
  const paths = [drawing.form, drawing.girths, line, extensions, ...tiers];
  const marks = drawing.marks.flatMap(({ x, y, leader }): [number, number][] => [
    [x - 9, y - 9],
    [x + 9, y + 9],
    ...pointsOf(leader),
  ]);
  return [
    ...[...paths, ...(floor ? [floor.line, floor.ground] : [])].flatMap(pointsOf),
    ...marks,
    ...drops.map(({ x, y }): [number, number] => [x, y]),
    ...drawing.tiers.flatMap(({ letters }) => letters.map(({ x, y }): [number, number] => [x, y])),
    ...(floor ? [[floor.x, floor.y] as [number, number]] : []),
  ];
}

const millimetres = (min: number, max: number) => fc.integer({ min, max }).map((mm) => mm * 160);
const girths = fc
  .array(fc.record({ step: millimetres(1, 900), girth: millimetres(1, 6000), hoop: fc.boolean() }), {
    minLength: 2,
    maxLength: 5,
  })
  .map((steps) => {
    let dropTicks = -1;
    return steps.map(({ step, girth, hoop }, place) => {
      dropTicks = place === 0 ? 0 : dropTicks + step;
      const hoops = hoop
        ? { hoopWidthTicks: Math.ceil(girth / 3), hoopDepthTicks: Math.ceil(girth / 5) }
        : { hoopWidthTicks: null, hoopDepthTicks: null };
      return { dropTicks, girthTicks: girth, ...hoops, typed: '{}' };
    });
  });
const tiers = fc
  .array(
    fc.record({
      hangs: fc.constantFrom('form', 'foundation', 'edge', 'face'),
      on: fc.nat(5),
      drop: millimetres(0, 1500),
      depth: millimetres(1, 900),
      height: millimetres(1, 900),
      full: fc.integer({ min: 1000, max: 20_000 }),
      offset: fc.nat(9),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((made) =>
    made.map(({ hangs, on, drop, depth, height, full, offset }, place): TierRecord => {
      const hangsOn = place > 0 && (hangs === 'edge' || hangs === 'face');
      return {
        ...TIER,
        id: place + 1,
        name: `Tier ${place + 1}`,
        hangs: hangsOn ? hangs : hangs === 'foundation' ? 'foundation' : 'form',
        dropTicks: hangsOn ? null : drop,
        onTierId: hangsOn ? (on % place) + 1 : null,
        heightTicks: hangsOn && hangs === 'face' ? height : null,
        depthTicks: depth,
        fullnessMilli: full,
        offsetStrips: offset,
      };
    }),
  );

describe('the picture of any garment', () => {
  it('has numbers only, and all of it lies in the view box', () => {
    let drawn = 0;
    const made = fc.record({
      girths,
      tiers,
      profile: fc.constantFrom('straight' as const, 'domed' as const),
      waistHeightTicks: fc.option(millimetres(1, 2000)),
    });
    fc.assert(
      fc.property(made, (parts) => {
        for (const drawing of draw(parts)) {
          expect(JSON.stringify(drawing)).not.toMatch(/NaN|Infinity|undefined/);
          const isOut = ([x, y]: [number, number]) =>
            !(x >= 0 && x <= drawing.width && y >= 0 && y <= drawing.height);
          expect(everyPoint(drawing).filter(isOut)).toEqual([]);
          drawn += 1;
        }
      }),
      { numRuns: 100 },
    );
    expect(drawn).toBeGreaterThan(30);
  });
});

describe('the picture of a garment', () => {
  it('dimensions the drops and how far the hem is clear of the floor', () => {
    // Slant 40 of 100 cm, the radius growing by 230 ÷ 2π × 0.4 = 14.6 cm: it falls by √(40² − 14.6²) = 37.2 cm.
    const [drawing] = draw({ waistHeightTicks: cm(50) });
    expect(drawing?.dimensions.drops.map(({ text }) => text)).toEqual(['10 cm', '40 cm']);
    expect(drawing?.dimensions.floor?.clear).toBe('Hem ≈ 12.8 cm clear of the floor');
    expect(drawing?.notes).toEqual(['The floor is 50 cm below the waist.']);
    expect(draw()[0]?.dimensions.floor).toBeNull();
    expect(draw({ frontDropTicks: cm(101), backDropTicks: cm(108) })[0]?.notes).toEqual([
      'Drops to a level hem: 101 cm down the front and 108 cm down the back. It is drawn upright.',
    ]);
    const [low] = draw({ waistHeightTicks: cm(30) });
    expect(low?.dimensions.floor?.clear).toBe('Hem ≈ 7.2 cm below the floor');
  });

  it('is drawn from the front as well where a hoop is oval, at the right width', () => {
    const oval = {
      dropTicks: cm(100),
      girthTicks: cm(300),
      hoopWidthTicks: cm(110),
      hoopDepthTicks: cm(70),
      typed: '{}',
    };
    const views = draw({ girths: [...garment().girths.slice(0, 1), oval] });
    expect(views.map(({ title }) => title)).toEqual(['From the side', 'From the front']);
    // To one scale: the hoop is 70 cm deep and 110 cm wide.
    const [deep = 0, wide = 0] = views.map(({ form }) => {
      const across = pointsOf(form).map(([x]) => x);
      return Math.max(...across) - Math.min(...across);
    });
    expect(wide / deep).toBeCloseTo(110 / 70, 2);
    expect(draw().map(({ title }) => title)).toEqual(['From the side']);
  });

  it('draws upper tiers over lower ones, and what hangs on a tier over it', () => {
    const on = (id: number, hangs: 'edge' | 'face', onTierId: number): TierRecord => ({
      ...TIER,
      id,
      name: `On ${id}`,
      hangs,
      dropTicks: null,
      onTierId,
      heightTicks: hangs === 'face' ? cm(5) : null,
      depthTicks: cm(6),
    });
    const low: TierRecord = { ...TIER, id: 2, name: 'Tier 2', dropTicks: cm(45) };
    const [drawing] = draw({ tiers: [TIER, low, on(3, 'face', 1), on(4, 'edge', 1)] });
    // From the top: 1 Tier 1, 2 its frill at 35 cm, 3 its ruffle at 40 cm, 4 Tier 2 at 45 cm.
    expect(drawing?.tiers.map(({ number }) => number)).toEqual([4, 1, 3, 2]);
  });
});

describe('the order of a tier’s strips', () => {
  const order = [
    { shadeId: 1, strips: 2 },
    { shadeId: 2, strips: 1 },
  ];

  it('starts so many strips into the repeat, and runs of one shade that meet are one', () => {
    expect(orderRuns(order, 7, 0).map(({ shadeId, strips }) => [shadeId, strips])).toEqual([
      [1, 2],
      [2, 1],
      [1, 2],
      [2, 1],
      [1, 1],
    ]);
    expect(orderRuns(order, 4, 1).map(({ shadeId, strips }) => [shadeId, strips])).toEqual([
      [1, 1],
      [2, 1],
      [1, 2],
    ]);
    expect(orderRuns([{ shadeId: 1, strips: 3 }], 200, 2)).toEqual([{ shadeId: 1, strips: 200 }]);
  });

  it('is charted in rows of twenty that hold every strip once, and said in letters and counts', () => {
    const chart = drawStripChart(order, 230, 1, names);
    expect(chart.rows.map(({ first }) => first)).toEqual(
      Array.from({ length: 12 }, (_, row) => 1 + 20 * row),
    );
    const counted = chart.rows.flatMap(({ runs }) => runs.map(({ text }) => Number.parseInt(text, 10) || 1));
    expect(counted.reduce((sum, strips) => sum + strips, 0)).toBe(230);
    expect(chart.words).toBe('1 A, 1 B, 1 A: 76 times, then 1 A, 1 B');
    expect(chart.start).toBe('Starts 1 strip into the order.');
    for (const { x, width } of chart.rows.flatMap(({ runs }) => runs)) {
      expect(x).toBeGreaterThanOrEqual(0);
      expect(x + width).toBeLessThanOrEqual(chart.width);
    }
  });

  it('is drawn once round where there are more strips than can be looked over', () => {
    const chart = drawStripChart(order, 1000, 0, names);
    expect(chart.rows).toHaveLength(1);
    expect([chart.words, chart.part]).toEqual([
      '2 A, 1 B: 333 times, then 1 A',
      'Drawn once round the order of 3 strips.',
    ]);
    expect(drawStripChart([{ shadeId: 1, strips: 1 }], 6, 0, names).words).toBe('6 A');
  });
});
