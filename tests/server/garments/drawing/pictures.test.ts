import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Elevation } from '../../../../server/garments/drawing/elevation.ts';
import type { Garment, TierRecord } from '../../../../server/garments/garment/records.ts';
import { cm } from '../../../lengths.ts';
import { draw, garment, TIER } from './drawn.ts';

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
    ...pointsOf(drawing.levelHem?.line ?? ''),
  ];
}

/** A girth that spreads a skirt flat, so that its picture is low. */
const wide = (girth: Garment['girths'][number]) => ({ ...girth, girthTicks: girth.girthTicks * 1.5 });

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
      frontDropTicks: fc.option(millimetres(1, 2000)),
      sideDropTicks: millimetres(1, 2000),
      backDropTicks: millimetres(1, 2000),
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
  it('keeps the numbers of many tiers within the picture, none on another', () => {
    // Eleven tiers 9 cm apart: in one column their numbers would reach far below the hem.
    const tiers = Array.from({ length: 11 }, (_, at) => ({
      ...TIER,
      id: at + 1,
      name: `Tier ${at + 1}`,
      dropTicks: cm(2 + 9 * at),
      depthTicks: cm(9),
    }));
    const [drawing] = draw({ tiers, girths: garment().girths.map(wide) });
    const marks = drawing?.marks ?? [];
    expect(marks.map(({ label }) => label)).toEqual(tiers.map((_, at) => String(at + 1)));
    const lowest = Math.max(
      ...pointsOf(drawing?.tiers.map(({ outline }) => outline).join('') ?? '').map(([, y]) => y),
    );
    expect(Math.max(...marks.map(({ y }) => y))).toBeLessThan(lowest);
    for (const [at, one] of marks.entries())
      for (const other of marks.slice(at + 1))
        expect(Math.hypot(one.x - other.x, one.y - other.y)).toBeGreaterThan(2 * 9.5);
    // A few stand in one column, each level with its tier.
    const few = draw({ tiers: tiers.slice(0, 1) })[0]?.marks ?? [];
    expect(new Set(few.map(({ x }) => x)).size).toBe(1);
  });

  it('dimensions the drops and how far the hem is clear of the floor', () => {
    // Slant 40 of 100 cm, the radius growing by 230 ÷ 2π × 0.4 = 14.6 cm: it falls by √(40² − 14.6²) = 37.2 cm.
    const [drawing] = draw({ waistHeightTicks: cm(50) });
    expect(drawing?.dimensions.drops.map(({ text }) => text)).toEqual(['10 cm', '40 cm']);
    expect(drawing?.dimensions.floor?.clear).toBe('Hem ≈ 12.8 cm clear of the floor');
    expect(drawing?.notes).toEqual(['The floor is 50 cm below the waist.']);
    expect(draw()[0]?.dimensions.floor).toBeNull();
    expect(draw({ frontDropTicks: cm(101), backDropTicks: cm(108) })[0]?.notes).toEqual([
      'Drops to a level hem: 101 cm down the front and 108 cm down the back.',
      'It is drawn upright.',
    ]);
    // All three drops: a line through the picture from the front at the left, 7 cm higher, to the back at the right.
    const level = draw({ frontDropTicks: cm(35), sideDropTicks: cm(38), backDropTicks: cm(42) })[0];
    expect(level?.notes[1]).toMatch(/its front at the left; the dashed line is level/);
    const [front, side, back] = pointsOf(level?.levelHem?.line ?? '');
    expect(front?.[0]).toBeLessThan(side?.[0] ?? 0);
    expect(back?.[0]).toBeGreaterThan(side?.[0] ?? 0);
    const fallen = (back?.[1] ?? 0) - (front?.[1] ?? 0);
    const byCentimetre = ((side?.[1] ?? 0) - (front?.[1] ?? 0)) / 3;
    expect(fallen / byCentimetre).toBeCloseTo(7, 0);
    // Tilted, the longest drop ends as far above the floor as is wanted: a tier to 40 cm of 42 cm hangs clear of it.
    const tilted = { frontDropTicks: cm(35), sideDropTicks: cm(38), backDropTicks: cm(42) };
    const [standing] = draw({ ...tilted, waistHeightTicks: cm(30), clearanceTicks: cm(3) });
    expect(standing?.dimensions.floor?.clear).toMatch(/^Hem .+ clear of the floor$/);
    const even = { frontDropTicks: cm(40), sideDropTicks: cm(40), backDropTicks: cm(40) };
    expect(draw(even)[0]?.levelHem).toBeNull();
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
    // From the top: Tier 1, its frill 1r at 35 cm, its ruffle 1r2 at 40 cm, Tier 2 at 45 cm.
    expect(drawing?.tiers.map(({ label }) => label)).toEqual(['2', '1', '1r2', '1r']);
  });
});
