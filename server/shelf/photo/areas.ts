import { z } from 'zod';
import { type AreaMark, type PictureSize, squareOf } from '../../../src/colour/photo-area.ts';
import {
  type AreaProblem,
  type MarkedAreas,
  type PhotoArea,
  problemsOfAreas,
  problemsOfSquares,
} from '../../../src/colour/photo-pair.ts';
import { percentField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Pictures } from './pictures.ts';
import { areaNames, areasOfKind, type PhotoKind } from './words.ts';

const SQUARE = z.strictObject({ leftPx: z.int(), topPx: z.int(), sidePx: z.int() });
const MEASURED = z.strictObject({
  sidePx: z.int(),
  light: z.tuple([z.number(), z.number(), z.number()]),
  clippedHigh: z.number(),
  clippedLow: z.number(),
  slopeX: z.number(),
  slopeY: z.number(),
  unevenness: z.number(),
});
const MARKED = z.strictObject({ square: SQUARE, measured: MEASURED });

/** What is kept of a photo: where its areas lie, in pixels, and what they showed. */
export const MARKED_AREAS = z.strictObject({ card: MARKED, one: MARKED, other: MARKED.optional() });

const PER_MILLE_BP = 10;
const MOST_SIDE_BP = 6000;
/** Three to a line on a phone; above them stands that they are percent. */
const BARE = { size: 'short', unit: '' } as const;

/** Where the card and the cloths lie in a photo: the middle of each square, and how large it is. */
export function markFields(kind: PhotoKind) {
  const names = areaNames(kind);
  const ofArea = (area: PhotoArea) =>
    [
      [`${area}_x`, percentField({ label: `${names[area]}, across`, maxBp: 10_000, ...BARE })],
      [`${area}_y`, percentField({ label: `${names[area]}, down`, maxBp: 10_000, ...BARE })],
      [`${area}_size`, percentField({ label: `${names[area]}, size`, maxBp: MOST_SIDE_BP, ...BARE })],
    ] as const;
  return Object.fromEntries(areasOfKind(kind).flatMap(ofArea)) as Readonly<
    Record<`${PhotoArea}_${'x' | 'y' | 'size'}`, ReturnType<typeof percentField>>
  >;
}

export function marksForm(kind: PhotoKind) {
  return z.strictObject(markFields(kind));
}

export type MarksForm = z.output<ReturnType<typeof marksForm>>;

/** The fields of each area, with what was typed, or where it was marked before. */
export function drawMarks(kind: PhotoKind, typed: Typed) {
  const names = areaNames(kind);
  const drawn = drawFields(markFields(kind), typed);
  return areasOfKind(kind).map((area) => ({
    area,
    name: names[area],
    fields: [drawn[`${area}_x`], drawn[`${area}_y`], drawn[`${area}_size`]],
  }));
}

function marksOf(kind: PhotoKind, form: MarksForm): (readonly [PhotoArea, AreaMark])[] {
  const milli = (field: keyof MarksForm) => Math.round(form[field].value / PER_MILLE_BP);
  return areasOfKind(kind).map((area) => [
    area,
    { xMilli: milli(`${area}_x`), yMilli: milli(`${area}_y`), sideMilli: milli(`${area}_size`) },
  ]);
}

/** The fields as they would be typed for areas that were measured. */
export function typedMarks(areas: MarkedAreas, { widthPx, heightPx }: PictureSize): Typed {
  const percent = (part: number, whole: number) => String(Math.round((1000 * part) / whole) / 10);
  const each = Object.entries(areas).flatMap(([area, marked]) => {
    if (!marked) return [];
    const { leftPx, topPx, sidePx } = marked.square;
    return [
      [`${area}_x`, percent(leftPx + sidePx / 2, widthPx)],
      [`${area}_y`, percent(topPx + sidePx / 2, heightPx)],
      [`${area}_size`, percent(sidePx, widthPx)],
    ];
  });
  return Object.fromEntries(each);
}

/** Where the squares stand before anybody marked them. */
export function firstMarks(kind: PhotoKind): Typed {
  const card = { card_x: '15', card_y: '20', card_size: '12' };
  const one = { one_x: kind === 'alone' ? '60' : '35', one_y: '60', one_size: '18' };
  return { ...card, ...one, ...(kind === 'alone' ? {} : { other_x: '70', other_y: '60', other_size: '18' }) };
}

/** What is measured: a photo, and of what it was taken. */
interface Measured extends PictureSize {
  readonly sha256: string;
  readonly kind: PhotoKind;
  /** what the card reflects, from 0 to 1 */
  readonly cardReflectance: number;
}

/** Measures a photo as it is marked; what is wrong with it goes before. */
export async function measureMarks(
  pictures: Pictures,
  photo: Measured,
  form: MarksForm,
): Promise<{ readonly areas: MarkedAreas | null; readonly problems: readonly AreaProblem[] }> {
  const names = areaNames(photo.kind);
  const squares = marksOf(photo.kind, form).map(([area, mark]) => [area, squareOf(mark, photo)] as const);
  const misplaced = problemsOfSquares(Object.fromEntries(squares), photo, names);
  if (misplaced.length > 0) return { areas: null, problems: misplaced };
  const measured = await pictures.measure(
    photo.sha256,
    squares.map(([, square]) => square),
  );
  const areas = MARKED_AREAS.parse(
    Object.fromEntries(squares.map(([area, square], at) => [area, { square, measured: measured[at] }])),
  );
  const problems = problemsOfAreas(areas, photo.cardReflectance, names);
  return problems.length > 0 ? { areas: null, problems } : { areas, problems };
}
