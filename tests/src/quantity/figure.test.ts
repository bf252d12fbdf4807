import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readFigure, tidy } from '../../../src/quantity/figure.ts';
import {
  divideRounded,
  exactly,
  type Rounding,
  showDecimal,
  showFixed,
  showMixed,
  stored,
} from '../../../src/quantity/figure-show.ts';
import { readFullness } from '../../../src/quantity/fullness.ts';
import { readWhole } from '../../../src/quantity/whole.ts';

describe('tidying what was typed', () => {
  it.each([
    ['  2   3/4 ', '2 3/4'],
    ['2¾', '2 3/4'],
    ['2³⁄₄', '2 3/4'],
    ['2⅟8', '2 1/8'],
    ['g/m²', 'g/m2'],
    ['５′６″', '5\'6"'],
    ['“9”', '"9"'],
    ['1‑1⁄2', '1-1/2'],
    ['−5', '-5'],
    ['1\u20095\u202F0\u00A00', '1 5 0 0'],
    ['1\u200B5', '15'],
    ['5 YD', '5 YD'],
    ['a\u0000b\uDC00', 'a\uFFFDb\uFFFD'],
  ])('makes %j of it %j', (typed, text) => {
    expect(tidy(typed)).toEqual({ ok: true, text });
  });

  it('refuses figures that would be joined to others, and those of other scripts', () => {
    for (const typed of ['5²', '5 ²', '5₂', '²', '5①', '５²', '3m5²', '٣', '५'])
      expect(tidy(typed).ok, typed).toBe(false);
    for (const typed of ['m²', 'yd²', '5 m²', '2³⁄₄', '５', '¾', '2¾'])
      expect(tidy(typed).ok, typed).toBe(true);
  });

  it('says the figures of every script as those from 0 to 9', () => {
    // The scripts and their figures are those of the Unicode CLDR that the engine carries.
    const scripts = Intl.supportedValuesOf('numberingSystem').flatMap((system) => {
      const written = new Intl.NumberFormat('en', { numberingSystem: system, useGrouping: false }).format(
        9_876_543_210,
      );
      const others = /^\p{Nd}+$/u.test(written) && !/\d/.test(written.normalize('NFKC'));
      return others ? [written] : [];
    });
    expect(scripts.length).toBeGreaterThan(40);
    for (const written of scripts) {
      const reason = `${written} is not written in the figures 0 to 9: write 9876543210.`;
      expect(tidy(written)).toEqual({ ok: false, reason });
    }
  });

  it('refuses nothing and too much', () => {
    expect(tidy(' \n\u2003').ok).toBe(false);
    expect(tidy('1'.repeat(64)).ok).toBe(true);
    expect(tidy('1'.repeat(65)).ok).toBe(false);
  });
});

describe('reading a figure', () => {
  it('keeps an exact fraction in lowest terms', () => {
    expect(readFigure('2 6/8')).toMatchObject({
      figure: { num: 11n, den: 4n, shown: '2¾', form: 'fraction' },
    });
    expect(readFigure('1.50')).toMatchObject({
      figure: { num: 3n, den: 2n, shown: '1.5', form: 'decimal', places: 2 },
    });
    expect(readFigure('2.00')).toMatchObject({
      figure: { num: 2n, den: 1n, shown: '2', form: 'decimal', places: 2 },
    });
    expect(readFigure('1 500')).toMatchObject({
      figure: { num: 1500n, den: 1n, shown: '1500', form: 'whole' },
    });
    expect(readFigure('0/4')).toMatchObject({ figure: { num: 0n, den: 1n, shown: '0' } });
    expect(readFigure('9/8')).toMatchObject({ figure: { num: 9n, den: 8n, shown: '1⅛' } });
  });

  it('takes a group of three after a space for thousands, and anything else after a space for a fraction', () => {
    expect(readFigure('1 500 1/2')).toMatchObject({ figure: { num: 3001n, den: 2n } });
    expect(readFigure('1 500/1000')).toMatchObject({ figure: { num: 3n, den: 2n } });
    for (const text of ['1 50', '1500 500', '1 5000', '1 500 50'])
      expect(readFigure(text).ok, text).toBe(false);
  });

  it('reads the comma as the decimal point only where it cannot part thousands', () => {
    for (const text of ['1,5', '1,50', '1,5000', '0,500', '1234,500', '1 234,500', ',500']) {
      expect(readFigure(text), text).toEqual(readFigure(text.replace(',', '.')));
    }
    for (const text of ['1,500', '12,500', '999,000', '1,500,000', '1,500.5', '1.500,5']) {
      expect(readFigure(text).ok, text).toBe(false);
    }
  });
});

