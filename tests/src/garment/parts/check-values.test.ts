import { describe, expect, it } from 'vitest';
import { hoopGirth } from '../../../../src/garment/hoop.ts';
import { alongSelvedge, squareByArea } from '../../../../src/garment/parts/bias.ts';
import { cutWaistband } from '../../../../src/garment/parts/closing.ts';
import { cutFlounce } from '../../../../src/garment/parts/flounce.ts';
import { cutCage } from '../../../../src/garment/parts/hoops.ts';
import { widthsOfLayer } from '../../../../src/garment/parts/layer.ts';
import { clothInRepeats, lengthInRepeats } from '../../../../src/garment/parts/pattern-repeat.ts';
import { clothOfPleat } from '../../../../src/garment/parts/pleats.ts';
import { trimLength } from '../../../../src/garment/parts/trims.ts';
import { countStrips } from '../../../../src/garment/strips.ts';
import { massOfStrips } from '../../../../src/garment/weight.ts';
import { cm, inch, yd } from '../../../lengths.ts';

/** Figures of tables and handbooks, each beside where it was read; what a page leaves to its reader is worked out here. */

const inches = (ticks: number) => ticks / inch(1);

const ring = (baseTicks: number, fullnessMilli: number, stripLengthTicks: number, seamTicks: number) => {
  const counted = countStrips({
    baseTicks,
    fullnessMilli,
    closing: 'ring',
    seamTicks,
    endTicks: 0,
    blocks: [{ clothId: 1, shadeId: 1, lots: 'one', strips: 1, stripLengthTicks, direction: 'across' }],
    finishRepeat: false,
  });
  if (!counted.ok) throw new Error('it can be counted');
  return counted.count;
};

describe('circles', () => {
  // An inner circle of 41¼ in is drawn with 6½ in on the page (burdastyle.com, skirt instructions); exactly 6.565.
  it('of 41¼ in round have a radius of 6.565 in', () => {
    const worked = cutFlounce({
      seamTicks: inch('41 1/4'),
      depthTicks: inch(20),
      circles: 1,
      sectors: 1,
      joinTicks: 0,
      upperTicks: 0,
      hemTicks: 0,
      usableWidthTicks: inch(60),
    });
    expect(worked.ok && inches(worked.cut.radiusTicks)).toBeCloseTo(6.565, 3);
  });
});

describe('bias', () => {
  // The table of Baldt, Clothing for Women, 1916, ch. XXII: a width, then inches and eighths along the selvedge.
  const PRINTED: readonly (readonly [string, number, number])[] = [
    ['1/2', 0, 6],
    ['1', 1, 3],
    ['1 1/2', 2, 1],
    ['2', 2, 6],
    ['2 1/2', 3, 4],
    ['3', 4, 2],
    ['4', 5, 5],
    ['5', 7, 1],
    ['6', 8, 4],
    ['7', 9, 7],
    ['8', 11, 2],
    ['9', 12, 6],
    ['10', 14, 1],
    ['11', 15, 4],
  ];

  it.each(PRINTED)(
    'of %s in agrees with the printed table to its eighth, and is never short',
    (width, whole, eighths) => {
      const printed = whole * 8 + eighths;
      const along = (inches(alongSelvedge(inch(width))) * 8) as number;
      // Printed to the nearest eighth; of 2 and 8 in an eighth low.
      const low = width === '2' || width === '8' ? 1 : 0;
      expect(Math.round(along)).toBe(printed + low);
      expect(inches(alongSelvedge(inch(width)))).toBeGreaterThanOrEqual(inches(inch(width)) * Math.SQRT2);
    },
  );

  // A Sewing Course for Teachers takes "one-third more": 5⅓ for 4 in, where 5.66 are wanted.
  it('is longer than a third more', () => {
    expect(inches(alongSelvedge(inch(4)))).toBeCloseTo(5.66, 2);
    expect(inches(alongSelvedge(inch(4)))).toBeGreaterThan(4 * (4 / 3));
  });

  it.each([
    [72, '2', 12, 'sewaquilt.com'],
    [200, '2', 20, 'mydecozo.co.uk'],
    [250, '2', 22.36, 'mydecozo.co.uk'],
    [100, '3 1/2', 18.71, 'quiltersquestiontime.com, 2021'],
  ])('of %i in, %s in wide, comes off a square of %d in by its area (%s)', (length, width, side) => {
    expect(inches(squareByArea(inch(length), inch(width)))).toBeCloseTo(side, 2);
  });
});

