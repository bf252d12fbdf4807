/**
 * What a cloth does when it is treated: washed, dyed or steamed as the garment will be. Change % = 100·(after − before) ÷
 * before (ISO 5077:2007, as read at texfire.net); marks stand 350 mm apart or more (ISO 3759). All lengths in ticks.
 */

/** The change between two marks in hundredths of a percent, to the nearest; below 0 it shrinks. */
export function changeBp({ beforeTicks, afterTicks }: Marks): number {
  assertMarks(beforeTicks, afterTicks);
  return Math.round(((afterTicks - beforeTicks) * 10_000) / beforeTicks);
}

/** Two marks before and after; above 0 both. */
export interface Marks {
  readonly beforeTicks: number;
  readonly afterTicks: number;
}

/** What is left of a length or width once it is treated: length·after ÷ before, rounded down. */
export function treatedTicks(ticks: number, { beforeTicks, afterTicks }: Marks): number {
  assertMarks(beforeTicks, afterTicks);
  return Number((BigInt(ticks) * BigInt(afterTicks)) / BigInt(beforeTicks));
}

/** What must be there before, for so much to be left once it is treated: length·before ÷ after, rounded up. */
export function untreatedTicks(ticks: number, { beforeTicks, afterTicks }: Marks): number {
  assertMarks(beforeTicks, afterTicks);
  const product = BigInt(ticks) * BigInt(beforeTicks);
  const by = BigInt(afterTicks);
  return Number((product + by - 1n) / by);
}

function assertMarks(...ticks: readonly number[]): void {
  for (const one of ticks)
    if (!Number.isSafeInteger(one) || one < 1) throw new RangeError('marks stand some way apart');
}
