import { describe, expect, it } from 'vitest';
import { deltaE00, type Lab } from '../../../src/colour/lab.ts';
import { measureArea, type PixelSquare, squareOf } from '../../../src/colour/photo-area.ts';
import {
  judgePair,
  type MarkedArea,
  pairInPhoto,
  problemsOfAreas,
  problemsOfSquares,
} from '../../../src/colour/photo-pair.ts';
import {
  cameraIn,
  cut,
  type Dyeing,
  daylight,
  dyedAgain,
  PICTURE,
  reflectanceOf,
  type Shot,
  seeded,
  someDyeing,
  takePhoto,
  trueDifference,
} from './camera.ts';

const NAMES = { card: 'Grey card', one: 'Cloth A', other: 'Cloth B' };
const SQUARES = {
  card: { leftPx: 40, topPx: 40, sidePx: 120 },
  one: { leftPx: 260, topPx: 200, sidePx: 140 },
  other: { leftPx: 410, topPx: 200, sidePx: 140 },
};
const CARD = 0.18;
const GREY_CARD = Array.from({ length: 36 }, () => CARD);

function photograph(one: Dyeing, other: Dyeing, shot: Shot) {
  const lying = [
    { ...SQUARES.card, curve: GREY_CARD },
    { ...SQUARES.one, curve: reflectanceOf(one) },
    { ...SQUARES.other, curve: reflectanceOf(other) },
  ];
  const picture = takePhoto(lying, shot);
  const area = (square: PixelSquare): MarkedArea => ({
    square,
    measured: measureArea(cut(picture, square), square.sidePx),
  });
  return { card: area(SQUARES.card), one: area(SQUARES.one), other: area(SQUARES.other) };
}

function shotBy(random: () => number, changes: Partial<Shot> = {}): Shot {
  return {
    camera: cameraIn(daylight(0.3 * (random() - 0.5)), random),
    exposure: 0.6 + 0.3 * random(),
    balance: [0.92 + 0.16 * random(), 0.92 + 0.16 * random()],
    noise: 0.04,
    random,
    ...changes,
  };
}

const RED: Dyeing = { ground: 0.8, dyes: [{ centre: 520, width: 50, depth: 0.6 }] };
const REDDER: Dyeing = { ground: 0.8, dyes: [{ centre: 520, width: 50, depth: 0.7 }] };
const messages = (changes: Partial<Shot>) =>
  problemsOfAreas(photograph(RED, REDDER, shotBy(seeded(3), changes)), CARD, NAMES).map(
    ({ message }) => message,
  );

/** Errors of pairs of invented cloths, against what their reflectances say. */
function tryPairs(pairs: number, off: number, changes: Partial<Shot>) {
  const random = seeded(16);
  return Array.from({ length: pairs }, () => {
    const one = someDyeing(random);
    const other = dyedAgain(one, off, random);
    const areas = photograph(one, other, shotBy(random, changes));
    if (problemsOfAreas(areas, CARD, NAMES).length > 0) return [];
    const { deltaE, uncertainty } = judgePair([pairInPhoto(areas, CARD)]);
    const truth = trueDifference(one, other);
    return [{ truth, error: Math.abs(deltaE - truth), isWithin: Math.abs(deltaE - truth) <= uncertainty }];
  }).flat();
}

const median = (values: number[]) =>
  values.sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

describe('pairs in daylight, against the reflectances of the cloths', () => {
  it.each([
    ['a camera that only balances and codes', {}, 0.3],
    ['one that adds colour and contrast', { look: { colour: 0.1, contrast: 0.3 } }, 0.3],
  ])('by %s', (_, changes, most) => {
    const tried = tryPairs(90, 0.08, changes);
    expect(tried.length).toBeGreaterThan(80);
    expect(median(tried.map(({ truth }) => truth))).toBeGreaterThan(0.5);
    expect(median(tried.map(({ error }) => error))).toBeLessThanOrEqual(most);
  });

  it('come out wrong where nothing is held against the card', () => {
    const random = seeded(16);
    const one = someDyeing(random);
    const areas = photograph(one, dyedAgain(one, 0.5, random), shotBy(random, { exposure: 0.2 }));
    const white = { ...areas.card, measured: { ...areas.card.measured, light: [CARD, CARD, CARD] as const } };
    const byCard = pairInPhoto(areas, CARD).deltaE;
    expect(Math.abs(pairInPhoto({ ...areas, card: white }, CARD).deltaE - byCard)).toBeGreaterThan(0.3);
  });

  it('lie within what they are said to be sure to, far apart as well', () => {
    for (const look of [
      { colour: 0, contrast: 0 },
      { colour: 0.1, contrast: 0.3 },
    ]) {
      const tried = [0.05, 0.3].flatMap((off) => tryPairs(40, off, { look }));
      expect(tried.filter(({ isWithin }) => isWithin).length / tried.length).toBeGreaterThanOrEqual(0.95);
    }
  });
});

