import fc from 'fast-check';
import {
  add,
  equal,
  type Fraction,
  floor,
  fraction,
  type MathNumericType,
  multiply,
  unit as unitOf,
} from 'mathjs';
import { describe, expect, it } from 'vitest';
import { type LengthUnit, MOST_LENGTH_TICKS, readLength, TICKS_PER } from '../../src/quantity/length.ts';

describe('lengths of every kind', () => {
  const units = fc.constantFrom<LengthUnit>('mm', 'cm', 'm', 'in', 'ft', 'yd');
  const mixed = fc
    .record({ whole: fc.nat(999), den: fc.integer({ min: 2, max: 64 }) })
    .chain(({ whole, den }) =>
      fc.record({ whole: fc.constant(whole), den: fc.constant(den), num: fc.nat(den - 1) }),
    );

  it('have units of the size that a general library gives them', () => {
    for (const unit of Object.keys(TICKS_PER) as LengthUnit[]) {
      expect(ticksByLibrary(1, 1, unit)).toEqual({ ticks: TICKS_PER[unit], exact: true });
    }
  });

  it('are read as a general library of units converts them', () => {
    fc.assert(
      fc.property(mixed, units, ({ whole, num, den }, unit) => {
        const { ticks, exact } = ticksByLibrary(whole * den + num, den, unit);
        for (const typed of [`${whole} ${num}/${den} ${unit}`, `${whole}-${num}/${den}${unit}`]) {
          expect(readLength(typed, 'm')).toMatchObject({ ok: true, value: ticks, exact });
        }
        expect(readLength(`${whole} ${num}⁄${den}`, unit)).toMatchObject({ ok: true, value: ticks, exact });
      }),
      { numRuns: 500 },
    );
  });

  it('are read alike with a dot and with a comma, but where a comma could part thousands', () => {
    fc.assert(
      fc.property(fc.nat(9_999), fc.stringMatching(/^\d{1,6}$/), units, (whole, decimals, unit) => {
        const dot = readLength(`${whole}.${decimals}`, unit);
        // The dot parts thousands too, in countries that are metric: 1.500 mm may be a metre and a half.
        const upTo = { mm: 50_000, cm: 5_000 }[unit as string] ?? 0;
        if (decimals.length === 3 && whole > 0 && Number(`${whole}${decimals}`) <= upTo) {
          expect([dot.ok, readLength(`${whole},${decimals}`, unit).ok]).toEqual([false, false]);
          return;
        }
        const comma = readLength(`${whole},${decimals}`, unit);
        const { ticks, exact } = ticksByLibrary(Number(`${whole}${decimals}`), 10 ** decimals.length, unit);
        expect(dot).toMatchObject({ ok: true, value: ticks, exact });
        if (decimals.length === 3 && whole > 0 && whole < 1000) expect(comma.ok).toBe(false);
        else expect(comma).toEqual(dot);
      }),
    );
  });

  it('are read as mixed numbers only where the whole stands apart from its fraction', () => {
    // What can be split into a whole and a fraction below one is asked back; what cannot is the division it says.
    const splits = (num: string, den: number) =>
      [...num.slice(1)].some((first, at) => first !== '0' && Number(num.slice(at + 1)) < den);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9_999 }), fc.integer({ min: 1, max: 99 }), (num, den) => {
        const read = readLength(`${num}/${den} yd`, 'm');
        expect(read.ok, `${num}/${den}`).toBe(num < den || !splits(String(num), den));
        if (read.ok) expect(read.value).toBe(ticksByLibrary(num, den, 'yd').ticks);
      }),
    );
  });

  it('add up over their units', () => {
    fc.assert(
      fc.property(fc.nat(200), fc.nat(2), fc.nat(11), (yards, feet, inches) => {
        const ticks = yards * TICKS_PER.yd + feet * TICKS_PER.ft + inches * TICKS_PER.in;
        expect(ticksOf(`${yards} yd ${feet} ft ${inches} in`)).toBe(ticks);
        expect(ticksOf(`${yards}yd${feet}'${inches}"`)).toBe(ticks);
      }),
    );
  });

  it('never come out smaller for a larger number', () => {
    fc.assert(
      fc.property(fc.nat(10 ** 9), fc.nat(10 ** 9), units, (a, b, unit) => {
        const [less, more] = a < b ? [a, b] : [b, a];
        const typed = (num: number) => `${Math.floor(num / 99_999)} ${num % 99_999}/99999`;
        expect(ticksOf(typed(less), unit)).toBeLessThanOrEqual(ticksOf(typed(more), unit));
      }),
    );
  });

  it('are the same when the echo is typed again', () => {
    fc.assert(
      fc.property(mixed, units, ({ whole, num, den }, unit) => {
        const read = readLength(`${whole} ${num}/${den} ${unit}`, 'm');
        if (!read.ok) throw new Error(read.reason);
        const [understood = '', shown = understood] = read.echo.split(/ [=≈] /);
        expect(ticksOf(understood)).toBe(read.value);
        // What follows "=" is the same length; what follows "≈" is within half a tenth of a millimetre.
        const off = Math.abs(ticksOf(shown) - read.value);
        if (read.echo.includes('≈')) expect(off).toBeLessThanOrEqual(8);
        else expect(off).toBe(0);
      }),
    );
  });

  it('come of any text whatever, or a reason does', () => {
    const scraps = fc.constantFrom(
      ...'0123456789 .,/-\'"⁄¾½⅟²mcdyftin\u00A0\u2009xe+≈'.split(''),
      'yd',
      'cm',
      '1,5',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 80 }),
      fc.array(scraps, { maxLength: 40 }).map((some) => some.join('')),
    );
    fc.assert(
      fc.property(text, units, (typed, unit) => {
        const read = readLength(typed, unit);
        if (read.ok) {
          expect(Number.isSafeInteger(read.value)).toBe(true);
          expect(read.value).toBeGreaterThanOrEqual(0);
          expect(read.value).toBeLessThanOrEqual(MOST_LENGTH_TICKS);
          expect(read.echo).toMatch(/^[\d½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒]/);
        } else expect(read.reason).toMatch(/\.$/);
      }),
      { numRuns: 2_000 },
    );
  });
});

function ticksOf(typed: string, unit: LengthUnit = 'm'): number {
  const read = readLength(typed, unit);
  if (!read.ok) throw new Error(read.reason);
  return read.value;
}

/** The same by exact fractions of a general library of units, a half tick up. */
function ticksByLibrary(num: number, den: number, unit: LengthUnit): { ticks: number; exact: boolean } {
  // The library computes a unit with a fraction exactly, though its types do not say so.
  const length = unitOf(fraction(num, den) as unknown as MathNumericType, unit);
  const ticks = multiply(length.toNumeric('m') as Fraction, fraction(160_000)) as Fraction;
  const rounded = floor(add(ticks, fraction(1, 2)) as Fraction);
  return { ticks: Number(rounded), exact: equal(ticks, rounded) === true };
}
