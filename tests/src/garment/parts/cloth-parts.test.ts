import { describe, expect, it } from 'vitest';
import { alongSelvedge, cutBias, squareOfWholeTurns } from '../../../../src/garment/parts/bias.ts';
import { circlesFor, cutFlounce, type Flounce, radiusFor } from '../../../../src/garment/parts/flounce.ts';
import {
  clothInRepeats,
  lengthInRepeats,
  lengthsInRepeats,
} from '../../../../src/garment/parts/pattern-repeat.ts';
import {
  clothOfPleat,
  cutPleats,
  fullUnder,
  type PleatedBand,
  sunrayRadius,
} from '../../../../src/garment/parts/pleats.ts';
import { TICKS_PER } from '../../../../src/quantity/length.ts';

const inch = TICKS_PER.in;
const cm = TICKS_PER.cm;
const inches = (ticks: number) => ticks / inch;
const cms = (ticks: number) => ticks / cm;

function flounce(asked: Partial<Flounce>) {
  const worked = cutFlounce({
    seamTicks: 120 * inch,
    depthTicks: 10 * inch,
    circles: 2,
    sectors: 1,
    joinTicks: 0,
    upperTicks: 0,
    hemTicks: inch / 2,
    usableWidthTicks: 58 * inch,
    ...asked,
  });
  if (!worked.ok) throw new Error(worked.message);
  return worked.cut;
}

describe('circular flounces', () => {
  it('have the radius and the sections of Baldt, Clothing for Women, 1916, fig. 56: 72 above, 112 below, 12 deep', () => {
    const circles = circlesFor(112 / 72, 72 * inch, 12 * inch);
    expect(circles * 360).toBeCloseTo(190.99, 2);
    // Four sections of its 190.99°, each lying on its own chord: the stacking itself is plane geometry.
    const angle = (circles * 2 * Math.PI) / 4;
    const [inner, outer] = [21.6, 33.6];
    const rise = inner * Math.cos(angle / 2);
    const pitch = Math.sqrt(outer ** 2 - (inner * Math.sin(angle / 2)) ** 2) - rise;
    expect(2 * outer * Math.sin(angle / 2)).toBeCloseTo(27.2, 1);
    expect(outer - rise).toBeCloseTo(13.85, 2);
    expect(pitch).toBeCloseTo(12.69, 2);
    expect(outer - rise + 3 * pitch).toBeCloseTo(51.92, 1);
    expect(inches(radiusFor(112 / 72, 12 * inch))).toBeCloseTo(21.6, 6);
  });

  // Circle 1 in across, 1 deep: hem ÷ seam 3 (cloningcouture); 2 in across: 2; flare 5 over 8 cm: radius 2 cm (thebuttonship).
  it.each([
    [1, 3],
    [2, 2],
  ])('flare as published: %i in across', (across, flare) => {
    const seamTicks = Math.round(across * Math.PI * inch);
    expect(flounce({ seamTicks, depthTicks: inch, circles: 1 }).flare).toBeCloseTo(flare, 3);
  });

  it('have a radius of 2 cm for a flare of 5 over 8 cm', () => {
    expect(cms(radiusFor(5, 8 * cm))).toBe(2);
  });

  it('take as much cloth as worked out by hand: 120 in, 10 deep, twice as long below', () => {
    expect(circlesFor(2, 120, 10)).toBeCloseTo(1.91, 3);
    const plain = flounce({});
    expect(inches(plain.radiusTicks)).toBeCloseTo(9.549, 3);
    expect(inches(plain.outerTicks)).toBeCloseTo(20.049, 3);
    expect(plain.flare).toBeCloseTo(2.047, 3);
    const joined = flounce({ joinTicks: inch / 2 });
    expect(inches(joined.radiusTicks)).toBeCloseTo(9.708, 3);
    expect(inches(joined.blockWidthTicks)).toBeCloseTo(40.42, 1);
    expect(inches(joined.clothTicks)).toBeCloseTo(80.8, 1);
    // The flare is the hem that is sewn by the seam, so that joins fall out of it.
    expect(joined.flare).toBe(plain.flare);
  });

  it('nest by halves and quarters', () => {
    const halves = flounce({ sectors: 2, upperTicks: inch / 2 });
    expect(halves).toMatchObject({ count: 4, columns: 1 });
    expect(inches(halves.clothTicks)).toBeCloseTo(73.7, 1);
    const quarters = flounce({ sectors: 4, upperTicks: inch / 2 });
    expect(quarters).toMatchObject({ count: 8, columns: 2, rows: 4 });
    expect(inches(quarters.clothTicks)).toBeCloseTo(51.5, 1);
    expect(inches(2 * quarters.blockWidthTicks)).toBeCloseTo(56.7, 1);
  });

  it('of 3 m, 25 cm deep, in two circles with 1 cm everywhere', () => {
    const cut = flounce({
      seamTicks: 300 * cm,
      depthTicks: 25 * cm,
      joinTicks: cm,
      upperTicks: cm,
      hemTicks: cm,
      usableWidthTicks: 150 * cm,
    });
    expect(cms(cut.radiusTicks)).toBeCloseTo(24.19, 2);
    expect(cms(cut.blockWidthTicks)).toBeCloseTo(100.4, 1);
    expect(cut.flare).toBeCloseTo(2.047, 3);
  });

  it('are refused where they do not fit', () => {
    expect(cutFlounce({ ...asked(), usableWidthTicks: 20 * inch })).toMatchObject({
      ok: false,
      field: 'usableWidth',
    });
    expect(cutFlounce({ ...asked(), upperTicks: 10 * inch })).toMatchObject({ ok: false, field: 'upper' });
  });

  const asked = (): Flounce => ({
    seamTicks: 120 * inch,
    depthTicks: 10 * inch,
    circles: 2,
    sectors: 1,
    joinTicks: 0,
    upperTicks: 0,
    hemTicks: 0,
    usableWidthTicks: 58 * inch,
  });

  it('of sections never overlap on the cloth: points of a ring that is laid by the pitch stay outside the one before', () => {
    const { innerTicks, outerTicks, pitchTicks, degrees } = flounce({ sectors: 4, upperTicks: inch / 2 });
    const half = (degrees / 2) * (Math.PI / 180);
    for (let step = -50; step <= 50; step += 1) {
      const at = (half * step) / 50;
      // The inner arc of the next section, moved up by the pitch, against the outer arc of this one.
      const [x, y] = [innerTicks * Math.sin(at), innerTicks * Math.cos(at) + pitchTicks];
      expect(Math.hypot(x, y)).toBeGreaterThanOrEqual(outerTicks - 2);
    }
  });
});