describe('a photo that cannot be relied on', () => {
  it('is no ordinary one', () => {
    expect(messages({})).toEqual([]);
  });

  it('is too bright', () => {
    expect(messages({ exposure: 2.2 })).toEqual([
      expect.stringMatching(/^Cloth A: \d+ % of it is too bright for the camera\. Take/),
      expect.stringMatching(/^Cloth B: /),
    ]);
  });

  it('is too dark', () => {
    const text = expect.stringMatching(/ too dark or too deep for the camera/);
    expect(messages({ exposure: 0.002 })).toEqual([
      text,
      text,
      text,
      expect.stringMatching(/^Grey card: this place/),
    ]);
  });

  it('is lit from one side, between the cloths or within them', () => {
    expect(messages({ fall: 0.5 })).toEqual([
      expect.stringMatching(/^Cloth A and cloth B: the light differs by \d+ % between them/),
    ]);
    expect(messages({ fall: 1.2 })).toContainEqual(
      expect.stringMatching(/^Cloth A: the light differs by \d+ % across it/),
    );
    expect(messages({ fall: 0.1 })).toEqual([]);
  });

  it('has a shadow, a crease or a pattern where it is marked', () => {
    const striped = new Uint8Array(128 * 128 * 3).fill(120);
    for (let at = 0; at < striped.length; at += 3)
      if (Math.floor(at / 3 / 128) % 64 < 20) striped.fill(70, at, at + 3);
    const areas = photograph(RED, REDDER, shotBy(seeded(3)));
    const one = { ...areas.one, measured: measureArea(striped, 128) };
    expect(problemsOfAreas({ ...areas, one }, CARD, NAMES)).toEqual([
      { area: 'one', message: expect.stringMatching(/^Cloth A: it is uneven by ± \d+ %\. Smooth out/) },
    ]);
  });

  it('has something strongly coloured marked for the card', () => {
    const areas = photograph(RED, REDDER, shotBy(seeded(3)));
    const light = [0.6, 0.1, 0.05] as const;
    const card = { ...areas.card, measured: { ...areas.card.measured, light } };
    expect(problemsOfAreas({ ...areas, card }, CARD, NAMES)[0]).toEqual({
      area: 'card',
      message: 'Grey card: this place is black or strongly coloured. Mark the grey card.',
    });
  });

  it('shows cloth lighter than white', () => {
    const areas = photograph(RED, REDDER, shotBy(seeded(3)));
    const texts = problemsOfAreas(areas, 0.9, NAMES).map(({ message }) => message);
    expect(texts).toContainEqual(expect.stringMatching(/^Cloth A: it comes out lighter than white/));
  });
});

describe('squares', () => {
  const problems = (changes: Partial<typeof SQUARES>) =>
    problemsOfSquares({ ...SQUARES, ...changes }, PICTURE, NAMES).map(({ message }) => message);

  it('lie where they are marked, by their centre', () => {
    expect(squareOf({ xMilli: 500, yMilli: 500, sideMilli: 200 }, PICTURE)).toEqual({
      leftPx: 320,
      topPx: 220,
      sidePx: 160,
    });
  });

  it('are as they should be', () => {
    expect(problems({})).toEqual([]);
    expect(problems({ one: { leftPx: 0, topPx: 460, sidePx: 140 } })).toEqual([]);
  });

  it('are too small, with how large is enough', () => {
    expect(problems({ one: { leftPx: 260, topPx: 200, sidePx: 99 } })).toEqual([
      'Cloth A: 99 × 99 pixels are too few. Make the square 12.5 % or larger, or take the photo from nearer.',
    ]);
    expect(problems({ one: { leftPx: 260, topPx: 200, sidePx: 100 } })).toEqual([]);
  });

  it.each([
    ['left', { leftPx: -1, topPx: 200, sidePx: 140 }],
    ['top', { leftPx: 260, topPx: -1, sidePx: 140 }],
    ['right', { leftPx: 661, topPx: 200, sidePx: 140 }],
    ['bottom', { leftPx: 260, topPx: 461, sidePx: 140 }],
  ])('reach beyond the photo on the %s', (_, one) => {
    expect(problems({ one })).toEqual([
      expect.stringMatching(/^Cloth A: the square reaches beyond the photo/),
    ]);
  });

  it('overlap, or touch without', () => {
    expect(problems({ other: { leftPx: 399, topPx: 200, sidePx: 140 } })).toEqual([
      'Cloth B: it overlaps cloth A. Move one of them.',
    ]);
    expect(problems({ other: { leftPx: 400, topPx: 200, sidePx: 140 } })).toEqual([]);
  });
});

