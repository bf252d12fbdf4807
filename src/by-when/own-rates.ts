/** Own rates, measured by taps and by the times at which work was entered. Instants in ms. */

export interface TimedTap {
  readonly garmentId: number;
  readonly work: string;
  readonly personId: number;
  readonly tap: 'begun' | 'left' | 'done';
  readonly atMs: number;
}

/** Work of one person on one garment without a break. */
export interface WorkStretch {
  readonly garmentId: number;
  readonly work: string;
  readonly personId: number;
  readonly fromMs: number;
  readonly toMs: number;
}

export interface StripsCut {
  readonly garmentId: number;
  readonly personId: number;
  readonly atMs: number;
  readonly strips: number;
}

/** Strips, and the minutes that they took. */
export interface MeasuredRate {
  readonly strips: number;
  readonly minutes: number;
}

const MINUTE_MS = 60_000;
/** Nobody works longer without a break: somebody forgot to tap (our rule). */
const LONGEST_STRETCH_MS = 12 * 60 * MINUTE_MS;
/** Cuts further apart are not of one sitting (our rule). */
const LONGEST_GAP_MS = 45 * MINUTE_MS;

/** Stretches from "begun" to the next "left" or "done" of the same person at the same work; taps in the order of their times. */
export function stretchesOf(taps: readonly TimedTap[]): WorkStretch[] {
  const open = new Map<string, TimedTap>();
  return taps.flatMap((tap) => {
    const key = `${tap.garmentId} ${tap.work} ${tap.personId}`;
    const begun = open.get(key);
    open.delete(key);
    if (tap.tap === 'begun') open.set(key, begun ?? tap);
    if (tap.tap === 'begun' || !begun || tap.atMs - begun.atMs > LONGEST_STRETCH_MS) return [];
    const { garmentId, work, personId, atMs: fromMs } = begun;
    return tap.atMs > fromMs ? [{ garmentId, work, personId, fromMs, toMs: tap.atMs }] : [];
  });
}

/** Minutes of some stretches together. */
export function minutesOf(stretches: readonly WorkStretch[]): number {
  return stretches.reduce((sum, { fromMs, toMs }) => sum + (toMs - fromMs) / MINUTE_MS, 0);
}

/** What was cut within stretches at the table, whoever cut it; null where nothing was. Stretches without a strip do not count. */
export function cutWithin(
  cuts: readonly StripsCut[],
  stretches: readonly WorkStretch[],
): MeasuredRate | null {
  const counted = stretches
    .filter(({ work }) => work === 'cut')
    .map((stretch) => ({
      stretch,
      strips: cuts
        .filter(
          ({ garmentId, atMs }) =>
            garmentId === stretch.garmentId && atMs >= stretch.fromMs && atMs <= stretch.toMs,
        )
        .reduce((sum, cut) => sum + cut.strips, 0),
    }))
    .filter(({ strips }) => strips > 0);
  const strips = counted.reduce((sum, one) => sum + one.strips, 0);
  return strips === 0 ? null : { strips, minutes: minutesOf(counted.map(({ stretch }) => stretch)) };
}

/**
 * The same by the times at which cuts were entered, in their order: what one person cut within 45 minutes of the cut before is of
 * one sitting, and took the time since then. The first cut of a sitting says nothing of how long it took. Null where
 * there are none; several cuts told at once, by one sheet, tell nothing.
 */
export function cutBetweenEntries(cuts: readonly StripsCut[]): MeasuredRate | null {
  const before = new Map<number, number>();
  let [strips, ms] = [0, 0];
  for (const cut of cuts) {
    const last = before.get(cut.personId);
    before.set(cut.personId, cut.atMs);
    const gap = last === undefined ? 0 : cut.atMs - last;
    if (gap < MINUTE_MS || gap > LONGEST_GAP_MS) continue;
    strips += cut.strips;
    ms += gap;
  }
  return strips === 0 ? null : { strips, minutes: ms / MINUTE_MS };
}

/** Strips an hour, rounded down and at least one. */
export function stripsAnHour({ strips, minutes }: MeasuredRate): number {
  return Math.max(1, Math.floor((strips * 60) / minutes));
}
