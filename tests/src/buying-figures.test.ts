import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ByLength, costOfCut, lengthSold } from '../../src/buying/offer.ts';
import { shortMeasure } from '../../src/buying/short-measure.ts';
import { massPerAreaOf, readSwatchArea } from '../../src/buying/swatch.ts';
import { TICKS_PER } from '../../src/quantity/length.ts';
import { minorDigits } from '../../src/quantity/money.ts';
import { atRate, readExchangeRate } from '../../src/quantity/rate.ts';

const m = (metres: number) => Math.round(metres * TICKS_PER.m);

describe('another currency', () => {
  // ISO 4217: the yen has no minor unit, the euro hundredths, the Kuwaiti dinar thousandths.
  it('has the minor units of ISO 4217', () => {
    expect(['JPY', 'EUR', 'KWD'].map(minorDigits)).toEqual([0, 2, 3]);
    expect(atRate(1500, { from: 'JPY', to: 'EUR', rateMillionths: 6_123 })).toBe(918);
    expect(atRate(1000, { from: 'EUR', to: 'JPY', rateMillionths: 163_300_000 })).toBe(1633);
    expect(atRate(12_345, { from: 'KWD', to: 'EUR', rateMillionths: 3_000_000 })).toBe(3704);
    expect(atRate(3704, { from: 'EUR', to: 'KWD', rateMillionths: 333_333 })).toBe(12_347);
  });

  it('is itself at a rate of one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e9 }), fc.constantFrom('EUR', 'JPY', 'KWD'), (minor, code) => {
        expect(atRate(minor, { from: code, to: code, rateMillionths: 1_000_000 })).toBe(minor);
      }),
    );
  });

  it.each(['0', '1/2', '1.1234567', '1,500', 'dear', '2000000'])('refuses the rate %s', (typed) => {
    expect(readExchangeRate(typed)).toMatchObject({ ok: false });
  });

  it('reads a rate to the millionth', () => {
    expect(readExchangeRate('0.006123')).toMatchObject({ ok: true, value: 6123, echo: '0.006123' });
    expect(readExchangeRate('1,15')).toMatchObject({ ok: true, value: 1_150_000 });
  });
});

describe('cloth off the bolt', () => {
  const byLength: ByLength = {
    stepTicks: TICKS_PER.yd / 8,
    leastTicks: TICKS_PER.yd / 2,
    prices: [
      { fromTicks: 0, price: { minor: 800, perTicks: TICKS_PER.yd } },
      { fromTicks: 10 * TICKS_PER.yd, price: { minor: 700, perTicks: TICKS_PER.yd } },
    ],
  };

  it('is cut in whole steps and no less than the least', () => {
    expect(lengthSold(1, byLength)).toBe(TICKS_PER.yd / 2);
    expect(lengthSold(TICKS_PER.yd, byLength)).toBe(TICKS_PER.yd);
    expect(lengthSold(TICKS_PER.yd + 1, byLength)).toBe((TICKS_PER.yd * 9) / 8);
  });

  it('is all charged at the last break reached', () => {
    expect(costOfCut(10 * TICKS_PER.yd, byLength)).toBe(7000);
    expect(costOfCut((79 * TICKS_PER.yd) / 8, byLength)).toBe(7900);
    expect(costOfCut(0, byLength)).toBe(0);
  });
});

describe('short measure', () => {
  it('is a claim only beyond the tolerance: 2.5 % of 40 m is 1 m', () => {
    const of = (measured: number) => shortMeasure({ orderedTicks: m(40), measuredTicks: m(measured) }, 250);
    expect(of(39)).toEqual({ shortTicks: m(1), shortBp: 250, beyond: false });
    expect(of(38.99)).toMatchObject({ beyond: true, shortBp: 253 });
    expect(of(41)).toEqual({ shortTicks: 0, shortBp: 0, beyond: false });
  });
});

describe('a weighed swatch', () => {
  it('of 100 cm² and 0.30 g is 30 g/m² (ASTM D3776, option C)', () => {
    expect(massPerAreaOf({ areaMm2: 10_000, massMg: 300 })).toBe(30_000);
    // US Customs found 8.5 g/m² on a nylon tulle: 0.17 g on 200 cm².
    expect(massPerAreaOf({ areaMm2: 20_000, massMg: 170 })).toBe(8500);
  });

  it('is read in cm² or square inches, and has 100 cm² at least', () => {
    expect(readSwatchArea('100', 'cm²')).toMatchObject({ ok: true, value: 10_000 });
    expect(readSwatchArea('16 sq in', 'cm²')).toMatchObject({ ok: true, value: 10_323 });
    expect(readSwatchArea('10 × 10', 'cm²')).toMatchObject({ ok: false });
    expect(readSwatchArea('99.9', 'cm²')).toMatchObject({ ok: false });
    expect(readSwatchArea('15', 'in²')).toMatchObject({ ok: false });
  });
});
