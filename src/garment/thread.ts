import { divideRounded, exactly, type Rounding, stored } from '../quantity/figure-show.ts';

/** Stitches by their class of ISO 4915. */
export const STITCHES = ['101', '301', '304', '401', '504'] as const;
export type Stitch = (typeof STITCHES)[number];

/** Thread for a length of seam, as an exact fraction: 2.5 is 5/2. */
export interface ThreadRatio {
  readonly num: bigint;
  readonly den: bigint;
}

/** How a seam is stitched; what was not measured is null. */
export interface Stitching {
  readonly stitch: Stitch | null;
  /** Stitches in an inch, in thousandths. */
  readonly stitchesMilliIn: number | null;
  /** Thickness of all that is sewn together, in micrometres. */
  readonly thicknessUm: number | null;
  /** Width of an overedge stitch, in micrometres. */
  readonly stitchWidthUm: number | null;
  /** Measured thread for a length of seam in thousandths: one for each thread of the stitch, or one for all together. */
  readonly measuredMilli: readonly number[];
}

/** Where a ratio comes from; the workroom's own measure goes before everything else. */
export type ThreadSource = 'measured' | 'formula' | 'table';

export type Thread =
  | {
      readonly ok: true;
      readonly source: ThreadSource;
      readonly ratio: ThreadRatio;
      /** The ratio of each thread of the stitch; null where only their sum is known. */
      readonly each: readonly ThreadRatio[] | null;
      readonly threads: number;
    }
  | { readonly ok: false; readonly missing: 'stitch' | 'sample' };

/** The threads of a stitch by name, in the order in which their ratios stand. */
export const THREADS_OF: Readonly<Record<Stitch, readonly string[]>> = {
  '101': ['needle'],
  '301': ['needle', 'bobbin'],
  '304': ['needle', 'bobbin'],
  '401': ['needle', 'looper'],
  '504': ['needle', 'upper looper', 'lower looper'],
};

/**
 * Flat figures for a length of seam: 101 and 301 from a stitch classification guide (5 and 2.5), 304 and 401 measured
 * (apparelscience.com: 5.5, and 1.3 of needle with 4.1 of looper thread). None for 504: sources give 14 and 7, so it
 * wants a sample or the width of its stitch. A balanced 301 takes as much bobbin as needle thread (common practice).
 */
const TABLE_MILLI: Readonly<Record<Exclude<Stitch, '504'>, readonly number[]>> = {
  '101': [5000],
  '301': [1250, 1250],
  '304': [5500],
  '401': [1300, 4100],
};

const UM_PER_INCH = 25_400n;

/**
 * Thread for a length of seam: as the workroom measured it on a sample, else by formula where stitches and thickness
 * are known, else the flat figure of the table.
 *
 * With T the thickness and W the width of the stitch in inches and S the stitches in an inch, each inch of seam takes
 * 3 + 2TS of 101, 2 + 2TS of 301, 4 + 2TS of 401 and 3 + 4WS + 4TS of 504 (textileblog.com). There is none for 304.
 */
export function threadOf(stitching: Stitching): Thread {
  const { stitch, measuredMilli } = stitching;
  if (stitch === null && measuredMilli.length === 0) return { ok: false, missing: 'stitch' };
  const threads = stitch === null ? measuredMilli.length : THREADS_OF[stitch].length;
  if (measuredMilli.length > 0) return fromParts('measured', measuredMilli, threads);
  const ratio = stitch === null ? null : byFormula(stitch, stitching);
  if (ratio !== null) {
    const half = { num: ratio.num, den: ratio.den * 2n };
    const each = stitch === '301' ? [half, half] : threads === 1 ? [ratio] : null;
    return { ok: true, source: 'formula', ratio, each, threads };
  }
  if (stitch === null || stitch === '504') return { ok: false, missing: 'sample' };
  return fromParts('table', TABLE_MILLI[stitch], threads);
}

function fromParts(source: ThreadSource, milli: readonly number[], threads: number): Thread {
  const parts = milli.map((part) => ({ num: exactly(part), den: 1000n }));
  const ratio = { num: parts.reduce((sum, { num }) => sum + num, 0n), den: 1000n };
  return { ok: true, source, ratio, each: parts.length === threads ? parts : null, threads };
}

function byFormula(stitch: Stitch, stitching: Stitching): ThreadRatio | null {
  const { stitchesMilliIn, thicknessUm, stitchWidthUm } = stitching;
  if (stitchesMilliIn === null || thicknessUm === null) return null;
  const den = UM_PER_INCH * 1000n;
  const thick = exactly(thicknessUm) * exactly(stitchesMilliIn);
  switch (stitch) {
    case '101':
      return { num: 3n * den + 2n * thick, den };
    case '301':
      return { num: 2n * den + 2n * thick, den };
    case '401':
      return { num: 4n * den + 2n * thick, den };
    case '504': {
      if (stitchWidthUm === null) return null;
      const wide = exactly(stitchWidthUm) * exactly(stitchesMilliIn);
      return { num: 3n * den + 4n * wide + 4n * thick, den };
    }
    case '304':
      return null;
  }
}

/** Thread for so much sewn length with waste added, in ticks, rounded once, up. `wasteBp` is in hundredths of a percent. */
export function threadLength(sewnTicks: number, ratio: ThreadRatio, wasteBp: number): number {
  const num = exactly(sewnTicks) * ratio.num * (10_000n + exactly(wasteBp));
  return stored(divideRounded(num, ratio.den * 10_000n, 'up'));
}

/** A ratio in thousandths, to be shown. */
export function ratioMilli({ num, den }: ThreadRatio, round: Rounding): number {
  return stored(divideRounded(num * 1000n, den, round));
}

/** Thread of one colour for one job: of each thread of the stitch, or of all `threads` together. In ticks. */
export interface ThreadUse {
  readonly threads: number;
  readonly ticks: number;
  readonly eachTicks: readonly number[] | null;
}

/**
 * Cones of one colour: for every place in which a machine holds a thread, its thread of all jobs ÷ the put-up, rounded
 * up, since a cone is not shared between two places. Where only the sum over the places is known, as many as are enough
 * however it is shared: ⌈sum ÷ put-up⌉ and one for each further place. `exact` says that nothing had to be supposed.
 *
 * @param uses by machine: jobs that are sewn with the same stitch share its cones
 */
export function conesOf(
  uses: readonly { readonly stitch: Stitch | null; readonly use: ThreadUse }[],
  putUpTicks: number,
): { readonly cones: number; readonly exact: boolean } {
  let cones = 0;
  let exact = true;
  for (const stitch of new Set(uses.map((one) => one.stitch))) {
    const mine = uses.filter((one) => one.stitch === stitch && one.use.ticks > 0).map(({ use }) => use);
    if (mine.length === 0) continue;
    const places = Math.max(...mine.map(({ threads }) => threads));
    const known = mine.every(({ eachTicks }) => eachTicks !== null);
    const sums = known
      ? Array.from({ length: places }, (_, place) =>
          sum(mine.map(({ eachTicks }) => eachTicks?.[place] ?? 0)),
        )
      : [sum(mine.map(({ ticks }) => ticks))];
    cones +=
      sum(sums.map((ticks) => stored(divideRounded(exactly(ticks), exactly(putUpTicks), 'up')))) +
      (known ? 0 : places - 1);
    exact &&= known;
  }
  return { cones, exact };
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, one) => total + one, 0);
}
