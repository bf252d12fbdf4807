import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthsOfBaths, splitOptions } from '../../../src/dye/splitting.ts';

describe('ways of sharing', () => {
  it('puts whole strips in each bath, fewest baths first', () => {
    // 14 strips of 2 L and 0 kg each in 9 L: four at most, so four baths.
    const found = splitOptions({ massMg: 0, volumeUl: 28_000_000, holdsUl: 9_000_000, strips: 14 });
    expect(found.ok && found.options).toEqual([
      { parts: [4, 4, 4, 4], equal: true, addedStrips: 2 },
      { parts: [4, 4, 3, 3], equal: false, addedStrips: 0 },
      { parts: [2, 2, 2, 2, 2, 2, 2], equal: true, addedStrips: 0 },
    ]);
  });

  it('refuses a vessel that does not take one strip', () => {
    const found = splitOptions({ massMg: 0, volumeUl: 10_000_000, holdsUl: 4_999_999, strips: 2 });
    expect(found).toMatchObject({
      ok: false,
      reason: expect.stringMatching(/One strip's cloth with its liquor takes 5\.00 L/),
    });
  });

  it('makes the strips wanted, none broken, no bath beyond the vessel', () => {
    const sharing = fc.record({
      strips: fc.integer({ min: 1, max: 80 }),
      volumeUl: fc.integer({ min: 1_000, max: 200_000_000 }),
      holdsUl: fc.integer({ min: 1_000_000, max: 50_000_000 }),
      massMg: fc.integer({ min: 0, max: 5_000_000 }),
    });
    fc.assert(
      fc.property(sharing, (asked) => {
        const found = splitOptions(asked);
        if (!found.ok) return;
        const perStrip = (asked.volumeUl + asked.massMg * 0.7) / asked.strips;
        for (const { parts, equal, addedStrips } of found.options) {
          expect(parts.reduce((sum, part) => sum + part, 0)).toBe(asked.strips + addedStrips);
          expect(Math.max(...parts) * perStrip).toBeLessThanOrEqual(asked.holdsUl + 1);
          expect(equal).toBe(new Set(parts).size === 1);
        }
        const counts = found.options.map(({ parts }) => parts.length);
        expect(counts).toEqual([...counts].sort((a, b) => a - b));
      }),
    );
  });
});

describe('lengths of baths', () => {
  it('cut pieces at whole strips and share what is over', () => {
    expect(lengthsOfBaths([1050, 210, 40], 100, [8, 4])).toEqual([
      [{ piece: 0, lengthTicks: 840, strips: 8 }],
      [
        { piece: 0, lengthTicks: 210, strips: 2 },
        { piece: 1, lengthTicks: 210, strips: 2 },
        { piece: 2, lengthTicks: 40, strips: 0 },
      ],
    ]);
    expect(lengthsOfBaths([1050], 100, [8, 4])).toBeUndefined();
  });

  it('lose no tick and break no strip', () => {
    const pieces = fc.array(fc.integer({ min: 1, max: 5_000 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(
        pieces,
        fc.integer({ min: 1, max: 900 }),
        fc.integer({ min: 1, max: 5 }),
        (ticks, strip, baths) => {
          const strips = ticks.reduce((sum, each) => sum + Math.floor(each / strip), 0);
          const parts = Array.from({ length: baths }, (_, at) => Math.floor((strips + at) / baths));
          const found = lengthsOfBaths(ticks, strip, parts);
          const all = found?.flat() ?? [];
          ticks.forEach((each, piece) => {
            const own = all.filter((length) => length.piece === piece);
            expect(own.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0)).toBe(each);
          });
          for (const { lengthTicks, strips: whole } of all)
            expect(lengthTicks).toBeGreaterThanOrEqual(whole * strip);
          expect(found?.map((bath) => bath.reduce((sum, length) => sum + length.strips, 0))).toEqual(parts);
        },
      ),
    );
  });
});