describe('pleats', () => {
  const band = (asked: Partial<PleatedBand>): PleatedBand => ({
    kind: 'knife',
    finishedTicks: 108 * inch,
    closing: 'ring',
    faceTicks: inch,
    gapTicks: 0,
    underTicks: inch,
    stripTicks: 58 * inch,
    seamTicks: inch / 2,
    joinsMayShow: false,
    ...asked,
  });
  const cut = (asked: Partial<PleatedBand>) => {
    const worked = cutPleats(band(asked));
    if (!worked.ok) throw new Error(worked.message);
    return worked.cut;
  };

  // Half-inch pleats take a fold every 1½ in (Martin, Make Your Own Hats, 1921, p. 73); full box pleats 3, double ones 5.
  it.each([
    ['knife', 1, 3],
    ['box', 1, 3],
    ['double-box', 1, 5],
  ] as const)('%s, folds meeting, take %i × %i', (kind, face, times) => {
    const faceTicks = face * inch;
    const underTicks = fullUnder(kind, faceTicks);
    expect(clothOfPleat(kind, { faceTicks, gapTicks: 0, underTicks })).toBe(times * faceTicks);
  });

  it('of half an inch have a fold every inch and a half, and 34 in of 1-in pleats take 102', () => {
    const half = { faceTicks: inch / 2, gapTicks: 0, underTicks: inch / 2 };
    expect(clothOfPleat('knife', half)).toBe(1.5 * inch);
    const { pleats, perPleatTicks } = cut({ finishedTicks: 34 * inch });
    expect(inches(pleats * perPleatTicks)).toBe(102);
  });

  it('hide their joins, so that strips hold whole pleats', () => {
    expect(cut({})).toMatchObject({ pleats: 108, perStrip: 19, strips: 6, fullness: 3 });
    const wide = { finishedTicks: 110 * inch, faceTicks: 5 * inch, underTicks: 5 * inch };
    expect(cut(wide)).toMatchObject({ perStrip: 3, strips: 8 });
    expect(cut({ ...wide, stripTicks: 45 * inch })).toMatchObject({ perStrip: 2, strips: 11 });
    // Gathered at three times the same would be 6 and 8.
    expect(cut({ ...wide, joinsMayShow: true }).strips).toBe(6);
    expect(cut({ ...wide, stripTicks: 45 * inch, joinsMayShow: true }).strips).toBe(8);
  });

  it('of a width of 9½ in: six that take up an inch each leave 3½ (School Needlework)', () => {
    expect(
      9.5 * inch -
        6 * (clothOfPleat('knife', { faceTicks: inch / 2, gapTicks: 0, underTicks: inch / 2 }) - inch / 2),
    ).toBe(3.5 * inch);
  });

  it('are refused where the folds are wider than the box or no pleat goes on a strip', () => {
    expect(cutPleats(band({ kind: 'box', underTicks: inch }))).toMatchObject({ ok: false, field: 'under' });
    expect(cutPleats(band({ stripTicks: 3 * inch }))).toMatchObject({ ok: false, field: 'strip' });
  });

  // 6 mm at the waist, 48 mm at the hem, 1.19 m long (nzpleaters.co.nz).
  it('of the sun have their rays meet 17 cm above the waist', () => {
    expect(cms(sunrayRadius(6 * 160, 48 * 160, 119 * cm))).toBeCloseTo(17, 6);
  });
});

