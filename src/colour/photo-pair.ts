/**
 * Two cloths beside a grey card in one photo. The card gives the light and its colour; the camera's own faults fall on
 * both cloths alike, so their difference is far surer than either colour.
 */
import { deltaE00, type Lab, lightToLab, meanLab } from './lab.ts';
import {
  type AreaMeasured,
  LEAST_SIDE_PX,
  type LinearLight,
  type PictureSize,
  type PixelSquare,
} from './photo-area.ts';

/** What is marked on a photo: the card, a cloth, and the other where two are compared. */
export const PHOTO_AREAS = ['card', 'one', 'other'] as const;
export type PhotoArea = (typeof PHOTO_AREAS)[number];

export type AreaSquares = Readonly<Partial<Record<PhotoArea, PixelSquare>>>;

/** A marked square and what its pixels show. */
export interface MarkedArea {
  readonly square: PixelSquare;
  readonly measured: AreaMeasured;
}

export type MarkedAreas = Readonly<{ card: MarkedArea; one: MarkedArea; other?: MarkedArea | undefined }>;

/** What is wrong with an area, by the words that it goes by. */
export interface AreaProblem {
  readonly area: PhotoArea;
  readonly message: string;
}

export type AreaNames = Readonly<Record<PhotoArea, string>>;

// From here on a photo is refused (our rules): shares of the pixels, or of the light.
const MOST_CLIPPED = 0.01;
const MOST_ACROSS = 0.1;
const MOST_UNEVEN = 0.1;
const MOST_BETWEEN = 0.05;
/** A card that is lit by a bulb and not balanced by the camera has about 4 times as much red as blue. */
const MOST_CARD_TINT = 6;
const LEAST_CARD_LIGHT = 0.01;

/** What cannot be measured as it is marked, before any pixel is looked at. */
export function problemsOfSquares(
  squares: AreaSquares,
  { widthPx, heightPx }: PictureSize,
  names: AreaNames,
): AreaProblem[] {
  const marked = PHOTO_AREAS.flatMap((area) => (squares[area] ? [{ area, square: squares[area] }] : []));
  const problems: AreaProblem[] = [];
  for (const [at, { area, square }] of marked.entries()) {
    const { leftPx, topPx, sidePx } = square;
    if (sidePx < LEAST_SIDE_PX) {
      const least = Math.ceil((1000 * LEAST_SIDE_PX) / widthPx) / 10;
      const message = `${names[area]}: ${sidePx} × ${sidePx} pixels are too few. Make the square ${least} % or larger, or take the photo from nearer.`;
      problems.push({ area, message });
    } else if (leftPx < 0 || topPx < 0 || leftPx + sidePx > widthPx || topPx + sidePx > heightPx) {
      const message = `${names[area]}: the square reaches beyond the photo. Move it in, or make it smaller.`;
      problems.push({ area, message });
    }
    const under = marked.slice(0, at).find((before) => overlap(before.square, square));
    if (under)
      problems.push({
        area,
        message: `${names[area]}: it overlaps ${lower(names[under.area])}. Move one of them.`,
      });
  }
  return problems;
}

function overlap(one: PixelSquare, other: PixelSquare): boolean {
  const apart = (from: number, side: number, to: number, toSide: number) =>
    from + side <= to || to + toSide <= from;
  return !(
    apart(one.leftPx, one.sidePx, other.leftPx, other.sidePx) ||
    apart(one.topPx, one.sidePx, other.topPx, other.sidePx)
  );
}

