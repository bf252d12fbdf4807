import { describe, expect, it, vi } from 'vitest';
import { type LengthUnit, readLength, TICKS_PER } from '../../../src/quantity/length.ts';

describe('ticks', () => {
  // NIST SP 811 (2008), appendix B.8; the agreement of 1 July 1959 makes the yard 0.9144 m exactly.
  it.each([
    ['yd', 0.9144],
    ['ft', 0.3048],
    ['in', 0.0254],
    ['m', 1],
    ['cm', 0.01],
    ['mm', 0.001],
  ] as const)('hold a whole number in 1 %s, which is %d m', (unit, metres) => {
    expect(TICKS_PER[unit]).toBe(Math.round(metres * 160_000));
    expect(TICKS_PER[unit] / 160_000).toBe(metres);
  });

  it('hold every graduation of a yardstick whole', () => {
    // NIST Handbook 44 (2007) §5.52: inches in binary submultiples, yards in thirds.
    for (const part of [2, 4, 8, 16, 32]) expect(TICKS_PER.in % part).toBe(0);
    expect(TICKS_PER.yd % 3).toBe(0);
  });
});

describe('reading a length', () => {
  it.each([
    ['2 3/4 yd', 402_336, '2¾ yd = 2.5146 m'],
    ['2¾yd', 402_336, '2¾ yd = 2.5146 m'],
    ['2¾ yds', 402_336, '2¾ yd = 2.5146 m'],
    ['2-3/4 yards', 402_336, '2¾ yd = 2.5146 m'],
    ['2.75 yd.', 402_336, '2.75 yd = 2.5146 m'],
    ['9 1/2 in', 38_608, '9½ in = 24.13 cm'],
    ['9½"', 38_608, '9½ in = 24.13 cm'],
    ['9½”', 38_608, '9½ in = 24.13 cm'],
    ['9½″', 38_608, '9½ in = 24.13 cm'],
    ["9½''", 38_608, '9½ in = 24.13 cm'],
    ['9.5 inches', 38_608, '9.5 in = 24.13 cm'],
    ['2 yd 18 in', 365_760, '2 yd 18 in = 2.286 m'],
    ["6'", 292_608, '6 ft = 1.8288 m'],
    ['5\' 6"', 268_224, '5 ft 6 in = 1.6764 m'],
    ['5′6″', 268_224, '5 ft 6 in = 1.6764 m'],
    ['5\'-6"', 268_224, '5 ft 6 in = 1.6764 m'],
    ['5 ft. 6 in.', 268_224, '5 ft 6 in = 1.6764 m'],
    ['1 yard 1 foot 1 inch', 199_136, '1 yd 1 ft 1 in = 1.2446 m'],
    ['2yd.5in', 294_640, '2 yd 0.5 in = 1.8415 m'],
    ['1.5 m', 240_000, '1.5 m'],
    ['100 cm', 160_000, '100 cm = 1 m'],
    ['99 cm', 158_400, '99 cm'],
    ['1,5 m', 240_000, '1.5 m'],
    ['1.500 m', 240_000, '1.5 m'],
    ['1½ metres', 240_000, '1½ m'],
    ['150cm', 240_000, '150 cm = 1.5 m'],
    ['1 m 20 cm', 192_000, '1 m 20 cm = 1.2 m'],
    ['1 m 20 cm 5 mm', 192_800, '1 m 20 cm 5 mm = 1.205 m'],
    ['1 500 mm', 240_000, '1500 mm = 1.5 m'],
    ['0,125 m', 20_000, '0.125 m'],
    ['.5 M', 80_000, '0.5 m'],
    ['0 m', 0, '0 m'],
    ['100 000 m', 16_000_000_000, '100000 m'],
    ["1' 6", 73_152, '1 ft 6 in = 45.72 cm'],
    ["6'2", 300_736, '6 ft 2 in = 1.8796 m'],
    ["6'2½", 302_768, '6 ft 2½ in = 1.8923 m'],
    ['1 m 20', 192_000, '1 m 20 cm = 1.2 m'],
    ['1 m 05', 168_000, '1 m 5 cm = 1.05 m'],
    ['1 m 20.5', 192_800, '1 m 20.5 cm = 1.205 m'],
    ['2yd18', 365_760, '2 yd 18 in = 2.286 m'],
    ['1 yd 2 ft 6', 268_224, '1 yd 2 ft 6 in = 1.6764 m'],
    ['3 ft, 2 in', 154_432, '3 ft 2 in = 96.52 cm'],
    ['3 ft., 2 in.', 154_432, '3 ft 2 in = 96.52 cm'],
    ['3 feet and 2 inches', 154_432, '3 ft 2 in = 96.52 cm'],
    ['3 yards, 1 foot, and 2 inches', 495_808, '3 yd 1 ft 2 in = 3.0988 m'],
    ['2 and 3/4 yards', 402_336, '2¾ yd = 2.5146 m'],
    ['¾ of a yard', 109_728, '¾ yd = 68.58 cm'],
    ['1/2 of an inch', 2_032, '½ in = 1.27 cm'],
    ['5.', 800, '5 mm = 0.5 cm'],
    ['5. m', 800_000, '5 m'],
    ['+3', 480, '3 mm = 0.3 cm'],
    ['+3 m', 480_000, '3 m'],
    ['1 dm', 16_000, '1 dm = 10 cm'],
    ['2 m 5 dm', 400_000, '2 m 5 dm = 2.5 m'],
    ['1.500 in', 6_096, '1.5 in = 3.81 cm'],
    ['58.125 cm', 93_000, '58.125 cm'],
    ['58.125 mm', 9_300, '58.125 mm ≈ 5.81 cm'],
    ['1.5000 cm', 2_400, '1.5 cm'],
    ['0.500 mm', 80, '0.5 mm = 0.05 cm'],
    ['9/4 yd', 329_184, '2¼ yd = 2.0574 m'],
    ['100/3 yd', 4_876_800, '33⅓ yd = 30.48 m'],
    ['16/4 in', 16_256, '4 in = 10.16 cm'],
  ])('takes %s', (typed, ticks, echo) => {
    expect(readLength(typed, 'mm')).toEqual({ ok: true, value: ticks, echo, exact: true });
  });

  it.each(['mm', 'cm', 'm', 'in', 'ft', 'yd'] as const)(
    'gives a number alone the unit %s of its field',
    (unit) => {
      expect(ticksOf('2-3/4', unit)).toBe((TICKS_PER[unit] * 11) / 4);
      expect(ticksOf('12', unit)).toBe(TICKS_PER[unit] * 12);
    },
  );

  it('takes thirds of a yard without rounding', () => {
    expect(readLength('1⅔ yd', 'm')).toEqual({
      ok: true,
      value: 243_840,
      echo: '1⅔ yd = 1.524 m',
      exact: true,
    });
    expect(readLength('1/3 yd', 'm')).toMatchObject({ value: TICKS_PER.ft, exact: true });
  });

  it('takes every vulgar fraction of Unicode, whatever stands before it', () => {
    // The Unicode Standard, Latin-1 Supplement U+00BC–00BE and Number Forms U+2150–215E, U+2189.
    const vulgar = {
      ...{ '¼': [1, 4], '½': [1, 2], '¾': [3, 4], '⅐': [1, 7], '⅑': [1, 9], '⅒': [1, 10], '⅓': [1, 3] },
      ...{ '⅔': [2, 3], '⅕': [1, 5], '⅖': [2, 5], '⅗': [3, 5], '⅘': [4, 5], '⅙': [1, 6], '⅚': [5, 6] },
      ...{ '⅛': [1, 8], '⅜': [3, 8], '⅝': [5, 8], '⅞': [7, 8], '↉': [0, 3] },
    };
    for (const [sign, [num = 0, den = 1]] of Object.entries(vulgar)) {
      expect(ticksOf(`${sign} yd`), sign).toBe(Math.round((num * TICKS_PER.yd) / den));
      for (const typed of [`12${sign}yd`, `12 ${sign} yd`, `12-${sign} yd`, `１２${sign}yd`]) {
        expect(ticksOf(typed), typed).toBe(Math.round(((12 * den + num) * TICKS_PER.yd) / den));
      }
    }
  });

  it.each([
    '2 3⁄4 yd',
    '2³⁄₄ yd',
    '2 ³∕₄ yd',
    '2\u00A03/4\u00A0yd',
    '2\u20093\u2044\u20094 yd',
    '2\u202F¾\u2009yd',
  ])('reads %s as two and three quarters, not as 23 quarters', (typed) =>
    expect(ticksOf(typed)).toBe(402_336),
  );

  it('takes full-width signs, soft hyphens and marks of direction', () => {
    expect(ticksOf('２．５　ｍ')).toBe(400_000);
    expect(ticksOf('２\u00AD．５\u200Fｍ')).toBe(400_000);
    expect(ticksOf('150\u339D')).toBe(240_000);
  });

  it('says when it had to round to a tick', () => {
    expect(readLength('1/3 in', 'm')).toEqual({
      ok: true,
      value: 1355,
      echo: '⅓ in ≈ 0.85 cm',
      exact: false,
    });
    expect(readLength('1.00000001 m', 'm')).toMatchObject({ echo: '1.00000001 m ≈ 1 m', exact: false });
    expect(readLength('0.333333 m', 'm')).toMatchObject({ value: 53_333, exact: false });
    // Half a tick is 1/320 mm, and goes up; the sum is rounded, not each part.
    expect(readLength('1/320 mm', 'm')).toMatchObject({ value: 1, exact: false });
    expect(readLength('1/320 cm 1/320 mm', 'm')).toMatchObject({ value: 6, exact: false });
  });
});

