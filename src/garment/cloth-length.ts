import { divideRounded, exactly, showMixed, stored } from '../quantity/figure-show.ts';
import { TICKS_PER } from '../quantity/length.ts';
import { showLength } from '../quantity/length-show.ts';
import type { Direction } from './band.ts';

/** So many strips of one size, and where their length may lie. */
export interface LaidSize {
  readonly depthTicks: number;
  readonly lengthTicks: number;
  readonly direction: Direction;
  readonly count: number;
}

/** How strips of one size come off fresh cloth, so that a pencil can check it. */
export interface ClothStep {
  readonly lies: 'across' | 'along';
  readonly depthTicks: number;
  readonly lengthTicks: number;
  readonly count: number;
  /** The side of the strip that lies across the cloth, ⌊usable width ÷ that⌋ columns of it. */
  readonly acrossTicks: number;
  readonly columns: number;
  /** ⌈count ÷ columns⌉ drops, each as long as the other side. */
  readonly drops: number;
  readonly dropTicks: number;
  readonly lengthTaken: number;
}

export type ClothLength =
  | { readonly ok: true; readonly steps: readonly ClothStep[]; readonly totalTicks: number }
  /** A strip that is too large for the usable width, whatever length is bought. */
  | { readonly ok: false; readonly tooLarge: LaidSize };

/** A size as it lies on a cloth: one side across it, the other taken off its length. */
export interface Laid<S extends LaidSize = LaidSize> {
  readonly size: S;
  readonly lies: 'across' | 'along';
  readonly acrossTicks: number;
  readonly dropTicks: number;
}

/**
 * The length of fresh cloth for strips of several sizes by the careful hand rule, in ticks.
 *
 * Across the cloth, ⌊usable width ÷ strip length⌋ strips lie side by side in a drop that is as long as a strip is deep;
 * along it, ⌊usable width ÷ strip depth⌋ lie side by side in a drop as long as a strip. Drops are whole, and strips that
 * lie alike share the last one. Where either way is open the shorter is taken (`laidOver`).
 * Throws RangeError for sizes and counts that are not whole numbers above 0.
 */
export function clothLength(sizes: readonly LaidSize[], usableWidthTicks: number): ClothLength {
  const laid = laidOver(
    sizes.filter(({ count }) => count !== 0),
    usableWidthTicks,
  );
  const large = laid.find(({ acrossTicks }) => acrossTicks > usableWidthTicks);
  if (large) return { ok: false, tooLarge: large.size };
  const alike = new Map<string, { readonly first: Laid; count: number }>();
  for (const one of laid) {
    const key = `${one.acrossTicks} ${one.dropTicks}`;
    const known = alike.get(key);
    if (known) known.count += one.size.count;
    else alike.set(key, { first: one, count: one.size.count });
  }
  const steps = [...alike.values()].map(({ first, count }) => stepOf(first, count, usableWidthTicks));
  return { ok: true, steps, totalTicks: steps.reduce((sum, { lengthTaken }) => sum + lengthTaken, 0) };
}

/**
 * How strips lie on fresh cloth of a usable width, in the order given: each size that may lie either way is laid the way
 * that takes the shorter length for all strips of that size, across where they are alike.
 */
export function laidOver<S extends LaidSize>(sizes: readonly S[], usableWidthTicks: number): Laid<S>[] {
  const keyOf = ({ depthTicks, lengthTicks, direction }: S) => `${depthTicks} ${lengthTicks} ${direction}`;
  const counts = new Map<string, number>();
  for (const size of sizes) {
    if (size.count !== 0) assertWhole(size.depthTicks, size.lengthTicks, size.count, usableWidthTicks);
    counts.set(keyOf(size), (counts.get(keyOf(size)) ?? 0) + size.count);
  }
  return sizes.map((size) => {
    const { depthTicks, lengthTicks, direction } = size;
    const across = { size, lies: 'across', acrossTicks: lengthTicks, dropTicks: depthTicks } as const;
    const along = { size, lies: 'along', acrossTicks: depthTicks, dropTicks: lengthTicks } as const;
    if (direction !== 'either') return direction === 'along' ? along : across;
    const count = counts.get(keyOf(size)) ?? 0;
    const taken = (laid: Laid<S>) =>
      laid.acrossTicks > usableWidthTicks
        ? Number.MAX_SAFE_INTEGER
        : stepOf(laid, count, usableWidthTicks).lengthTaken;
    return taken(along) < taken(across) ? along : across;
  });
}

function stepOf(
  { size, lies, acrossTicks, dropTicks }: Laid,
  count: number,
  usableWidthTicks: number,
): ClothStep {
  const { depthTicks, lengthTicks } = size;
  const columns = (usableWidthTicks - (usableWidthTicks % acrossTicks)) / acrossTicks;
  const drops = (count - (count % columns)) / columns + (count % columns > 0 ? 1 : 0);
  const lengthTaken = drops * dropTicks;
  return { lies, depthTicks, lengthTicks, count, acrossTicks, columns, drops, dropTicks, lengthTaken };
}

/** A length made up to a whole number of the steps that a shop cuts by, in ticks. */
export function atShopStep(lengthTicks: number, stepTicks: number): number {
  return stored(divideRounded(exactly(lengthTicks), exactly(stepTicks), 'up') * exactly(stepTicks));
}

/** A length at a shop's step as it is asked for over the counter: "160 cm" below 2 m, "2.4 m", "1¾ yd". */
export function showAtShop(lengthTicks: number, system: 'metric' | 'imperial'): string {
  const units = { system, stepTicks: 1 } as const;
  if (system === 'metric') {
    const inCm = lengthTicks < 2 * TICKS_PER.m && lengthTicks % TICKS_PER.cm === 0;
    return inCm ? `${lengthTicks / TICKS_PER.cm} cm` : showLength(lengthTicks, units, 'up');
  }
  // A counter knows eighths and thirds of a yard; anything else is told in inches.
  const inParts = (lengthTicks * 24) % TICKS_PER.yd === 0;
  return inParts
    ? `${showMixed(exactly(lengthTicks), exactly(TICKS_PER.yd))} yd`
    : showLength(lengthTicks, units, 'up');
}

function assertWhole(...numbers: readonly number[]): void {
  for (const n of numbers) {
    if (!Number.isSafeInteger(n) || n <= 0) throw new RangeError(`${n} is not a whole number above 0`);
  }
}
