import { describe, expect, it } from 'vitest';
import { layOnCloth } from '../../../src/garment/cloth-way.ts';
import { cm } from '../../lengths.ts';

const strip = { depthTicks: cm(50), lengthTicks: cm(120), direction: 'either' as const };

describe('a strip on a cloth', () => {
  it('lies as it was asked where the cloth has no way', () => {
    expect(layOnCloth(strip, undefined, cm(147))).toEqual(strip);
  });

  it('with a way is never turned: across where it fits, else along', () => {
    const way = { oneWay: true, repeatTicks: null };
    expect(layOnCloth(strip, way, cm(147))).toEqual({ ...strip, direction: 'across' });
    expect(layOnCloth(strip, way, cm(100))).toEqual({ ...strip, direction: 'along' });
    expect(layOnCloth({ ...strip, direction: 'along' }, way, cm(147)).direction).toBe('along');
  });

  // 240 cm and a repeat of 37: 259 (et-wholesale.com.au).
  it('with a pattern takes whole repeats along the cloth', () => {
    const way = { oneWay: false, repeatTicks: cm(37) };
    const across = { depthTicks: cm(240), lengthTicks: cm(140), direction: 'across' as const };
    expect(layOnCloth(across, way, cm(147))).toEqual({ ...across, depthTicks: cm(259) });
    const along = { depthTicks: cm(50), lengthTicks: cm(240), direction: 'along' as const };
    expect(layOnCloth(along, way, cm(147))).toEqual({ ...along, lengthTicks: cm(259) });
    expect(layOnCloth({ ...across, depthTicks: cm(74) }, way, cm(147)).depthTicks).toBe(cm(74));
  });
});
