import { describe, expect, it } from 'vitest';
import {
  cutWaistband,
  elasticLength,
  fastenersFor,
  laceLength,
  openingThrough,
  placketStrip,
  underlapStrip,
} from '../../../../src/garment/parts/closing.ts';
import { planGathering } from '../../../../src/garment/parts/gathering-plan.ts';
import { cutCage, straightHoops } from '../../../../src/garment/parts/hoops.ts';
import { packLengths, trimLength } from '../../../../src/garment/parts/trims.ts';
import { TICKS_PER } from '../../../../src/quantity/length.ts';

const inch = TICKS_PER.in;
const cm = TICKS_PER.cm;
const inches = (ticks: number) => ticks / inch;
const cms = (ticks: number) => ticks / cm;

describe('band and opening', () => {
  it('cut a band with its laps and seams', () => {
    const cut = cutWaistband({
      waistTicks: 70 * cm,
      easeTicks: 2 * cm,
      lapsTicks: 5 * cm,
      finishedDepthTicks: 4 * cm,
      seamTicks: cm,
    });
    expect([cms(cut.lengthTicks), cms(cut.depthTicks)]).toEqual([79, 10]);
  });

  it('are faced apart, and an underlap reaches an inch below the opening (The New Dressmaker, 1921, p. 102)', () => {
    const band = {
      waistTicks: 28 * inch,
      easeTicks: 0,
      lapsTicks: 2 * inch,
      finishedDepthTicks: 1.5 * inch,
      seamTicks: inch / 2,
    };
    expect(cutWaistband(band)).toEqual({ lengthTicks: 31 * inch, depthTicks: 4 * inch });
    expect(cutWaistband({ ...band, faced: true })).toEqual({
      lengthTicks: 31 * inch,
      depthTicks: 2.5 * inch,
    });
    expect(underlapStrip(10 * inch)).toBe(11 * inch);
  });

  // About two inches apart (The New Dressmaker, 1921, p. 101); a lap strip for 9 in is 18 long (Goodwin's Course, III).
  it('have six fasteners on ten inches, and a strip of eighteen for an opening of nine', () => {
    expect(fastenersFor(10 * inch, 2 * inch)).toBe(6);
    expect(placketStrip(9 * inch)).toBe(18 * inch);
  });

  it('are laced by the gap that is needed to get in', () => {
    expect(inches(laceLength(12, 2 * inch, inch, 12 * inch))).toBeCloseTo(75.2, 1);
    expect(inches(laceLength(12, 8 * inch, inch, 12 * inch))).toBeCloseTo(209.4, 1);
  });

  it('go through layers by where these hang', () => {
    expect(openingThrough(25, 25, 40)).toEqual({ how: 'ring' });
    expect(openingThrough(25, 0, 25)).toEqual({ how: 'open' });
    expect(openingThrough(25, 10, 40)).toEqual({ how: 'partly', openTicks: 15 });
    expect(elasticLength(70 * cm, 1000, 2 * cm)).toBe(65 * cm);
  });
});

describe('a cage', () => {
  const yards = (ticks: number) => ticks / (36 * inch);

  // A dress hem of 92 in: steels of 91, 73.6, 56.2 and 38.8 (fuwa-fuwa-fashion, 2016).
  it('on a straight line has the published steels', () => {
    const girths = straightHoops(92 * inch, { lessTicks: 5 * inch, steps: 5, hoops: 4 });
    const cut = cutCage({ girthsTicks: girths, lapTicks: 4 * inch, seamTicks: 0, tapes: 0, tapeTicks: 0 });
    expect(cut.steels.map(({ steelTicks }) => Number(inches(steelTicks).toFixed(1)))).toEqual([
      38.8, 56.2, 73.6, 91,
    ]);
    expect(yards(cut.steelTicks)).toBeCloseTo(7.21, 2);
  });

  it('of 51, 74, 97 and 120 in takes steels, casings and tapes as added up by hand', () => {
    const cut = cutCage({
      girthsTicks: [51, 74, 97, 120].map((girth) => girth * inch),
      lapTicks: 4 * inch,
      seamTicks: inch / 2,
      tapes: 8,
      tapeTicks: 42 * inch,
    });
    expect([cut.steelTicks, cut.casingTicks, cut.tapeTicks].map(inches)).toEqual([358, 346, 336]);
  });

  // 16 tapes of 36 + 2, a waist of 28 + 12 and a hem of 110 + ½, these two double: 25.25 yd (ehow.co.uk 5202645).
  it('with tapes up and down and round as published', () => {
    const { tapeTicks } = cutCage({
      girthsTicks: [],
      lapTicks: 0,
      seamTicks: 0,
      tapes: 16,
      tapeTicks: 38 * inch,
    });
    const round = 2 * (28 + 12) * inch + 2 * 110.5 * inch;
    expect(yards(tapeTicks + round)).toBeCloseTo(25.25, 2);
    // Seven tapes of 22 in, as a cage of 1865 has them (hopkinscostumetrust.org).
    expect(
      inches(
        cutCage({ girthsTicks: [], lapTicks: 0, seamTicks: 0, tapes: 7, tapeTicks: 22 * inch }).tapeTicks,
      ),
    ).toBe(154);
  });
});