describe('bias', () => {
  it('takes √2 along the selvedge, rounded up: 2 in are 2⅞ to the eighth, not the printed 2¾', () => {
    expect(inches(alongSelvedge(2 * inch))).toBeCloseTo(2.8284, 3);
    expect(Math.ceil(inches(alongSelvedge(2 * inch)) * 8) / 8).toBe(2.875);
  });

  // 250 in of 2 in: a square of 22.36 by area (mydecozo); 98 × 1 in whole turns: 10.40 (thebuttonship).
  it('comes from a square', () => {
    // Its area is that of the strip; whole turns and seams take more.
    expect(inches(squareOfWholeTurns(250 * inch, 2 * inch, 0))).toBeGreaterThanOrEqual(22.36);
    expect(inches(squareOfWholeTurns(98 * inch, inch, inch / 4))).toBeCloseTo(10.4, 2);
  });

  it('of 30 m, 10 cm wide, off 145 cm of cloth', () => {
    const job = {
      stripWidthTicks: 10 * cm,
      lengthTicks: 3000 * cm,
      usableWidthTicks: 145 * cm,
      joinTicks: cm,
      ends: 'fall away' as const,
    };
    const cut = cutBias(job);
    expect(cms(cut.addsTicks) / 100).toBeCloseTo(2.022, 3);
    expect(cut.strips).toBe(15);
    expect(Math.round(cms(cut.clothTicks))).toBe(357);
    expect(Math.round(cms(cutBias({ ...job, ends: 'pieced' }).clothTicks))).toBe(212);
  });

  // The problem of A Sewing Course for Teachers: velvet 20 in wide, bands of 4 in, a skirt of 3 yd.
  it('of velvet for a skirt of 3 yd', () => {
    const job = {
      stripWidthTicks: 4 * inch,
      lengthTicks: 108 * inch,
      usableWidthTicks: 20 * inch,
      joinTicks: inch / 4,
      ends: 'fall away' as const,
    };
    const cut = cutBias(job);
    expect(inches(cut.addsTicks)).toBeCloseTo(27.58, 2);
    expect(cut.strips).toBe(4);
    expect(inches(cut.clothTicks)).toBeCloseTo(42.6, 1);
    expect(inches(cutBias({ ...job, ends: 'pieced' }).clothTicks)).toBeCloseTo(22.6, 1);
  });

  // Each strip is laid out in its end triangle by its corners: nothing here is taken from the formula.
  it('takes shorter strips from the end triangles, each lying in it beside the one before', () => {
    const [width, strip, join] = [145 * cm, 10 * cm, cm];
    const job = { stripWidthTicks: strip, usableWidthTicks: width, joinTicks: join, ends: 'short' as const };
    const seams = 2 * join * Math.SQRT2;
    const one = cutBias({ ...job, lengthTicks: 3000 * cm });
    expect(one.shorter.length).toBeGreaterThan(2);
    one.shorter.forEach(({ addsTicks, count }, at) => {
      expect(count).toBeLessThanOrEqual(2);
      // The triangle has its right angle at (0, 0) and legs of the width; u runs along its long side, v away from it.
      const at45 = (u: number, v: number) => {
        const half = width / Math.SQRT2;
        return [(half + u - v) / Math.SQRT2, (half - u - v) / Math.SQRT2] as const;
      };
      const edge = addsTicks + seams;
      const [near, far] = [at * strip, (at + 1) * strip];
      // Slanted by 45° at both ends the same way, as far to one side as the near edge lets it.
      const start = -(width / Math.SQRT2 - near);
      const corners = [
        at45(start, near),
        at45(start + edge, near),
        at45(start + strip, far),
        at45(start + strip + edge, far),
      ];
      for (const [x, y] of corners) {
        expect(Math.min(x, y)).toBeGreaterThan(-3);
        expect(x + y).toBeLessThan(width + 3);
      }
      // A tick more would leave the cloth at the far corner.
      const [x, y] = at45(start + strip + edge + 4, far);
      expect(Math.min(x, y)).toBeLessThan(0);
    });
    const got =
      one.strips * one.addsTicks +
      one.shorter.reduce((sum, { addsTicks, count }) => sum + addsTicks * count, 0);
    expect(got + 40).toBeGreaterThan(3000 * cm);
    // Fewer whole strips than without them, and none to spare.
    expect(one.strips).toBeLessThan(15);
    expect(one.clothTicks).toBeLessThan(
      cutBias({ ...job, lengthTicks: 3000 * cm, ends: 'fall away' }).clothTicks,
    );
    const no = cutBias({ ...job, lengthTicks: 3000 * cm, shortestTicks: 300 * cm });
    expect(no).toMatchObject({ strips: 15, shorter: [] });
  });

  it('comes off several lengths of cloth, the last one with what is left, each with triangles of its own', () => {
    const job = {
      stripWidthTicks: 10 * cm,
      lengthTicks: 3000 * cm,
      usableWidthTicks: 145 * cm,
      joinTicks: cm,
      ends: 'fall away' as const,
    };
    const { lengths, clothTicks } = cutBias({ ...job, stripsEach: 6 });
    expect(lengths.map(({ strips, count }) => [strips, count])).toEqual([
      [6, 2],
      [3, 1],
    ]);
    // 6 × 14.142 + 145 cm twice, and 3 × 14.142 + 145 cm.
    expect(lengths.map((one) => cms(one.clothTicks).toFixed(1))).toEqual(['229.9', '187.4']);
    expect(cms(clothTicks)).toBeCloseTo(2 * 229.85 + 187.43, 1);
  });
});