describe('a whole number that lost the space before its fraction', () => {
  it('is asked back, in a field of whole numbers too', () => {
    const reason = '23/4 can mean 2 3/4 or 5 3/4 (23 divided by 4): write 2 3/4 or 5 3/4.';
    expect(readFigure('23/4')).toEqual({ ok: false, reason });
    expect(readWhole('23/4')).toEqual({ ok: false, reason });
    expect(readFullness('23/4')).toEqual({ ok: false, reason });
  });
});

describe('rounding a division', () => {
  it('goes the way it is named', () => {
    const all = (num: bigint, den: bigint) =>
      (['up', 'down', 'near'] as const).map((way) => divideRounded(num, den, way));
    expect(all(7n, 2n)).toEqual([4n, 3n, 4n]);
    expect(all(-7n, 2n)).toEqual([-3n, -4n, -4n]);
    expect(all(10n, 3n)).toEqual([4n, 3n, 3n]);
    expect(all(-10n, 3n)).toEqual([-3n, -4n, -3n]);
    expect(all(6n, 3n)).toEqual([2n, 2n, 2n]);
    expect(() => divideRounded(1n, 0n, 'up')).toThrow(RangeError);
    expect(() => divideRounded(1n, -1n, 'up')).toThrow(RangeError);
  });

  it('agrees with floor and ceiling, which are exact for small numbers', () => {
    fc.assert(
      fc.property(fc.integer({ min: -9_999, max: 9_999 }), fc.integer({ min: 1, max: 99 }), (num, den) => {
        const by = (way: Rounding) => Number(divideRounded(BigInt(num), BigInt(den), way));
        expect(by('up')).toBe(Math.ceil(num / den) + 0);
        expect(by('down')).toBe(Math.floor(num / den));
        expect(by('near')).toBe(Math.sign(num) * Math.floor(Math.abs(num) / den + 0.5) + 0);
      }),
    );
  });
});

describe('writing a number', () => {
  it('drops idle noughts of a decimal only', () => {
    expect([
      showDecimal(12_350n, 3),
      showDecimal(100n, 0),
      showDecimal(1_000n, 3),
      showDecimal(5n, 3),
    ]).toEqual(['12.35', '100', '1', '0.005']);
    expect([showDecimal(0n, 8), showDecimal(-50n, 2), showFixed(5n, 2), showFixed(-1200n, 2)]).toEqual([
      '0',
      '−0.5',
      '0.05',
      '−12.00',
    ]);
  });

  it('has a sign for common fractions and a slash for the rest', () => {
    expect([
      showMixed(11n, 4n),
      showMixed(145n, 16n),
      showMixed(3n, 16n),
      showMixed(8n, 4n),
      showMixed(0n, 4n),
    ]).toEqual(['2¾', '9 1/16', '3/16', '2', '0']);
    expect(() => showMixed(-1n, 4n)).toThrow(RangeError);
  });

  it('is read again as the same number', () => {
    fc.assert(
      fc.property(fc.nat(10_000), fc.integer({ min: 1, max: 200 }), (num, den) => {
        const tidied = tidy(showMixed(BigInt(num), BigInt(den)));
        const read = tidied.ok ? readFigure(tidied.text) : tidied;
        expect(read.ok && read.figure.num * BigInt(den)).toBe(read.ok && read.figure.den * BigInt(num));
      }),
    );
  });
});

describe('stored quantities', () => {
  it('are safe integers or nothing', () => {
    for (const value of [0.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53]) {
      expect(() => exactly(value)).toThrow(RangeError);
    }
    expect(exactly(2 ** 53 - 1)).toBe(9_007_199_254_740_991n);
    expect(stored(-5n)).toBe(-5);
    expect(() => stored(2n ** 53n)).toThrow(RangeError);
  });
});
