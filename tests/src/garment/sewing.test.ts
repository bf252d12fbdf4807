import { describe, expect, it } from 'vitest';
import { type SewnTier, secondsToSew, sewingOf } from '../../../src/garment/sewing.ts';
import { cm, m } from '../../lengths.ts';

/** Six strips of 147 cm with seams of 1 cm, sewn to a ring of 8.7 m and gathered onto 2.9 m; cut 32 cm deep. */
const RING: SewnTier = {
  closing: 'ring',
  baseTicks: m('2.9'),
  flatTicks: m('8.7'),
  cutDepthTicks: cm(32),
  strips: [{ lengthTicks: cm(147), count: 6 }],
  seamKind: 'plain',
  upperEdge: 'seam',
  lowerEdge: 'rolled',
  hemFirst: false,
  endsTurned: true,
};

const jobs = (tier: SewnTier) =>
  Object.fromEntries(sewingOf(tier).jobs.map(({ job, ticks }) => [job, ticks]));

describe('sewingOf', () => {
  it('counts seams, hem, gathering and attaching of a ring', () => {
    expect(sewingOf(RING)).toMatchObject({ seams: 6, seamTicks: cm(192), hemTicks: m('8.7') });
    expect(jobs(RING)).toEqual({
      plain: cm(192),
      rolled: m('8.7'),
      gathering: m('8.7'),
      attaching: m('2.9'),
    });
  });

  it('has a seam less and two ends to hem where the band is open', () => {
    const open = { ...RING, closing: 'open' } as const;
    expect(sewingOf(open)).toMatchObject({ seams: 5, hemTicks: m('8.7') + cm(64) });
    expect(sewingOf({ ...open, endsTurned: false }).hemTicks).toBe(m('8.7'));
    expect(sewingOf({ ...open, strips: [{ lengthTicks: m(9), count: 1 }] }).seams).toBe(0);
  });

  it('hems every strip along its cut length where they are hemmed first', () => {
    expect(jobs({ ...RING, hemFirst: true }).rolled).toBe(6 * cm(147));
  });

  it('finishes the upper edge too where it stands free, and no raw edge', () => {
    expect(jobs({ ...RING, upperEdge: 'rolled' }).rolled).toBe(2 * m('8.7'));
    expect(jobs({ ...RING, upperEdge: 'bound' }).bound).toBe(m('8.7'));
    expect(sewingOf({ ...RING, lowerEdge: 'raw' }).hemTicks).toBe(0);
    expect(jobs({ ...RING, lowerEdge: 'raw', closing: 'open' }).narrow).toBe(cm(64));
  });

  it('does not gather a band that is as long as its base', () => {
    expect(jobs({ ...RING, flatTicks: m('2.9') }).gathering).toBeUndefined();
  });
});

describe('secondsToSew', () => {
  it('takes every pass at the rate, rounded up to a tenth of a minute', () => {
    expect(secondsToSew(m(9), 2, m('1.5'))).toBe(720);
    expect(secondsToSew(m(1), 1, m(3))).toBe(24);
    expect(secondsToSew(m('1.2'), 1, m(3))).toBe(24);
    expect(secondsToSew(m('1.2') + 1, 1, m(3))).toBe(30);
  });

  it('meets 200 cm in 12 s (needle minutes, onlineclothingstudy.com 2012: 4 stitches a cm at 4000 rpm)', () => {
    // 4000 stitches a minute at 4 to the cm are 10 m a minute.
    expect(secondsToSew(cm(200), 1, m(10))).toBe(12);
  });
});
