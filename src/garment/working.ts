import type { Fullness } from '../quantity/fullness.ts';
import { addedByStrip, type Band } from './band.ts';

/** The figures of a count of strips. */
export interface CountFigures {
  readonly strips: number;
  /** The fewest strips that are long enough, before a repeat is finished. */
  readonly leastStrips: number;
  /** Strips of all blocks once. */
  readonly repeatStrips: number;
  /** The base, or what its fullness is a ratio of, × fullness, rounded up to a tick. */
  readonly flatWantedTicks: number;
  /** What the strips must join to, once each gives its length less two seam allowances. */
  readonly toJoinTicks: number;
  /** The length of the joined strips along the edge that is gathered, ends turned in: exact. */
  readonly flatTicks: number;
  /** The same along the lower edge, which a ruffle is gathered onto: of a ring open above all of it, else as above. */
  readonly lowerTicks: number;
  /** flatTicks ÷ baseTicks in thousandths, rounded down, so that it never claims more than there is. */
  readonly fullnessMilli: number;
}

/** One line of the working, so that a page can show how a count came about and a pencil can check it. */
export type WorkingStep =
  /** base, or the length that a ratio is of, × fullness = wanted (rounded up to a tick) */
  | ({
      readonly kind: 'wanted';
      readonly ofTicks: number;
      readonly wantedTicks: number;
    } & Fullness)
  /** wanted + 2 × end − 2 × seam = to join: two ends are turned in where one seam is not sewn, all through or above */
  | {
      readonly kind: 'ends';
      readonly wantedTicks: number;
      readonly endTicks: number;
      readonly seamTicks: number;
      readonly toJoinTicks: number;
    }
  /** strip length − 2 × seam = gives */
  | {
      readonly kind: 'strip';
      readonly stripLengthTicks: number;
      readonly seamTicks: number;
      readonly givesTicks: number;
    }
  /** to join ÷ gives, rounded up = strips */
  | {
      readonly kind: 'count';
      readonly toJoinTicks: number;
      readonly givesTicks: number;
      readonly strips: number;
    }
  /** Strips of unlike lengths: the order, which gives so much each time round, is walked until it is long enough. */
  | {
      readonly kind: 'walk';
      readonly toJoinTicks: number;
      readonly repeatStrips: number;
      readonly repeatTicks: number;
      readonly strips: number;
    }
  /** strips rounded up to whole repeats */
  | {
      readonly kind: 'finish';
      readonly leastStrips: number;
      readonly repeatStrips: number;
      readonly strips: number;
    }
  /** flat ÷ base = fullness got (rounded down to a thousandth) */
  | {
      readonly kind: 'got';
      readonly flatTicks: number;
      readonly baseTicks: number;
      readonly fullnessMilli: number;
    };

/** The working of a count, line by line, in the order in which a pencil would go. */
export function workingOf(band: Band, figures: CountFigures): WorkingStep[] {
  const { baseTicks, fullnessMilli, fullnessExact, seamTicks, endTicks, blocks } = band;
  const { flatWantedTicks, toJoinTicks, leastStrips, repeatStrips, strips, flatTicks } = figures;
  const ofTicks = band.ofTicks ?? baseTicks;
  const exact = fullnessExact ? { fullnessExact } : {};
  const steps: WorkingStep[] = [
    { kind: 'wanted', ofTicks, fullnessMilli, ...exact, wantedTicks: flatWantedTicks },
  ];
  if (toJoinTicks !== flatWantedTicks || band.closing === 'open') {
    steps.push({ kind: 'ends', wantedTicks: flatWantedTicks, endTicks, seamTicks, toJoinTicks });
  }
  const unlike = new Map(blocks.map((block) => [block.stripLengthTicks, addedByStrip(block, band)]));
  for (const [stripLengthTicks, givesTicks] of unlike) {
    steps.push({ kind: 'strip', stripLengthTicks, seamTicks, givesTicks });
  }
  const [first] = unlike.values();
  if (first !== undefined && unlike.size === 1) {
    steps.push({ kind: 'count', toJoinTicks, givesTicks: first, strips: leastStrips });
  } else {
    const repeatTicks = blocks.reduce((total, block) => total + block.strips * addedByStrip(block, band), 0);
    steps.push({ kind: 'walk', toJoinTicks, repeatStrips, repeatTicks, strips: leastStrips });
  }
  if (strips !== leastStrips) {
    steps.push({ kind: 'finish', leastStrips, repeatStrips, strips });
  }
  steps.push({ kind: 'got', flatTicks, baseTicks, fullnessMilli: figures.fullnessMilli });
  return steps;
}
