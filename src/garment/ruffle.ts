import { type Fullness, ratioOf } from '../quantity/fullness.ts';

/** A run of strips of one shade in a repeating order. */
interface Run {
  readonly shadeId: number;
  readonly strips: number;
}

/** Repeats of the tier that are followed before the order of the ruffle begins anew. */
const MOST_REPEATS = 12;

/**
 * The runs of a ruffle whose colours change where those of the tier above change. A ruffle takes its
 * fullness in strips for one of the tier, of the same cloth. Its runs are whole strips, so a change of
 * colour lies at most half a strip beside that of the tier: each change is rounded where it lies, never run by run.
 */
export function runsOfRuffle(runs: readonly Run[], fullness: Fullness): Run[] {
  const [first, ...others] = runs;
  if (!first || others.every(({ shadeId }) => shadeId === first.shadeId)) return first ? [first] : [];
  const perRepeat = runs.reduce((sum, { strips }) => sum + strips, 0);
  const { num, den } = ratioOf(fullness);
  let repeats = 1;
  while (repeats < MOST_REPEATS && (repeats * perRepeat * num) % den !== 0) repeats += 1;
  const ruffle: Run[] = [];
  let above = 0;
  let laid = 0;
  for (let repeat = 0; repeat < repeats; repeat += 1) {
    for (const { shadeId, strips } of runs) {
      above += strips;
      const end = stripsOfRuffle(above, fullness);
      if (end > laid) ruffle.push({ shadeId, strips: end - laid });
      laid = end;
    }
  }
  return ruffle;
}

/** Strips of the ruffle that lie along so many strips of the tier, to the nearest whole one. */
export function stripsOfRuffle(strips: number, fullness: Fullness): number {
  const { num, den } = ratioOf(fullness);
  return Math.floor((2 * strips * num + den) / (2 * den));
}
