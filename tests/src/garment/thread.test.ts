import { describe, expect, it } from 'vitest';
import {
  conesOf,
  ratioMilli,
  type Stitch,
  type Stitching,
  type Thread,
  threadLength,
  threadOf,
} from '../../../src/garment/thread.ts';
import { cm, m, yd } from '../../lengths.ts';

/** A stitch of a class with its figures in inches, as the sources give them. */
function stitching(stitch: Stitch, inches: { T?: number; S?: number; W?: number } = {}): Stitching {
  const { T, S, W } = inches;
  return {
    stitch,
    thicknessUm: T === undefined ? null : T * 25_400,
    stitchesMilliIn: S === undefined ? null : S * 1000,
    stitchWidthUm: W === undefined ? null : W * 25_400,
    measuredMilli: [],
  };
}

const none: Stitching = {
  stitch: null,
  thicknessUm: null,
  stitchesMilliIn: null,
  stitchWidthUm: null,
  measuredMilli: [],
};

function known(thread: Thread) {
  if (!thread.ok) throw new Error(`missing: ${thread.missing}`);
  return thread;
}

const milli = (thread: Thread) => ratioMilli(known(thread).ratio, 'near');

describe('threadOf', () => {
  // textileblog.com and textilecalculation.blogspot 2015: 3 + 2TS, 2 + 2TS; 504, 3 + 4WS + 4TS, worked out by hand.
  it.each([
    ['101', { T: 0.005, S: 9 }, 3090],
    ['301', { T: 0.01, S: 10 }, 2200],
    ['301', { T: 0.025, S: 10 }, 2500],
    ['504', { W: 0.16, S: 12, T: 0.01 }, 11_160],
  ] as const)('meets the published ratio of %s', (stitch, figures, ratio) => {
    const thread = known(threadOf(stitching(stitch, figures)));
    expect(thread.source).toBe('formula');
    expect(milli(thread)).toBe(ratio);
  });

  // Stitch classification guide (scribd 49933681): 5 and 2.5; apparelscience.com: 5.5 and 5.4.
  it.each([
    ['101', 5000],
    ['301', 2500],
    ['304', 5500],
    ['401', 5400],
  ] as const)('takes the flat figure of %s where nothing was measured', (stitch, ratio) => {
    const thread = threadOf(stitching(stitch));
    expect(known(thread).source).toBe('table');
    expect(milli(thread)).toBe(ratio);
  });

  it('asks for a sample of 504, on whose flat figure the sources differ', () => {
    expect(threadOf(stitching('504'))).toEqual({ ok: false, missing: 'sample' });
    expect(threadOf(stitching('504', { S: 12, T: 0.01 }))).toEqual({ ok: false, missing: 'sample' });
  });

  it('lets what the workroom measured win over formula and table', () => {
    const thread = threadOf({ ...stitching('504', { W: 0.16, S: 12, T: 0.01 }), measuredMilli: [12_500] });
    expect(known(thread).source).toBe('measured');
    expect(milli(thread)).toBe(12_500);
  });

  it('names the stitch where nothing at all is known, and does with a measure alone', () => {
    expect(threadOf(none)).toEqual({ ok: false, missing: 'stitch' });
    expect(milli(threadOf({ ...none, measuredMilli: [2500] }))).toBe(2500);
  });

  it('shares a ratio among the threads of a stitch only where it knows how', () => {
    const each = (thread: Thread) => known(thread).each?.map((ratio) => ratioMilli(ratio, 'near')) ?? null;
    expect(each(threadOf(stitching('401')))).toEqual([1300, 4100]);
    expect(each(threadOf(stitching('301', { T: 0.01, S: 10 })))).toEqual([1100, 1100]);
    expect(each(threadOf(stitching('304')))).toBeNull();
    expect(each(threadOf({ ...stitching('504'), measuredMilli: [3200, 5100, 5100] }))).toEqual([
      3200, 5100, 5100,
    ]);
    expect(each(threadOf({ ...stitching('504'), measuredMilli: [13_400] }))).toBeNull();
  });
});

describe('threadLength', () => {
  it('meets the measured metre of 401: 130 + 410 = 540 cm, and 621 cm with 15 % waste (apparelscience.com)', () => {
    const { ratio } = known(threadOf(stitching('401')));
    expect(threadLength(m(1), ratio, 0)).toBe(cm(540));
    expect(threadLength(m(1), ratio, 1500)).toBe(cm(621));
  });

  it('meets 42 in of 401 within its own rounding: 6.63 yd, 7.62 yd with 15 % (apparel-merchandising.com 2011)', () => {
    const { ratio } = known(threadOf({ ...stitching('401'), measuredMilli: [3000, 2670] }));
    // The source takes 42 in as 1.17 yd and multiplies what it rounded.
    expect(threadLength(yd('1.17'), ratio, 0) / yd(1)).toBeCloseTo(6.63, 2);
    expect(Math.abs(threadLength(yd('1.17'), ratio, 1500) / yd(1) - 7.62)).toBeLessThan(0.01);
  });

  it('is rounded once, up', () => {
    expect(threadLength(1, { num: 1n, den: 3n }, 0)).toBe(1);
  });
});

describe('conesOf', () => {
  const use = (ticks: number, each: readonly number[] | null, threads = each?.length ?? 3) => ({
    threads,
    ticks,
    eachTicks: each,
  });

  it('counts whole cones for each place of a thread', () => {
    const looper = m(4100);
    const needle = m(1300);
    const uses = [{ stitch: '401', use: use(needle + looper, [needle, looper]) }] as const;
    expect(conesOf(uses, m(5000))).toEqual({ cones: 2, exact: true });
    expect(conesOf(uses, m(2000))).toEqual({ cones: 1 + 3, exact: true });
  });

  it('lets jobs of one stitch share its cones', () => {
    const half = { stitch: '301', use: use(m(1000), [m(500), m(500)]) } as const;
    expect(conesOf([half, half], m(1000))).toEqual({ cones: 2, exact: true });
  });

  it('gives enough where only the sum over the places is known', () => {
    const uses = [{ stitch: '504', use: use(m(9000), null) }] as const;
    const { cones, exact } = conesOf(uses, m(5000));
    expect([cones, exact]).toEqual([2 + 2, false]);
    for (const share of [0, 1, 3000, 4500, 4999, 8998]) {
      const parts = [share, (9000 - share) / 2, (9000 - share) / 2];
      expect(parts.reduce((sum, part) => sum + Math.ceil(part / 5000), 0)).toBeLessThanOrEqual(cones);
    }
  });
});