/** Why the pixels of a photo cannot be relied on. */
export function problemsOfAreas(
  areas: MarkedAreas,
  cardReflectance: number,
  names: AreaNames,
): AreaProblem[] {
  const problems = PHOTO_AREAS.flatMap((area) => {
    const marked = areas[area];
    return marked
      ? problemsWithin(marked.measured).map((text) => ({ area, message: `${names[area]}: ${text}` }))
      : [];
  });
  problems.push(...problemsOfCard(areas.card.measured, names));
  if (problems.length > 0) return problems;
  const { other } = areas;
  const between = other ? Math.abs(fallBetween(areas, areas.one, other)) : 0;
  if (between > MOST_BETWEEN) {
    const message = `${names.one} and ${lower(names.other)}: the light differs by ${percent(between)} between them. Lay them side by side in even light and take the photo again.`;
    problems.push({ area: 'other', message });
  }
  for (const area of ['one', 'other'] as const) {
    const marked = areas[area];
    if (marked && labByCard(marked.measured.light, areas.card.measured.light, cardReflectance).l > 100) {
      const message = `${names[area]}: it comes out lighter than white. Check where the card is marked, and what it reflects.`;
      problems.push({ area, message });
    }
  }
  return problems;
}

function problemsWithin({
  clippedHigh,
  clippedLow,
  slopeX,
  slopeY,
  unevenness,
  sidePx,
}: AreaMeasured): string[] {
  const across = Math.hypot(slopeX, slopeY) * sidePx;
  return [
    ...(clippedHigh > MOST_CLIPPED
      ? [
          `${percent(clippedHigh)} of it is too bright for the camera. Take the photo again with less light or exposure.`,
        ]
      : []),
    ...(clippedLow > MOST_CLIPPED
      ? [
          `${percent(clippedLow)} of it is too dark or too deep for the camera. Take the photo again with more light.`,
        ]
      : []),
    ...(unevenness > MOST_UNEVEN
      ? [
          `it is uneven by ± ${percent(unevenness)}. Smooth out creases, and mark a place without a pattern or a shadow.`,
        ]
      : across > MOST_ACROSS
        ? [
            `the light differs by ${percent(across)} across it. Take the photo again in even light, without a shadow.`,
          ]
        : []),
  ];
}

function problemsOfCard({ light }: AreaMeasured, names: AreaNames): AreaProblem[] {
  const [least = 0, , most = 0] = [...light].sort((a, b) => a - b);
  if (least >= LEAST_CARD_LIGHT && most <= MOST_CARD_TINT * least) return [];
  return [
    { area: 'card', message: `${names.card}: this place is black or strongly coloured. Mark the grey card.` },
  ];
}

/**
 * By how much the light grows from one area to the other, as a share of it: the mean slope within the areas, carried on
 * over the way between them.
 */
function fallBetween({ card, one, other }: MarkedAreas, from: MarkedArea, to: MarkedArea): number {
  const all = [card, one, ...(other ? [other] : [])].map(({ measured }) => measured);
  const meanOf = (slope: 'slopeX' | 'slopeY') => all.reduce((sum, each) => sum + each[slope], 0) / all.length;
  const way = (edge: 'leftPx' | 'topPx') =>
    to.square[edge] + to.square.sidePx / 2 - from.square[edge] - from.square.sidePx / 2;
  return meanOf('slopeX') * way('leftPx') + meanOf('slopeY') * way('topPx');
}

/**
 * The colour of a cloth, CIELAB for D65 and the 2° observer, from its light and that of a grey card in the same photo.
 *
 * @param cardReflectance what the card reflects, from 0 to 1; it is taken for neutral
 */
export function labByCard(light: LinearLight, card: LinearLight, cardReflectance: number): Lab {
  const [red, green, blue] = light.map((channel, at) => (channel / (card[at] ?? 1)) * cardReflectance);
  return lightToLab([red ?? 0, green ?? 0, blue ?? 0]);
}

/** How two cloths differ in one photo. */
export interface PhotoPair {
  readonly one: Lab;
  readonly other: Lab;
  readonly deltaE: number;
  /** what light that is not quite even and an uneven cloth leave open, in CIEDE2000 */
  readonly doubt: number;
}