describe('trims', () => {
  const edge = {
    edgeTicks: 72 * inch,
    fullnessMilli: 1000,
    corners: 0,
    perCornerTicks: 0,
    joins: 0,
    perJoinTicks: 0,
  };

  it('take the edge, its corners and their joins', () => {
    // A square of 18 in and a lace of 2 in, laid flat (School Needlework).
    expect(inches(trimLength({ ...edge, corners: 4, perCornerTicks: 4 * inch }))).toBe(88);
    // Wire for a girth of 24 with an inch of ease and an inch of lap (Martin, 1921, p. 7).
    expect(inches(trimLength({ ...edge, edgeTicks: 25 * inch, joins: 1, perJoinTicks: inch }))).toBe(26);
    expect(trimLength({ ...edge, edgeTicks: 3, fullnessMilli: 1500 })).toBe(5);
  });

  it('come in packs of which no length is joined', () => {
    expect(packLengths([60, 50, 40, 40, 10], 100)).toEqual({
      packs: 2,
      tooLong: [],
      cuts: [
        [60, 40],
        [50, 40, 10],
      ],
    });
    expect(packLengths([101, 5], 100)).toMatchObject({ packs: 1, tooLong: [101] });
  });

  it('take no more packs than 11/9 of the fewest and one, by trying every way', () => {
    let seed = 7;
    const chance = (most: number) => {
      seed = (seed * 48_271) % 2_147_483_647;
      return 1 + (seed % most);
    };
    for (let turn = 0; turn < 200; turn += 1) {
      const lengths = Array.from({ length: chance(7) }, () => chance(100));
      const { packs, cuts } = packLengths(lengths, 100);
      expect(packs).toBeLessThanOrEqual(Math.floor((11 / 9) * fewest(lengths, 100) + 6 / 9));
      expect(cuts.flat().sort((a, b) => a - b)).toEqual([...lengths].sort((a, b) => a - b));
      for (const pack of cuts) expect(pack.reduce((sum, each) => sum + each, 0)).toBeLessThanOrEqual(100);
    }
  });

  function fewest(lengths: readonly number[], size: number, open: readonly number[] = []): number {
    const [length, ...rest] = lengths;
    if (length === undefined) return open.length;
    const into = open.flatMap((left, at) =>
      left >= length
        ? [
            fewest(
              rest,
              size,
              open.map((each, i) => (i === at ? each - length : each)),
            ),
          ]
        : [],
    );
    return Math.min(...into, fewest(rest, size, [...open, size - length]));
  }
});

describe('a gathering plan', () => {
  // 108 in at three times off six strips, 342 in flat, two rows at 2.5: 1710 in of thread before tails.
  it('takes the thread worked out by hand, in quarters', () => {
    const plan = planGathering(342 * inch, 108 * inch, { rows: 2, mostTicks: 500 * inch });
    expect(plan.sections).toBe(4);
    expect(inches(plan.threadTicks - 2 * 8 * 16_000)).toBeCloseTo(1710, 6);
    expect(planGathering(342 * inch, 108 * inch, { rows: 2, mostTicks: 40 * inch }).sections).toBe(12);
  });
});
