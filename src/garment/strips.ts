import { fullLengthTicks } from '../quantity/fullness.ts';
import {
  addedByStrip,
  type Band,
  type ColourBlock,
  checkBand,
  type Direction,
  type LotRule,
  MAX_STRIPS,
  type StripProblem,
  stricterRule,
  TOO_MANY_STRIPS,
} from './band.ts';
import { type CountFigures, type WorkingStep, workingOf } from './working.ts';

/** Strips of one shade and one cut length. */
export interface ShadeStrips {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lots: LotRule;
  readonly stripLengthTicks: number;
  readonly direction: Direction;
  readonly count: number;
  /** what each is cut as where its cloth has a way or a pattern; left out where it is as it is sewn */
  readonly cutAs?: { readonly depthTicks: number; readonly lengthTicks: number };
}

export interface StripCount extends CountFigures {
  readonly perShade: readonly ShadeStrips[];
  readonly steps: readonly WorkingStep[];
}

export type Counted =
  | { readonly ok: true; readonly count: StripCount }
  | { readonly ok: false; readonly problems: readonly StripProblem[] };

/**
 * Counts the strips of a gathered band, per shade, in whole numbers throughout.
 *
 * With L the base, f the fullness, w the strip's cut length, s the seam allowance and e the end allowance, a ring
 * takes N = ⌈L·f / (w − 2s)⌉ and an open band N = ⌈(L·f + 2e − 2s) / (w − 2s)⌉ (total ÷ width as in Baldt,
 * Clothing for Women, 1916, with the seams counted one by one); a ring that is open above takes the greater of the two. Where blocks differ in strip length the order is
 * walked strip by strip. An offset
 * starts the order so many strips later. Refuses, with all problems together, strips that are not longer than their seams, a
 * fullness below 1 or above 20, an order with no strips, more than 10 km of flat length or 10 000 strips.
 */
export function countStrips(band: Band): Counted {
  const problems = checkBand(band);
  if (problems.length > 0) {
    return { ok: false, problems };
  }
  const flatWantedTicks = fullLengthTicks(band.ofTicks ?? band.baseTicks, band);
  // N strips of an open band have N − 1 seams and two ends, so it owes two ends more and one seam (2s) less.
  const endsTicks = band.closing === 'ring' ? 0 : 2 * band.endTicks - 2 * band.seamTicks;
  // Open above and closed below: both edges must be long enough, and the closed one has all its seams.
  const toJoinTicks = flatWantedTicks + (band.closing === 'partly' ? Math.max(0, endsTicks) : endsTicks);
  const repeatStrips = sum(band.blocks.map((block) => block.strips));
  const order = orderFrom(band.blocks, band.offsetStrips ?? 0);
  const leastStrips = leastCount(order, band, toJoinTicks);
  const strips = band.finishRepeat ? repeatStrips * ceilDivide(leastStrips, repeatStrips) : leastStrips;
  if (strips > MAX_STRIPS) {
    return { ok: false, problems: [TOO_MANY_STRIPS] };
  }
  const perBlock = spread(order, strips);
  const joinedTicks = sum(order.map((block, i) => (perBlock[i] ?? 0) * addedByStrip(block, band)));
  const flatTicks = joinedTicks - endsTicks;
  const fullnessMilli = floorDivide(flatTicks * 1000, band.baseTicks);
  const figures = {
    strips,
    leastStrips,
    repeatStrips,
    flatWantedTicks,
    toJoinTicks,
    flatTicks,
    lowerTicks: band.closing === 'partly' ? joinedTicks : flatTicks,
    fullnessMilli,
  };
  const steps = workingOf(band, figures);
  return { ok: true, count: { ...figures, perShade: perShade(band.blocks, order, perBlock), steps } };
}

/** The repeating order when it starts so many strips later: a block that it starts inside of comes first and last. */
function orderFrom(blocks: readonly ColourBlock[], offsetStrips: number): readonly ColourBlock[] {
  const repeatStrips = sum(blocks.map((block) => block.strips));
  let skipped = offsetStrips % repeatStrips;
  const later: ColourBlock[] = [];
  const order = blocks.flatMap((block): ColourBlock[] => {
    const skips = Math.min(skipped, block.strips);
    skipped -= skips;
    if (skips > 0) later.push({ ...block, strips: skips });
    return skips < block.strips ? [{ ...block, strips: block.strips - skips }] : [];
  });
  return [...order, ...later];
}

/** The fewest strips in the repeating order that join to `toJoinTicks` or more. */
function leastCount(order: readonly ColourBlock[], band: Band, toJoinTicks: number): number {
  const repeatTicks = sum(order.map((block) => block.strips * addedByStrip(block, band)));
  const repeatStrips = sum(order.map((block) => block.strips));
  const wholeRepeats = floorDivide(Math.max(0, toJoinTicks), repeatTicks);
  let leftTicks = Math.max(0, toJoinTicks - wholeRepeats * repeatTicks);
  let strips = wholeRepeats * repeatStrips;
  for (const block of order) {
    const taken = Math.min(block.strips, ceilDivide(leftTicks, addedByStrip(block, band)));
    strips += taken;
    leftTicks = Math.max(0, leftTicks - taken * addedByStrip(block, band));
  }
  // An open band shorter than its seam would come to no strip at all; one is the least that can be sewn.
  return Math.max(1, strips);
}

/** Strips of each block when `strips` are laid in the repeating order from its start. */
function spread(blocks: readonly ColourBlock[], strips: number): number[] {
  const repeatStrips = sum(blocks.map((block) => block.strips));
  const wholeRepeats = floorDivide(strips, repeatStrips);
  let left = strips - wholeRepeats * repeatStrips;
  return blocks.map((block) => {
    const extra = Math.min(block.strips, left);
    left -= extra;
    return wholeRepeats * block.strips + extra;
  });
}

/** Strips per shade and size, in the order in which the blocks name them, wherever the order of colours starts. */
function perShade(
  blocks: readonly ColourBlock[],
  order: readonly ColourBlock[],
  perBlock: readonly number[],
): ShadeStrips[] {
  const found = new Map<string, ShadeStrips>();
  const add = (block: ColourBlock, more: number) => {
    const { clothId, shadeId, stripLengthTicks, direction } = block;
    const key = `${clothId} ${shadeId} ${stripLengthTicks}`;
    const before = found.get(key);
    const lots = stricterRule(before?.lots ?? block.lots, block.lots);
    const count = (before?.count ?? 0) + more;
    found.set(key, { clothId, shadeId, lots, stripLengthTicks, direction, count });
  };
  for (const block of blocks) add(block, 0);
  order.forEach((block, i) => {
    add(block, perBlock[i] ?? 0);
  });
  return [...found.values()].filter((shade) => shade.count > 0);
}

/** a ÷ b rounded down, exact for safe integers a ≥ 0 and b > 0: the remainder of two integers is never rounded. */
function floorDivide(a: number, b: number): number {
  assertWhole(a, b);
  return (a - (a % b)) / b;
}

function ceilDivide(a: number, b: number): number {
  return floorDivide(a + b - 1, b);
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, n) => total + n, 0);
}

function assertWhole(...numbers: readonly number[]): void {
  for (const n of numbers) {
    if (!Number.isSafeInteger(n)) {
      throw new RangeError(`${n} is not a whole number that can be counted with`);
    }
  }
}