describe('a pattern that repeats', () => {
  // 96 and 27 in: 108, 12 of them waste (diyideas); 240 and 37 cm: 259, four 1036 (et-wholesale); 118 and 13: 130 (btalmadge).
  it.each([
    [96, 27, 108],
    [240, 37, 259],
    [118, 13, 130],
  ])('%i with a repeat of %i is cut %i', (height, repeat, cut) => {
    expect(lengthInRepeats(height, repeat)).toBe(cut);
  });

  it('takes whole repeats but for the last length, and half a repeat more with a half drop', () => {
    expect(clothInRepeats({ heightTicks: 240, repeatTicks: 37, count: 4, halfDrop: false })).toBe(1017);
    const job = { heightTicks: 96 * inch, repeatTicks: 27 * inch, count: 4 };
    expect(inches(clothInRepeats({ ...job, halfDrop: false }))).toBe(420);
    expect(inches(clothInRepeats({ ...job, halfDrop: true }))).toBe(433.5);
    expect(clothInRepeats({ ...job, count: 0, halfDrop: false })).toBe(0);
  });

  it('is placed anew on each piece of cloth, the last of which has what is left', () => {
    const job = { heightTicks: 240, repeatTicks: 37, count: 7, halfDrop: false };
    // Three each: 259 + 259 + 240.
    expect(lengthsInRepeats(job, 3)).toEqual([
      { holds: 3, clothTicks: 758, count: 2 },
      { holds: 1, clothTicks: 240, count: 1 },
    ]);
    expect(lengthsInRepeats(job, 9)).toEqual([{ holds: 7, clothTicks: clothInRepeats(job), count: 1 }]);
  });
});