/** Compares the two cloths of a photo whose areas have no problems. */
export function pairInPhoto(
  areas: MarkedAreas & { readonly other: MarkedArea },
  cardReflectance: number,
): PhotoPair {
  const { card, one, other } = areas;
  const labOf = ({ measured }: MarkedArea, times = 1) =>
    labByCard(
      measured.light.map((channel) => channel * times) as [number, number, number],
      card.measured.light,
      cardReflectance,
    );
  const [first, second] = [labOf(one), labOf(other)];
  const doubtOf = (area: MarkedArea, share: number) => deltaE00(labOf(area, 1 + share), labOf(area));
  const doubts = [
    doubtOf(one, fallBetween(areas, one, other)),
    ...[one, other].map((area) => doubtOf(area, (SURE * area.measured.unevenness) / Math.sqrt(COUNTED))),
  ];
  return { one: first, other: second, deltaE: deltaE00(first, second), doubt: Math.hypot(...doubts) };
}

/** Standard deviations that hold 19 of 20 means; and how many cells of an area count for one another's mean. */
const SURE = 1.96;
const COUNTED = 64;

/** How far 19 of 20 differences lie from the true one, in CIEDE2000: one photo; three or more, refolded each time. */
const OF_ONE_PHOTO = 1;
const OF_REFOLDED = 0.5;
export const REFOLDS = 3;
/** Of the difference itself, since phones add colour and contrast (simulated: 19 of 20 within a third at 10 % and 30 %). */
const OF_DIFFERENCE = 0.3;
/** Student's t for 19 of 20, by how many photos there are; of more than ten as of ten. */
const STUDENT = [0, 0, 12.71, 4.3, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26] as const;

/** How two cloths differ by all photos of them, and how sure that is. */
export interface PairJudged {
  /** CIEDE2000 */
  readonly deltaE: number;
  /** 19 of 20 such differences lie within it, in CIEDE2000 */
  readonly uncertainty: number;
  /** the first cloth less the other */
  readonly difference: Lab;
  readonly one: Lab;
  readonly other: Lab;
  readonly photos: number;
  /** how far the photos differ among themselves, as a standard deviation; null of one photo */
  readonly spread: number | null;
}

/**
 * The difference by one or more photos of the same two cloths, the cloths refolded for each. One photo is good for about
 * 1 (simulated with measured phone sensitivities and 612 textile spectra, 19 of 20); three or more tell by their own spread,
 * and no better than 0.5 (what is claimed for refolded pairs).
 *
 * @throws {RangeError} without a photo
 */
export function judgePair(pairs: readonly PhotoPair[]): PairJudged {
  if (pairs.length === 0) throw new RangeError('a pair is judged from photos');
  const photos = pairs.length;
  const one = meanLab(pairs.map((pair) => pair.one));
  const other = meanLab(pairs.map((pair) => pair.other));
  const difference = less(one, other);
  const apart = pairs.map((pair) => deltaE00(plus(other, less(pair.one, pair.other)), one));
  const spread = photos === 1 ? null : Math.hypot(...apart) / Math.sqrt(photos - 1);
  const student = STUDENT[Math.min(photos, STUDENT.length - 1)] ?? 0;
  const ofSpread = ((spread ?? 0) * student) / Math.sqrt(photos);
  // Two photos tell too little of their spread for Student's t: they are as good as one, or as far as they lie apart.
  const repeated =
    photos < REFOLDS
      ? Math.max(OF_ONE_PHOTO, ...apart.map((each) => 2 * each))
      : Math.max(OF_REFOLDED, ofSpread);
  const deltaE = deltaE00(one, other);
  const doubt = Math.hypot(...pairs.map((pair) => pair.doubt)) / photos;
  return {
    deltaE,
    uncertainty: Math.hypot(repeated, doubt, OF_DIFFERENCE * deltaE),
    difference,
    one,
    other,
    photos,
    spread,
  };
}

const less = (one: Lab, other: Lab): Lab => ({ l: one.l - other.l, a: one.a - other.a, b: one.b - other.b });
const plus = (one: Lab, other: Lab): Lab => ({ l: one.l + other.l, a: one.a + other.a, b: one.b + other.b });

const percent = (share: number) => `${Math.max(1, Math.round(100 * share))} %`;
const lower = (name: string) => name.charAt(0).toLowerCase() + name.slice(1);