describe('refusing a length', () => {
  it.each([
    ['1,500', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['1,500 m', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['12,050', '12,050 can mean 12.05 or 12050: write 12.05 or 12050.'],
    ['1,000', '1,000 can mean 1.0 or 1000: write 1.0 or 1000.'],
    ['1,500.25', '1,500.25 has marks between its thousands: write 1500.25.'],
    ['1,500,000', '1,500,000 has marks between its thousands: write 1500000.'],
    ['1.500,2', /more than one way/],
    ['1.500.000', /more than one way/],
    ['2.3/4', '2.3/4 mixes a decimal and a fraction: write it as 2 3/4 or as 2.75.'],
    ['2.5 ¾ yd', /mixes a decimal and a fraction/],
    ['2 5/4 yd', '5/4 is not less than one: after 2, write a fraction such as 3/4.'],
    ['2 4/4 yd', /4\/4 is not less than one/],
    ['1/0', '1/0 divides by nought: the lower number must be 1 or more.'],
    ['2 1/0 yd', /divides by nought/],
    ['-1 m', 'A length cannot be negative: write it without the minus.'],
    ['−1 m', /cannot be negative/],
    ['2 yd -3 in', /-3 is negative/],
    ['', 'Enter a number.'],
    [' \u00A0\u200B', 'Enter a number.'],
    ['yd', 'yd has no number before it: write the number first.'],
    ['5 m cm', 'cm has no number before it: write the number first.'],
    ['5 km', 'km is not a unit used here: write m, yd, ft, dm, in, cm or mm.'],
    ['1e3', /e is not a unit/],
    ['0x10', /x is not a unit/],
    ['5 constructor', /constructor is not a unit/],
    ['1 cm 20', '20 has no unit: write it after the number, as in 2 yd 18 in or 1 m 20 cm.'],
    ['6 in 2', /2 has no unit/],
    [
      '1 m 5',
      '1 m 5 can be read in more than one way: write the unit of 5 too, as in 2 yd 18 in or 1 m 20 cm.',
    ],
    ['1 m 100', /write the unit of 100 too/],
    ['2 yd 2', /write the unit of 2 too/],
    ['2 yd 36', /write the unit of 36 too/],
    ["6' 12", /write the unit of 12 too/],
    ["6' 1/2", /write the unit of 1\/2 too/],
    ['1 m 1/2', /write the unit of 1\/2 too/],
    ['1.500 cm', '1.500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['12.500 mm', '12.500 can mean 12.5 or 12500: write 12.5 or 12500.'],
    ['4.125 cm', '4.125 can mean 4.1250 or 4125: write 4.1250 or 4125.'],
    ['4,125 cm', '4,125 can mean 4.1250 or 4125: write 4.1250 or 4125.'],
    ['58,125 cm', '58,125 can mean 58.125 or 58125: write 58.125 or 58125.'],
    ['23/4 yd', '23/4 can mean 2 3/4 or 5 3/4 (23 divided by 4): write 2 3/4 or 5 3/4.'],
    ['11/2', '11/2 can mean 1 1/2 or 5 1/2 (11 divided by 2): write 1 1/2 or 5 1/2.'],
    ['31/16 in', /can mean 3 1\/16 or 1 15\/16/],
    ['5²', '5² has a raised, lowered or ringed figure: write plain figures, and a part of one as 1/2.'],
    ['5² cm', /has a raised, lowered or ringed figure/],
    ['5₂ m', /has a raised, lowered or ringed figure/],
    ['5① m', /has a raised, lowered or ringed figure/],
    ['② m', /has a raised, lowered or ringed figure/],
    ['5 cm²', 'cm² is not a unit used here: write m, yd, ft, dm, in, cm or mm.'],
    ['1 m²', /m² is not a unit/],
    ['١٢ cm', '١٢ is not written in the figures 0 to 9: write 12.'],
    ['५.५ m', '५.५ is not written in the figures 0 to 9: write 5.5.'],
    ['๑ ๑/๒ yd', '๑ ๑/๒ is not written in the figures 0 to 9: write 1 1/2.'],
    ['+-3', /has no number before it/],
    ['++3', /has no number before it/],
    ['18 in 2 yd', 'Write the larger unit first and each unit once, as in 2 yd 18 in or 1 m 20 cm.'],
    ['2 yd 3 yd', /each unit once/],
    ['1 m 6 in', '1 m 6 in mixes metric and imperial units: write it in one of them.'],
    ['1 yd 2 m', /mixes metric and imperial/],
    ['5, m', /stops at its decimal point/],
    ['1 2 m', /cannot be read as a number/],
    ['2 - 3/4', /cannot be read as a number/],
    ['NaN', /has no number before it/],
    ['\uD800', /has no number before it/],
    ['5 m\u0000', /is not a unit/],
    ['100000.001 m', 'A length here can be 100 km at most.'],
    ['9'.repeat(64), 'A length here can be 100 km at most.'],
  ])('says why %j cannot be read', (typed, reason) => {
    expect(readLength(typed, 'm')).toEqual({
      ok: false,
      reason: typeof reason === 'string' ? reason : expect.stringMatching(reason),
    });
  });

  it('looks no further than the length of what is too long', () => {
    const normalize = vi.spyOn(String.prototype, 'normalize');
    for (const typed of ['9'.repeat(65), '1 '.repeat(5_000), '1/'.repeat(5_000), '¾'.repeat(10_000)]) {
      expect(readLength(typed, 'm')).toEqual({
        ok: false,
        reason: 'This is too long: 64 characters at most.',
      });
    }
    expect(normalize).not.toHaveBeenCalled();
    normalize.mockRestore();
  });
});

function ticksOf(typed: string, unit: LengthUnit = 'm'): number {
  const read = readLength(typed, unit);
  if (!read.ok) throw new Error(read.reason);
  return read.value;
}