describe('breadths and layers', () => {
  // Six panels of 15 in, seams of ½ in: 90 in cut are 84 in finished (mala_14.livejournal, 2016).
  it('of six panels, 90 in cut, are 84 in round', () => {
    const counted = ring(inch(84), 1000, inch(15), inch('1/2'));
    expect([counted.strips, inches(counted.flatTicks)]).toEqual([6, 84]);
  });

  // A hem of 2½ yd and a ruffle half as much again, 36-in cloth: worked out from Ingalls, Text-Book on Domestic Art, 1911.
  it('of a dust ruffle 1½ full take four strips, 20 in of cloth at 5 in', () => {
    const counted = ring(yd('2 1/2'), 1500, inch(36), inch('1/2'));
    expect(inches(yd('2 1/2')) * 1.5).toBe(135);
    expect(counted.strips).toBe(4);
    expect(counted.strips * 5).toBe(20);
  });

  // A short skirt: three widths each of 28, 25, 22, 19, 15 and 12 cm (doczz.net 4765310); the sum is ours.
  it('of a short net skirt take 363 cm of net', () => {
    const depths = [28, 25, 22, 19, 15, 12];
    const widths = depths.map(() =>
      widthsOfLayer({ flatTicks: 3 * cm(140), usableWidthTicks: cm(140), joinTicks: 0, closing: 'ring' }),
    );
    expect(depths.reduce((sum, depth, at) => sum + depth * (widths[at] ?? 0), 0)).toBe(363);
  });

  // Three tiers, each doubled: 2, 4 and 8 yd (aslipintime, 2018). 96, 192 and 384 in, 7 in deep (ehow.co.uk 7376173).
  it('of a petticoat double from tier to tier, and weigh 34.9 g of net at 11.5 g/m²', () => {
    const doubled = [yd(1), yd(2), yd(4)].map((base) => ring(base, 2000, base, 0).flatTicks);
    expect(doubled).toEqual([yd(2), yd(4), yd(8)]);
    const strips = [96, 192, 384].map((length) => ({
      depthTicks: inch(7),
      lengthTicks: inch(length),
      direction: 'across' as const,
      count: 1,
      massPerAreaMgM2: 11_500,
    }));
    expect((massOfStrips(strips).massMg / 1000).toFixed(1)).toBe('34.9');
  });

  // A waist of 30 and 4 in: 34, twice 68, and thrice 102; the page prints 106 (ehow 8620330).
  it('of a petticoat on 34 in are 68 and 102 in', () => {
    expect([2000, 3000].map((fullness) => inches(ring(inch(34), fullness, inch(34), 0).flatTicks))).toEqual([
      68, 102,
    ]);
  });
});

describe('edges', () => {
  const edge = { edgeTicks: inch(72), fullnessMilli: 1500, corners: 4, joins: 0, perJoinTicks: 0 };

  // Lace fulled by half takes 2½ times its width at each corner (Handicraft for Girls): 2-in lace on a square of 18 in.
  it('of a fulled lace take half as much again, and 5 in at a corner', () => {
    expect(inches(trimLength({ ...edge, perCornerTicks: inch(5) }))).toBe(128);
  });

  // Horsehair braid laps ½ in at the hem (ehow.co.uk 7792212).
  it('of crin take the hem and half an inch', () => {
    const hem = { ...edge, fullnessMilli: 1000, corners: 0, perCornerTicks: 0 };
    expect(inches(trimLength({ ...hem, joins: 1, perJoinTicks: inch('1/2') }))).toBe(72.5);
  });

  // On a full circle the inner edge of 2-in crin is 2π × 2 in shorter than the outer, whatever the circle (geometry).
  it('of a circle are 12.57 in shorter two inches further in', () => {
    const worked = cutFlounce({
      seamTicks: inch(60),
      depthTicks: inch(2),
      circles: 1,
      sectors: 1,
      joinTicks: 0,
      upperTicks: 0,
      hemTicks: 0,
      usableWidthTicks: inch(60),
    });
    expect(worked.ok && inches(worked.cut.hemLengthTicks) - 60).toBeCloseTo(12.57, 2);
  });
});