describe('what is measured of a square', () => {
  it('is the mean of light, not of the values that code it', () => {
    const halves = new Uint8Array(100 * 100 * 3);
    for (let at = 0; at < halves.length / 3; at++) halves.fill(at % 2 === 0 ? 0 : 255, at * 3, at * 3 + 3);
    const { light } = measureArea(halves, 100);
    for (const channel of light) expect(channel).toBeCloseTo(0.5, 6);
  });

  // IEC 61966-2-1: the coded values 188 and 55 are 0.50289 and 0.03820 of the light.
  it.each([
    [188, 0.50289],
    [55, 0.0382],
  ])('of %i is %d', (coded, wanted) => {
    expect(measureArea(new Uint8Array(100 * 100 * 3).fill(coded), 100).light[0]).toBeCloseTo(wanted, 4);
  });

  it('tells the slope of the light, whatever the weave', () => {
    const random = seeded(5);
    const pixels = new Uint8Array(160 * 160 * 3);
    for (let at = 0; at < 160 * 160; at++) {
      const linear = 0.2 * (1 + 0.0005 * ((at % 160) - 80)) * (1 + 0.05 * (random() - 0.5));
      pixels.fill(Math.round(255 * (1.055 * linear ** (1 / 2.4) - 0.055)), at * 3, at * 3 + 3);
    }
    const { slopeX, slopeY, unevenness } = measureArea(pixels, 160);
    expect(slopeX).toBeCloseTo(0.0005, 5);
    expect(slopeY).toBeCloseTo(0, 5);
    expect(unevenness).toBeLessThan(0.01);
  });

  it('needs every pixel of it', () => {
    expect(() => measureArea(new Uint8Array(100 * 99 * 3), 100)).toThrow(RangeError);
  });
});

describe('several photos of a pair, refolded', () => {
  const lab = (l: number, a: number, b: number): Lab => ({ l, a, b });
  const photo = (one: Lab, other: Lab, doubt = 0) => ({ one, other, deltaE: deltaE00(one, other), doubt });
  const other = lab(50, 0, 0);

  it('are surer than one where they agree', () => {
    const pair = photo(lab(50.3, 0, 0), other);
    expect(judgePair([pair]).uncertainty).toBeCloseTo(1, 1);
    expect(judgePair([pair, pair]).uncertainty).toBeCloseTo(1, 1);
    const three = judgePair([pair, pair, pair]);
    expect(three.uncertainty).toBeCloseTo(0.5, 1);
    expect(three).toMatchObject({ photos: 3, spread: expect.closeTo(0, 9) });
    expect(three.deltaE).toBeCloseTo(pair.deltaE, 9);
  });

  it('tell by their spread where they do not', () => {
    // Near L* 50 a step of L* is one of CIEDE2000. The mean of 0, 1 and 2 is 1, the deviation 1, Student's t 4.30.
    const three = judgePair([0, 1, 2].map((step) => photo(lab(50 + step, 0, 0), other)));
    expect(three.spread).toBeCloseTo(1, 1);
    expect(three.uncertainty).toBeCloseTo(Math.hypot(4.3 / Math.sqrt(3), 0.3 * three.deltaE), 1);
    expect(judgePair([0, 2].map((step) => photo(lab(50 + step, 0, 0), other))).uncertainty).toBeGreaterThan(
      1.9,
    );
  });

  it('cancel out the exposure that they do not share', () => {
    const pairs = [40, 50, 60].map((l) => photo(lab(l + 0.4, 0, 0), lab(l, 0, 0)));
    expect(judgePair(pairs).spread).toBeLessThan(0.05);
  });

  it('count what each leaves open', () => {
    const pair = photo(lab(50.3, 0, 0), other, 1.2);
    expect(judgePair([pair]).uncertainty).toBeCloseTo(Math.hypot(1, 1.2), 1);
    expect(() => judgePair([])).toThrow(RangeError);
  });
});
