import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readLength, TICKS_PER } from '../../../src/quantity/length.ts';
import { costOf, minorDigits, readMoney, showMoney, taxOn } from '../../../src/quantity/money.ts';

describe('decimals of a currency', () => {
  it('are those of ISO 4217', () => {
    for (const code of ['EUR', 'GBP', 'USD', 'CHF', 'SEK', 'HUF', 'IDR', 'COP'])
      expect(minorDigits(code), code).toBe(2);
    for (const code of ['JPY', 'KRW', 'ISK', 'VND', 'XOF', 'CLP']) expect(minorDigits(code), code).toBe(0);
    for (const code of ['KWD', 'BHD', 'JOD', 'TND', 'OMR', 'IQD', 'LYD'])
      expect(minorDigits(code), code).toBe(3);
    expect(minorDigits('CLF')).toBe(4);
  });

  it('differ from those of everyday use only where coins have gone out of use', () => {
    // The runtime follows the Unicode CLDR, which leaves out minor units that are no longer paid in.
    const everyday = (currency: string) =>
      new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ??
      2;
    const codes = Intl.supportedValuesOf('currency');
    expect(codes.length).toBeGreaterThan(150);
    for (const code of codes) if (everyday(code) !== 0) expect(minorDigits(code), code).toBe(everyday(code));
  });

  it('are not told for what is no code', () => {
    for (const code of ['', 'eur', 'EURO', '€']) expect(() => minorDigits(code)).toThrow(RangeError);
  });
});

describe('reading money', () => {
  it.each([
    ['12.50', 'EUR', 1250, '€12.50'],
    ['12,50', 'EUR', 1250, '€12.50'],
    ['12.5', 'EUR', 1250, '€12.50'],
    ['12', 'EUR', 1200, '€12.00'],
    ['.05', 'EUR', 5, '€0.05'],
    ['0', 'EUR', 0, '€0.00'],
    ['1 500.00', 'EUR', 150_000, '€1500.00'],
    ['1\u202F500,00\u00A0€', 'EUR', 150_000, '€1500.00'],
    ['€12.50', 'EUR', 1250, '€12.50'],
    ['EUR 12.50', 'EUR', 1250, '€12.50'],
    ['12.50eur', 'EUR', 1250, '€12.50'],
    ['￡３', 'GBP', 300, '£3.00'],
    ['$5', 'USD', 500, '$5.00'],
    ['$5', 'CAD', 500, 'CAD 5.00'],
    ['¥1500', 'JPY', 1500, '¥1500'],
    ['1.500', 'KWD', 1500, 'KWD 1.500'],
    ['0.0001', 'CLF', 1, 'CLF 0.0001'],
    ['1000000000', 'KWD', 1_000_000_000_000, 'KWD 1000000000.000'],
  ])('takes %s in %s', (typed, currency, minor, echo) => {
    expect(readMoney(typed, currency)).toEqual({ ok: true, value: minor, echo, exact: true });
  });

  it.each([
    ['1,500', 'EUR', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['1,500', 'KWD', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['1,500.00', 'EUR', '1,500.00 has marks between its thousands: write 1500.00.'],
    ["1'500.00", 'CHF', "1'500.00 has marks between its thousands: write 1500.00."],
    [
      '1.500,00',
      'EUR',
      '1.500,00 can be read in more than one way: write it with one dot and no other marks, such as 1500.2.',
    ],
    ['12.505', 'EUR', 'EUR has 2 decimals, and 12.505 has 3: write 12.50.'],
    ['1.500', 'EUR', 'EUR has 2 decimals, and 1.500 has 3: write 12.50.'],
    ['12.5', 'JPY', 'JPY has no decimals, and 12.5 has 1: write 12.'],
    ['£3', 'EUR', '£ is not EUR: write the amount in EUR.'],
    ['3 USD', 'EUR', 'USD is not EUR: write the amount in EUR.'],
    ['-5', 'EUR', 'An amount cannot be negative: write it without the minus.'],
    ['€−5', 'EUR', 'An amount cannot be negative: write it without the minus.'],
    ['-€5', 'EUR', 'An amount cannot be negative: write it without the minus.'],
    ['(5)', 'EUR', 'An amount cannot be negative: write it without the minus.'],
    ['12½', 'EUR', 'Write 12 1/2 with decimals, such as 12.50.'],
    ['€', 'EUR', 'The number is missing: write it as 12.50.'],
    ['constructor', 'EUR', 'constructor cannot be read as a number: write it as 12.50.'],
    ['1e3', 'EUR', '1e3 cannot be read as a number: write it as 12.50.'],
    ['', 'EUR', 'Enter a number.'],
    ['1000000000.01', 'EUR', 'An amount here can be 1000000000 at most.'],
    ['9'.repeat(65), 'EUR', 'This is too long: 64 characters at most.'],
  ])('says why %j in %s cannot be read', (typed, currency, reason) => {
    expect(readMoney(typed, currency)).toEqual({ ok: false, reason });
  });

  it('is the same when what is shown is typed again', () => {
    const currencies = fc.constantFrom('EUR', 'GBP', 'USD', 'JPY', 'KWD', 'CAD', 'CLF');
    fc.assert(
      fc.property(fc.nat(100_000_000), currencies, (minor, currency) => {
        expect(readMoney(showMoney(minor, currency), currency)).toMatchObject({ ok: true, value: minor });
      }),
    );
  });

  it('gives an amount or a reason for any text whatever', () => {
    const scraps = fc.array(fc.constantFrom(...'0123456789 .,-()€£$¥/½eurusd'), { maxLength: 12 });
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 80 }),
      scraps.map((some) => some.join('')),
    );
    fc.assert(
      fc.property(text, fc.constantFrom('EUR', 'USD', 'JPY', 'KWD'), (typed, currency) => {
        const read = readMoney(typed, currency);
        if (read.ok) expect(Number.isSafeInteger(read.value) && read.value >= 0).toBe(true);
        else expect(read.reason).toMatch(/\.$/);
      }),
      { numRuns: 2_000 },
    );
  });
});