describe('bands and hoops', () => {
  // A corseted waist and 3 in, of a strip 3 in wide (mala_14.livejournal, 2016): its finished depth and seams are ours.
  it('of a tutu are the waist and 3 in long', () => {
    const band = cutWaistband({
      waistTicks: inch(26),
      easeTicks: 0,
      lapsTicks: inch(3),
      finishedDepthTicks: inch('1 1/4'),
      seamTicks: inch('1/4'),
    });
    expect([inches(band.depthTicks), inches(band.lengthTicks) - 2 * 0.25]).toEqual([3, 29]);
  });

  // The lowest hoop is half as wide as the wearer is tall (missmacraes.wordpress.com): of 64 in it is 100.5 in round.
  it('of half the height across are 100.5 in round', () => {
    expect(inches(hoopGirth({ widthTicks: inch(32), depthTicks: inch(32) }))).toBeCloseTo(100.5, 1);
  });

  // Round wire laps an inch, "no more, no less" (Martin, Make Your Own Hats, 1921, p. 7); a tube joins without (2013).
  it('of wire lap an inch, and nothing in a connector', () => {
    const cage = (lapTicks: number) =>
      cutCage({ girthsTicks: [inch(24)], lapTicks, seamTicks: 0, tapes: 0, tapeTicks: 0 });
    expect(inches(cage(inch(1)).steelTicks)).toBe(25);
    expect([inches(cage(0).steelTicks), cage(0).connectors]).toEqual([24, 1]);
  });
});

describe('a pleat at a gore seam', () => {
  // An inverted pleat of width q adds q to one edge and 3q to the other, a set-in pair 8q (Baldt, Clothing for Women,
  // 1916, Outer Garments, 4).
  it('takes four times its width besides what is seen of it, a pair eight times', () => {
    const [face, q] = [inch(3), inch('1 1/2')];
    const under = clothOfPleat('inverted', { faceTicks: face, gapTicks: 0, underTicks: q }) - face;
    expect(under).toBe(q + 3 * q);
    expect(2 * under).toBe(8 * q);
  });
});

describe('a pattern', () => {
  // 240 cm and 37: four lengths of 259 are 1036 cm (et-wholesale.com.au), 1017 where the tail of the last is saved.
  it('takes 1036 cm for four whole cuts, and 1017 without the tail', () => {
    expect(4 * lengthInRepeats(cm(240), cm(37))).toBe(cm(1036));
    const job = { heightTicks: cm(240), repeatTicks: cm(37), count: 4, halfDrop: false };
    expect(clothInRepeats(job)).toBe(cm(1017));
  });

  // Shaped pieces of a plaid: a repeat for each piece along the length (galafabrics.blogspot, 2010). Ours is never more.
  it('takes no more than a repeat for each length', () => {
    for (let height = 30; height <= 60; height += 3) {
      for (let repeat = 5; repeat <= 15; repeat += 1) {
        const job = { heightTicks: cm(height), repeatTicks: cm(repeat), count: 4, halfDrop: false };
        expect(clothInRepeats(job)).toBeLessThanOrEqual(4 * (cm(height) + cm(repeat)));
        expect(clothInRepeats(job)).toBeGreaterThanOrEqual(4 * cm(height));
      }
    }
  });

  // Half-drop lengths one after the other, each on its own phase: 460.5 in; the two phases apart: 433.5.
  it('of half-drop is cut by phases, which takes less than one by one', () => {
    let end = 0;
    for (let at = 0; at < 4; at += 1) {
      const phase = at % 2 === 0 ? 0 : 13.5;
      end = phase + Math.ceil((end - phase) / 27) * 27 + 96;
    }
    expect(end).toBe(460.5);
    const job = { heightTicks: inch(96), repeatTicks: inch(27), count: 4, halfDrop: true };
    expect(inches(clothInRepeats(job))).toBe(433.5);
  });
});
