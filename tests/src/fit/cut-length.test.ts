import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  columnsAcross,
  cutInLengths,
  fitsBeside,
  isWorthKeeping,
  leftoverOf,
  lengthForStrips,
  placeOfLeftover,
  stripsInStretch,
} from '../../../src/fit/cut-length.ts';
import { fitStrips, lengthToCut } from '../../../src/fit/strips.ts';
import { cm, inch, m, yd } from '../../lengths.ts';

const strip = { depthTicks: cm(33), lengthTicks: cm(49) };

describe('strips in a cut length', () => {
  it('are as many as the usable width divides into', () => {
    expect(columnsAcross(strip, cm(147))).toBe(3);
    expect(columnsAcross(strip, cm('146.9'))).toBe(2);
    expect(columnsAcross(strip, cm(48))).toBe(0);
  });

  it('come off a stretch in whole cut lengths', () => {
    // 4 m ÷ 33 cm is 12 cut lengths and 4 cm; three strips each.
    expect(stripsInStretch(strip, { widthTicks: cm(147), lengthTicks: m(4) })).toBe(36);
    expect(stripsInStretch(strip, { widthTicks: cm(147), lengthTicks: cm('32.9') })).toBe(0);
  });

  it('take whole cut lengths for a part of one', () => {
    expect(cutInLengths(strip, cm(147), 7)).toEqual({
      strips: 7,
      columns: 3,
      cutLengths: 3,
      lengthTicks: cm(99),
    });
    expect(cutInLengths({ depthTicks: inch(13), lengthTicks: inch(58) }, inch(58), 8)).toMatchObject({
      cutLengths: 8,
      lengthTicks: yd('2 8/9'),
    });
    expect(cutInLengths(strip, cm(48), 1)).toBeNull();
  });

  it('are held in whole cut lengths, as many as a stretch has room for', () => {
    const stretch = { widthTicks: cm(147), lengthTicks: cm(70) };
    expect([4, 6, 100].map((strips) => lengthForStrips(strip, stretch, strips))).toEqual([
      cm(66),
      cm(66),
      cm(66),
    ]);
    expect(lengthForStrips(strip, stretch, 3)).toBe(cm(33));
    expect(lengthForStrips(strip, { widthTicks: cm(48), lengthTicks: cm(70) }, 3)).toBe(0);
  });

  it('are refused where a count or size is none', () => {
    expect(() => cutInLengths(strip, cm(147), 0)).toThrow(RangeError);
    expect(() => columnsAcross({ depthTicks: 0, lengthTicks: 1 }, cm(147))).toThrow(RangeError);
  });

  it('agree with the fit of a need, for any sizes and counts', () => {
    const ticks = fc.integer({ min: 1, max: 2_000_000 });
    fc.assert(
      fc.property(ticks, ticks, ticks, fc.integer({ min: 1, max: 400 }), (depth, across, width, count) => {
        const size = { depthTicks: depth, lengthTicks: across };
        const demand = { tierId: 1, ...size, direction: 'across' as const, count };
        const cut = cutInLengths(demand, width, count);
        expect(cut?.lengthTicks ?? null).toBe(lengthToCut([demand], width));
        if (!cut) return;
        const stretch = { pieceId: 1, lotId: 1, usableWidthTicks: width, lengthTicks: cut.lengthTicks };
        expect(fitStrips([demand], [stretch], 'one').madeStrips).toBe(count);
        expect(
          stripsInStretch(demand, { widthTicks: width, lengthTicks: cut.lengthTicks }),
        ).toBeGreaterThanOrEqual(count);
      }),
    );
  });
});

describe('what is left beside strips', () => {
  const cutOf = (strips: number, width: number) => {
    const cut = cutInLengths(strip, width, strips);
    if (!cut) throw new Error('a strip fits');
    return cut;
  };

  it('is as long as the cut, and as wide as the strips leave', () => {
    expect(leftoverOf(strip, cm(150), cutOf(6, cm(150)))).toEqual({ widthTicks: cm(3), lengthTicks: cm(66) });
    expect(leftoverOf(strip, cm(147), cutOf(6, cm(147)))).toBeNull();
  });

  it('is as long as what was really taken', () => {
    expect(leftoverOf(strip, cm(150), cutOf(6, cm(150)), cm(70))).toEqual({
      widthTicks: cm(3),
      lengthTicks: cm(70),
    });
  });

  it('is the rest of a last cut length where that is larger', () => {
    // Seven strips of three a cut length: 3 cm × 99 cm beside them all, or 101 cm × 33 cm beside the last.
    expect(leftoverOf(strip, cm(150), cutOf(7, cm(150)))).toEqual({
      widthTicks: cm(101),
      lengthTicks: cm(33),
    });
    expect(leftoverOf(strip, cm(147), cutOf(1, cm(147)))).toEqual({
      widthTicks: cm(98),
      lengthTicks: cm(33),
    });
  });

  it('never takes cloth from the strips, whatever the sizes', () => {
    const ticks = fc.integer({ min: 1, max: 2_000_000 });
    fc.assert(
      fc.property(ticks, ticks, ticks, fc.integer({ min: 1, max: 400 }), (depth, across, width, count) => {
        const size = { depthTicks: depth, lengthTicks: across };
        const cut = cutInLengths(size, width, count);
        const rest = cut && leftoverOf(size, width, cut);
        if (!cut || !rest) return;
        const taken = { strips: count, widthTicks: width, lengthTicks: cut.lengthTicks };
        expect(fitsBeside(size, taken, rest)).toBe(true);
        expect(fitsBeside(size, taken, { widthTicks: width, lengthTicks: cut.lengthTicks })).toBe(false);
      }),
    );
  });

  it('is worth keeping where it is long enough and a strip could be cut along it', () => {
    const useful = cm(50);
    expect(isWorthKeeping({ widthTicks: cm(33), lengthTicks: cm(50) }, strip, useful)).toBe(true);
    expect(isWorthKeeping({ widthTicks: cm('32.9'), lengthTicks: m(3) }, strip, useful)).toBe(false);
    expect(isWorthKeeping({ widthTicks: cm(98), lengthTicks: cm('49.9') }, strip, useful)).toBe(false);
  });
});

describe('where a rest lies', () => {
  const size = { depthTicks: cm('32'), lengthTicks: cm('49') };

  it('beside all columns, from where the cut began', () => {
    const cut = cutInLengths(size, cm('110'), 4);
    const rest = cut && leftoverOf(size, cm('110'), cut);
    expect(rest).toEqual({ widthTicks: cm('12'), lengthTicks: cm('64') });
    expect(cut && rest && placeOfLeftover(size, cut, rest)).toEqual({ alongTicks: 0, acrossTicks: cm('98') });
  });

  it('beside the strips of a last cut length that is not full', () => {
    const cut = cutInLengths(size, cm('147'), 4);
    const rest = cut && leftoverOf(size, cm('147'), cut);
    expect(rest).toEqual({ widthTicks: cm('98'), lengthTicks: cm('32') });
    expect(cut && rest && placeOfLeftover(size, cut, rest)).toEqual({
      alongTicks: cm('32'),
      acrossTicks: cm('49'),
    });
  });
});
