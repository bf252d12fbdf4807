import { type Fullness, fullLengthTicks } from '../quantity/fullness.ts';
import type { SewnClosing } from './opening.ts';

/** Whether all strips of a shade come from one lot (the default), from lots near enough in colour to meet, or from any. */
export type LotRule = 'one' | 'meet' | 'any';

/** Where the length of a strip lies on the piece: across it, along it, or whichever wastes less. */
export type Direction = 'across' | 'along' | 'either';

const STRICTEST_FIRST: readonly LotRule[] = ['one', 'meet', 'any'];

/** The rule that holds where two meet in one need: the stricter of them. */
export function stricterRule(a: LotRule, b: LotRule): LotRule {
  return STRICTEST_FIRST.find((rule) => rule === a || rule === b) ?? a;
}

/** A run of strips of one shade in a tier's repeating order. */
export interface ColourBlock {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lots: LotRule;
  /** Strips in a row before the next block, 1 or more. */
  readonly strips: number;
  /** The cut length of each strip of this block, in ticks: the cloth's usable width unless another was given. */
  readonly stripLengthTicks: number;
  readonly direction: Direction;
}

/** A gathered band before its strips are counted; its fullness is flat length ÷ what it multiplies, 1 or more. */
export interface Band extends Fullness {
  /** The finished length that the band is gathered onto, in ticks. */
  readonly baseTicks: number;
  /** What the fullness multiplies, in ticks: the base unless another length is given. */
  readonly ofTicks?: number;
  /** A ring closes on itself with one more seam; an open band has two ends instead; a ring open above has both. */
  readonly closing: SewnClosing;
  /** Taken off each of the two edges in a seam that joins strips. */
  readonly seamTicks: number;
  /** Turned in at each end, where there are ends. */
  readonly endTicks: number;
  readonly blocks: readonly ColourBlock[];
  /** Strips of the order that are left out before its first, 0 unless said. */
  readonly offsetStrips?: number;
  /** Whether the order of colours must come out whole. */
  readonly finishRepeat: boolean;
}

export interface StripProblem {
  readonly field:
    | 'fullness'
    | 'seam'
    | 'end'
    | 'length'
    | 'blocks'
    | 'base'
    | 'depth'
    | 'heading'
    | 'hang seam'
    | 'hem';
  readonly message: string;
}

/** What the depth of a strip is made of, in ticks: finished depth, heading above it, the seam it hangs by, hem. */
export interface DepthParts {
  readonly depthTicks: number;
  readonly headingTicks: number;
  readonly hangSeamTicks: number;
  readonly hemTicks: number;
}

/** The longest flat band taken: 10 km in ticks. */
const MAX_FLAT_TICKS = 1_600_000_000;
/** The longest strip, depth or allowance taken: 100 m in ticks. */
const MAX_STRIP_TICKS = 16_000_000;
export const MAX_FULLNESS_MILLI = 20_000;
export const MAX_STRIPS = 10_000;

const tooLong: StripProblem = {
  field: 'fullness',
  message: 'This band would be more than 10 km long when flat: enter a smaller fullness.',
};
const tooShort: StripProblem = {
  field: 'fullness',
  message: 'So little flat length is less than the length that it is gathered onto: enter more.',
};
export const TOO_MANY_STRIPS: StripProblem = {
  field: 'length',
  message: 'This band would take more than 10 000 strips.',
};

/** All that is wrong with a band; empty where its strips can be counted. */
export function checkBand(band: Band): StripProblem[] {
  const problems: StripProblem[] = [];
  if (!Number.isSafeInteger(band.baseTicks) || band.baseTicks <= 0 || band.baseTicks > MAX_FLAT_TICKS) {
    problems.push({
      field: 'base',
      message: 'The length to gather onto must be more than 0 and at most 10 km.',
    });
  }
  const { fullnessMilli } = band;
  if (!Number.isSafeInteger(fullnessMilli) || fullnessMilli < 1000 || fullnessMilli > MAX_FULLNESS_MILLI) {
    problems.push({
      field: 'fullness',
      message: 'Enter a fullness from 1 to 20: 1 is flat, 3 is three times the length.',
    });
  } else if (problems.length === 0) {
    problems.push(...checkFlat(band, band.ofTicks ?? band.baseTicks));
  }
  if (!isAllowance(band.seamTicks)) {
    problems.push({ field: 'seam', message: 'A seam allowance is 0 or more and at most 100 m.' });
  }
  if (!isAllowance(band.endTicks)) {
    problems.push({ field: 'end', message: 'An end allowance is 0 or more and at most 100 m.' });
  }
  if (band.blocks.length === 0) {
    problems.push({
      field: 'blocks',
      message: 'A tier needs one colour block at least.',
    });
  }
  for (const block of band.blocks) {
    if (!Number.isSafeInteger(block.strips) || block.strips < 1 || block.strips > MAX_STRIPS) {
      problems.push({
        field: 'blocks',
        message: 'Enter 1 to 10 000 strips for a colour block.',
      });
    }
    if (!isAllowance(block.stripLengthTicks) || block.stripLengthTicks <= 2 * band.seamTicks) {
      problems.push({
        field: 'length',
        message: 'A strip must be longer than its two seam allowances: enter more.',
      });
    }
  }
  return problems;
}

function checkFlat(band: Band, ofTicks: number): StripProblem[] {
  const flatTicks = fullLengthTicks(ofTicks, band);
  if (flatTicks > MAX_FLAT_TICKS) return [tooLong];
  return flatTicks < band.baseTicks ? [tooShort] : [];
}

/** The depth to cut: all the parts added, in ticks. */
export function cutDepth(parts: DepthParts): number {
  return parts.depthTicks + parts.headingTicks + parts.hangSeamTicks + parts.hemTicks;
}

/** All that is wrong with the parts of a depth; empty where it can be cut. */
export function checkDepth(parts: DepthParts): readonly StripProblem[] {
  const problems: StripProblem[] = [];
  if (!isAllowance(parts.depthTicks) || parts.depthTicks === 0) {
    problems.push({
      field: 'depth',
      message: 'A finished depth is more than 0 and at most 100 m.',
    });
  }
  const allowances = [
    ['heading', parts.headingTicks, 'A heading is 0 or more and at most 100 m.'],
    ['hang seam', parts.hangSeamTicks, 'The gathering seam allowance is 0 or more and at most 100 m.'],
    ['hem', parts.hemTicks, 'A hem allowance is 0 or more and at most 100 m.'],
  ] as const;
  for (const [field, ticks, message] of allowances) {
    if (!isAllowance(ticks)) {
      problems.push({ field, message });
    }
  }
  return problems;
}

/** What a strip adds to the joined length: its own less the two edges in seams, in ticks. */
export function addedByStrip(block: ColourBlock, band: Band): number {
  return block.stripLengthTicks - 2 * band.seamTicks;
}

function isAllowance(ticks: number): boolean {
  return Number.isSafeInteger(ticks) && ticks >= 0 && ticks <= MAX_STRIP_TICKS;
}
