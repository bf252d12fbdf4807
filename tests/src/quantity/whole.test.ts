import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readFullness, showFullness } from '../../../src/quantity/fullness.ts';
import { readPercent, readShare, readWhole, showPercent, writePercent } from '../../../src/quantity/whole.ts';

describe('reading a count', () => {
  it.each([
    ['12', 12],
    ['１２', 12],
    [' 0 ', 0],
    ['007', 7],
    ['1 500', 1500],
    ['1\u202F500', 1500],
  ])('takes %j', (typed, value) => {
    expect(readWhole(typed)).toEqual({ ok: true, value, echo: String(value), exact: true });
  });

  it.each([
    ['1,500', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['1,500,000', '1,500,000 has marks between its thousands: write 1500000.'],
    ['12.0', '12.0 is not a whole number: write it without a part, such as 12.'],
    ['1.000', '1.000 is not a whole number: write it without a part, such as 12.'],
    ['4/2', '4/2 is not a whole number: write it without a part, such as 12.'],
    ['-1', '-1 is negative: write it without the minus.'],
    ['12 pcs', '12 pcs cannot be read as a number: write it as 12.'],
    ['1e3', '1e3 cannot be read as a number: write it as 12.'],
    ['0x10', '0x10 cannot be read as a number: write it as 12.'],
    ['', 'Enter a number.'],
    ['1000000001', 'Write 1000000000 or less.'],
    ['9'.repeat(64), 'Write 1000000000 or less.'],
  ])('says why %j cannot be read', (typed, reason) => {
    expect(readWhole(typed)).toEqual({ ok: false, reason });
  });

  it('keeps to the bounds of its field', () => {
    expect(readWhole('0', { min: 1 })).toEqual({ ok: false, reason: 'Write 1 or more.' });
    expect(readWhole('1', { min: 1, max: 3 })).toMatchObject({ value: 1 });
    expect(readWhole('3', { min: 1, max: 3 })).toMatchObject({ value: 3 });
    expect(readWhole('4', { min: 1, max: 3 })).toEqual({ ok: false, reason: 'Write 3 or less.' });
  });
});

describe('reading a percentage', () => {
  it.each([
    ['65', 6500, '65 %', true],
    ['65%', 6500, '65 %', true],
    ['65 per cent', 6500, '65 %', true],
    ['0,25 %', 25, '0.25 %', true],
    ['½ %', 50, '½ % = 0.5 %', true],
    ['33.333', 3333, '33.333 % ≈ 33.33 %', false],
    ['⅓', 33, '⅓ % ≈ 0.33 %', false],
    ['0.005', 1, '0.005 % ≈ 0.01 %', false],
    ['150', 15_000, '150 %', true],
    ['1000', 100_000, '1000 %', true],
  ])('takes %s', (typed, value, echo, exact) => {
    expect(readPercent(typed)).toEqual({ ok: true, value, echo, exact });
  });

  it('stops at its bound, before rounding', () => {
    expect(readPercent('1000.001')).toEqual({ ok: false, reason: 'Write 1000 % or less.' });
    expect(readPercent('20.001', { maxBp: 2000 })).toEqual({ ok: false, reason: 'Write 20 % or less.' });
    expect(readPercent('20', { maxBp: 2000 })).toMatchObject({ value: 2000 });
  });

  it('takes a share of a whole up to all of it', () => {
    expect(readShare('100 %')).toMatchObject({ value: 10_000 });
    expect(readShare('101')).toEqual({ ok: false, reason: 'Write 100 % or less.' });
    expect(readShare('100.001')).toEqual({ ok: false, reason: 'Write 100 % or less.' });
    expect(readShare('-1')).toEqual({ ok: false, reason: '-1 is negative: write it without the minus.' });
  });

  it('is the same when what is shown is typed again', () => {
    fc.assert(
      fc.property(fc.nat(100_000), (shareBp) => {
        expect(readPercent(showPercent(shareBp))).toMatchObject({ value: shareBp, exact: true });
        expect(readPercent(writePercent(shareBp))).toMatchObject({ value: shareBp, exact: true });
      }),
    );
  });
});

describe('reading a fullness', () => {
  it.each([
    ['2.5', 2500, '2.5×', true],
    ['2,5', 2500, '2.5×', true],
    ['2½', 2500, '2½× = 2.5×', true],
    ['2 1/2 x', 2500, '2½× = 2.5×', true],
    ['2.5×', 2500, '2.5×', true],
    ['2.5 : 1', 2500, '2.5×', true],
    ['2 to 1', 2000, '2×', true],
    ['3 times', 3000, '3×', true],
    ['2⅓', 2333, '2⅓×', true],
    ['1', 1000, '1×', true],
    ['20', 20_000, '20×', true],
  ])('takes %s', (typed, value, echo, exact) => {
    expect(readFullness(typed)).toEqual({ ok: true, value, echo, exact });
  });

  it.each([
    ['0.9', 'A fullness is 1 or more: 1 is flat, 2 is twice the finished length.'],
    ['20.1', 'Write a fullness of 20 or less.'],
    ['150 %', 'Write a fullness as times the finished length, such as 2.5.'],
    ['1:2', '1:2 cannot be read as a number: write it as 2 1/2 or as 2.5.'],
    ['x', 'The number is missing: write it as 2 1/2 or as 2.5.'],
    ['', 'Enter a number.'],
  ])('says why %j cannot be read', (typed, reason) => {
    expect(readFullness(typed)).toEqual({ ok: false, reason });
  });

  it('is the same when what is shown is typed again', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1000, max: 20_000 }), (fullnessMilli) => {
        expect(readFullness(showFullness(fullnessMilli))).toMatchObject({
          value: fullnessMilli,
          exact: true,
        });
      }),
    );
  });
});

describe('reading any text whatever', () => {
  it('gives a number or a reason', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 80 }), (typed) => {
        for (const read of [readWhole(typed), readPercent(typed), readFullness(typed)]) {
          if (read.ok) expect(Number.isSafeInteger(read.value)).toBe(true);
          else expect(read.reason).toMatch(/\.$/);
        }
      }),
    );
  });
});
