import { countOf } from '../kit/words.ts';

/** Width of the bar in viewBox units. */
const WIDTH = 400;

/** Strips of a garment by how far they are: the rest of `wanted` can be cut from what is free. */
interface Strips {
  readonly wanted: number;
  readonly cut: number;
  readonly held: number;
  readonly short: number;
}

/** What views/today/progress draws: cut solid, held hatched, to be cut from free cloth open, short dashed. */
export type GarmentProgress = NonNullable<ReturnType<typeof shapeProgress>>;

/** Shapes how far a garment is; null where it wants no strips yet. */
export function shapeProgress(strips: Strips) {
  const { wanted, cut, held, short } = strips;
  if (wanted === 0) return null;
  const place = (count: number) => Math.round((count / wanted) * WIDTH * 100) / 100;
  const stretch = (from: number, to: number) =>
    to > from ? { x: place(from), width: place(to) - place(from) } : null;
  return {
    strips,
    said: sayStrips(strips),
    cut: stretch(0, cut),
    held: stretch(cut, cut + held),
    free: stretch(cut + held, wanted - short),
    short: stretch(wanted - short, wanted),
  };
}

/** "12 of 40 strips cut, 8 held, 10 short". */
function sayStrips({ wanted, cut, held, short }: Strips): string {
  const parts = [`${cut} of ${countOf(wanted, 'strip', 'strips')} cut`];
  if (held > 0) parts.push(`${held} held`);
  if (short > 0) parts.push(`${short} short`);
  return parts.join(', ');
}
