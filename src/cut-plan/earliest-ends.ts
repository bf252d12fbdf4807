import type { FilledLay } from './fills.ts';
import type { FullLay, FullLays } from './full-lays.ts';
import type { Flaw } from './job.ts';
import type { Meter } from './meter.ts';
import { type Family, freeSpans } from './model.ts';
import type { StripSets } from './strip-sets.ts';

/** The earliest line up to which a piece must be cut for every set of strips, and the lays that do it. */
export interface EarliestEnds {
  /** By set of strips, in ticks; infinite where the piece cannot give them. */
  readonly ends: Float64Array;
  laysFor(set: number): FilledLay[];
}

interface Options {
  readonly family: Family;
  readonly flaws: readonly Flaw[];
  readonly lengthTicks: number;
  readonly sets: StripSets;
  readonly lays: FullLays;
  readonly meter: Meter;
}

/** A lay in its place, and the set of strips that was cut before it. */
interface Step {
  readonly before: number;
  readonly lay: FullLay;
  readonly fromTicks: number;
}

/**
 * Tries every order of full lays along a piece (dynamic programming over sets of strips). It is exact: a lay can be
 * pushed towards the start until it meets the lay before it or the end of a flaw, and what has come as far with as many
 * strips in less length can be followed by all that follows. Null where the work that is allowed does not suffice.
 */
export function earliestEnds(options: Options): EarliestEnds | null {
  const { family, lengthTicks, sets, lays, meter } = options;
  const ends = new Float64Array(sets.size).fill(Number.POSITIVE_INFINITY);
  const steps: (Step | undefined)[] = new Array(sets.size);
  ends[0] = 0;
  const flawEnds = [...new Set(options.flaws.map(({ toTicks }) => toTicks))].sort((a, b) => a - b);
  for (let set = 0; set < sets.size; set += 1) {
    const end = ends[set] as number;
    if (end === Number.POSITIVE_INFINITY) continue;
    for (const fromTicks of [end, ...flawEnds.filter((ticks) => ticks > end)])
      for (let height = 0; height < family.heights.length; height += 1) {
        const toTicks = fromTicks + (family.heights[height] as number);
        if (toTicks > lengthTicks) break;
        const spans = freeSpans(options.flaws, family.widthTicks, fromTicks, toTicks);
        const full = lays.at(
          height,
          spans.map(([left, right]) => right - left),
        );
        meter.work += 2 + full.length * (sets.most.length + 1);
        if (lays.isOver) return null;
        for (const lay of full) {
          const more = sets.plus(set, lay.strips);
          if (toTicks >= (ends[more] as number)) continue;
          ends[more] = toTicks;
          steps[more] = { before: set, lay, fromTicks };
        }
      }
  }
  const holders = holdersOf(sets, ends);
  return { ends, laysFor: (set) => laysTo(options, steps, holders[set] as number) };
}

/** For every set the one that holds it and is cut earliest; its end becomes the set's own. */
function holdersOf(sets: StripSets, ends: Float64Array): Int32Array {
  const holders = Int32Array.from(ends, (_, set) => set);
  sets.strides.forEach((stride, i) => {
    for (let set = sets.size - 1; set >= 0; set -= 1) {
      if (sets.digits[set * sets.most.length + i] === sets.most[i]) continue;
      if ((ends[set + stride] as number) >= (ends[set] as number)) continue;
      ends[set] = ends[set + stride] as number;
      holders[set] = holders[set + stride] as number;
    }
  });
  return holders;
}

function laysTo({ family, flaws }: Options, steps: readonly (Step | undefined)[], last: number): FilledLay[] {
  const laid: FilledLay[] = [];
  for (let step = steps[last]; step; step = steps[step.before]) {
    const { fromTicks, lay } = step;
    const heightTicks = family.heights[lay.height] as number;
    const free = freeSpans(flaws, family.widthTicks, fromTicks, fromTicks + heightTicks);
    const spans = free.map(([leftTicks], i) => ({ leftTicks, slits: lay.slits[i] ?? [] }));
    laid.push({ fromTicks, heightTicks, spans });
  }
  return laid.reverse();
}
