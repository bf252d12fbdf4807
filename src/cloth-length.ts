import type { Direction } from './band.ts';
import { divideRounded, exactly, showMixed, stored } from './figure-show.ts';
import { TICKS_PER } from './length.ts';
import { showLength } from './length-show.ts';

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

/**
 * The length of fresh cloth for strips of several sizes by the careful hand rule, in ticks.
 *
 * Across the cloth, ⌊usable width ÷ strip length⌋ strips lie side by side in a drop that is as long as a strip is deep;
 * along it, ⌊usable width ÷ strip depth⌋ lie side by side in a drop as long as a strip. Drops are whole, and strips of
 * one size share the last one. Where either way is open the shorter is taken, across where they are alike.
 * Throws RangeError for sizes and counts that are not whole numbers above 0.
 */
export function clothLength(sizes: readonly LaidSize[], usableWidthTicks: number): ClothLength {
  const steps: ClothStep[] = [];
  for (const size of gathered(sizes)) {
    const ways = waysOf(size, usableWidthTicks);
    const best = ways.reduce<ClothStep | undefined>(
      (so, way) => (so === undefined || way.lengthTaken < so.lengthTaken ? way : so),
      undefined,
    );
    if (best === undefined) return { ok: false, tooLarge: size };
    steps.push(best);
  }
  return { ok: true, steps, totalTicks: steps.reduce((sum, { lengthTaken }) => sum + lengthTaken, 0) };
}

function gathered(sizes: readonly LaidSize[]): LaidSize[] {
  const found = new Map<string, LaidSize>();
  for (const size of sizes) {
    if (size.count === 0) continue;
    assertWhole(size.depthTicks, size.lengthTicks, size.count);
    const key = `${size.depthTicks} ${size.lengthTicks} ${size.direction}`;
    found.set(key, { ...size, count: (found.get(key)?.count ?? 0) + size.count });
  }
  return [...found.values()];
}

function waysOf(size: LaidSize, usableWidthTicks: number): ClothStep[] {
  assertWhole(usableWidthTicks);
  const { depthTicks, lengthTicks, count } = size;
  const sides: readonly (readonly ['across' | 'along', number, number])[] = [
    ['across', lengthTicks, depthTicks],
    ['along', depthTicks, lengthTicks],
  ];
  return sides
    .filter(([lies]) => size.direction === 'either' || size.direction === lies)
    .flatMap(([lies, acrossTicks, dropTicks]) => {
      const columns = (usableWidthTicks - (usableWidthTicks % acrossTicks)) / acrossTicks;
      if (columns === 0) return [];
      const drops = (count - (count % columns)) / columns + (count % columns > 0 ? 1 : 0);
      const lengthTaken = drops * dropTicks;
      return [{ lies, depthTicks, lengthTicks, count, acrossTicks, columns, drops, dropTicks, lengthTaken }];
    });
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