describe('showing money', () => {
  it('writes every decimal, and a true minus', () => {
    expect(showMoney(1250, 'EUR')).toBe('€12.50');
    expect(showMoney(-5, 'EUR')).toBe('\u2212€0.05');
    expect(showMoney(-1250, 'CHF')).toBe('\u2212CHF 12.50');
    expect(showMoney(5, 'JPY')).toBe('¥5');
  });

  it('throws on part of a minor unit', () => {
    expect(() => showMoney(12.5, 'EUR')).toThrow(RangeError);
  });
});

describe('the cost of a length', () => {
  const perMetre = { minor: 850, perTicks: TICKS_PER.m };
  const perYard = { minor: 799, perTicks: TICKS_PER.yd };

  it('is the length times the price, rounded once', () => {
    expect(costOf(ticks('12.5 m'), perMetre)).toBe(10_625);
    expect(costOf(ticks('2 3/4 yd'), perYard)).toBe(2_197); // 2.75 × 7.99 = 21.9725
    expect(costOf(ticks('2 3/4 yd'), perMetre)).toBe(2_137); // 2.5146 × 8.50 = 21.3741
    expect(costOf(ticks('1/3 yd'), { minor: 1000, perTicks: TICKS_PER.yd })).toBe(333);
    expect(costOf(0, perMetre)).toBe(0);
  });

  it('takes a half up, and a half of a credit away from nought', () => {
    expect(costOf(ticks('0.5 m'), { minor: 25, perTicks: TICKS_PER.m })).toBe(13);
    expect(costOf(-ticks('0.5 m'), { minor: 25, perTicks: TICKS_PER.m })).toBe(-13);
  });

  it('stays exact where floating point would not', () => {
    // The product passes 2^53 a hundred thousand times over before it is divided.
    expect(costOf(ticks('100000 m'), { minor: 90_071_992_547, perTicks: TICKS_PER.m })).toBe(
      9_007_199_254_700_000,
    );
    expect(() => costOf(ticks('100000 m'), { minor: 90_071_992_548, perTicks: 1 })).toThrow(RangeError);
  });

  it('has no price for no length', () => {
    expect(() => costOf(1, { minor: 1, perTicks: 0 })).toThrow(RangeError);
  });

  it('never falls as the length grows', () => {
    fc.assert(
      fc.property(fc.nat(10 ** 9), fc.nat(10 ** 6), fc.nat(10 ** 6), (length, more, minor) => {
        const price = { minor, perTicks: TICKS_PER.yd };
        expect(costOf(length + more, price)).toBeGreaterThanOrEqual(costOf(length, price));
      }),
    );
  });
});

function ticks(typed: string): number {
  const read = readLength(typed, 'm');
  if (!read.ok) throw new Error(read.reason);
  return read.value;
}

describe('tax', () => {
  it('is so many hundredths of a percent, rounded once', () => {
    // By hand: 19 % of 206.00 are 39.14; 5 % of 1.10 are 0.055, and of 1.09 are 0.0545.
    expect([taxOn(20_600, 1900), taxOn(110, 500), taxOn(109, 500)]).toEqual([3914, 6, 5]);
    expect([taxOn(0, 1900), taxOn(20_600, 0), taxOn(20_600, 10_000)]).toEqual([0, 0, 20_600]);
  });

  it('stays exact where floating point would not', () => {
    // 90 071 992 547 409.91 at 99.99 %: 9 007 199 254 740 991 × 9999 ÷ 10 000 = 9 006 298 534 815 516.9009.
    expect(taxOn(Number.MAX_SAFE_INTEGER, 9999)).toBe(9_006_298_534_815_517);
  });
});
