import { shapeBar } from '../kit/bar.ts';
import { countOf } from '../kit/words.ts';

/** Strips of a garment by how far they are: the rest of `wanted` can be cut from what is free. */
export interface StripsSoFar {
  readonly wanted: number;
  readonly cut: number;
  readonly held: number;
  readonly short: number;
  /** of those short, what is in the pot or on order will give; where that is told apart */
  readonly coming?: number;
}

/** What the bar of a garment's or a tier's strips means; views/partials/bar-key draws it. */
export const PROGRESS_KEY = [
  { fill: 'solid', text: 'cut' },
  { fill: 'hatched', text: 'held' },
  { fill: 'open', text: 'can be cut from free cloth' },
  { fill: 'dashed', text: 'short' },
] as const;

/** Shapes how far some strips are, in a bar of its own or on the scale of a list; null where none are wanted yet. */
export function shapeProgress(strips: StripsSoFar, most = strips.wanted) {
  const { wanted, cut, held, short, coming = 0 } = strips;
  if (wanted === 0) return null;
  const said = sayStrips(strips);
  const free = Math.max(0, wanted - cut - held - short);
  const parts = [
    ['solid', cut],
    ['hatched', held],
    ['open', free],
    ['dotted', coming],
    ['dashed', short - coming],
  ] as const;
  return { strips, said, bar: shapeBar(said, parts, most) };
}

/** "12 of 40 strips cut, 8 held, 10 short". */
function sayStrips({ wanted, cut, held, short }: StripsSoFar): string {
  const parts = [`${cut} of ${countOf(wanted, 'strip', 'strips')} cut`];
  if (held > 0) parts.push(`${held} held`);
  if (short > 0) parts.push(`${short} short`);
  return parts.join(', ');
}
