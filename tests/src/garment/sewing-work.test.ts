import { describe, expect, it } from 'vitest';
import { commonestShade, sewingTime, threadByColour, workOfJob } from '../../../src/garment/sewing-work.ts';
import type { Stitching } from '../../../src/garment/thread.ts';
import { cm, m } from '../../lengths.ts';

const PLAIN: Stitching = {
  stitch: '301',
  stitchesMilliIn: null,
  thicknessUm: null,
  stitchWidthUm: null,
  measuredMilli: [],
};
const OVEREDGE: Stitching = { ...PLAIN, stitch: '504' };
const rates = { stitching: PLAIN, passes: 2, rateTicksMin: m(3) };

describe('a sewing job', () => {
  it('of 9 m in two passes at 3 m a minute takes six minutes, and thread for 18 m with what goes into ends', () => {
    const work = workOfJob('plain', m(9), rates, 1000);
    expect(work).toMatchObject({ sewnTicks: m(18), seconds: 360, stitch: '301' });
    // A lockstitch takes 1.25 of needle and 1.25 of bobbin thread, and a tenth more.
    expect(work.use).toEqual({ threads: 2, ticks: m('49.5'), eachTicks: [m('24.75'), m('24.75')] });
  });

  it('without a rate has no time, and without a sample of an overedge no thread', () => {
    const work = workOfJob('plain', m(9), { stitching: OVEREDGE, passes: 1, rateTicksMin: null }, 0);
    expect([work.seconds, work.use, work.thread]).toEqual([null, null, { ok: false, missing: 'sample' }]);
  });
});

describe('the time of several jobs', () => {
  it('is added up, and not complete where one has no rate', () => {
    expect(sewingTime([{ seconds: 90 }, { seconds: 30 }])).toEqual({ seconds: 120, complete: true });
    expect(sewingTime([{ seconds: 90 }, { seconds: null }])).toEqual({ seconds: 90, complete: false });
  });
});

describe('the shade of a tier’s thread', () => {
  it('is that of most strips over all sizes, the first of several', () => {
    const strips = (shadeId: number, count: number) => ({ shadeId, count });
    expect(commonestShade([strips(1, 3), strips(2, 2), strips(2, 2)])).toBe(2);
    expect(commonestShade([strips(5, 3), strips(4, 3)])).toBe(5);
  });
});

describe('thread by colour', () => {
  const tier = (threadShadeId: number, jobs: readonly ReturnType<typeof workOfJob>[]) => ({
    threadShadeId,
    jobs,
  });
  const plain = workOfJob('plain', m(2), { ...rates, passes: 1 }, 0);
  const open = workOfJob('plain', cm(50), { ...rates, stitching: OVEREDGE }, 0);

  it('adds up the tiers of a colour, in their order, and says where a job has no known thread', () => {
    const found = threadByColour([tier(2, [plain]), tier(1, [plain, open]), tier(2, [plain])], null);
    expect(found).toEqual([
      { shadeId: 2, ticks: m(10), complete: true, stitches: [{ stitch: '301', ticks: m(10) }], cones: null },
      { shadeId: 1, ticks: m(5), complete: false, stitches: [{ stitch: '301', ticks: m(5) }], cones: null },
    ]);
  });

  it('counts cones where it is known what one holds: needle and bobbin each have their own', () => {
    expect(threadByColour([tier(1, [plain])], m(2))[0]?.cones).toEqual({ cones: 4, exact: true });
  });
});
