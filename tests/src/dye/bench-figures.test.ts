import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readLiquorRatio, readOwf, showLiquorRatio, showOwf } from '../../../src/dye/bench-figures.ts';

describe('reading an amount on weight of fabric', () => {
  it.each([
    ['2', 2_000, '2 % owf', true],
    ['2 %', 2_000, '2 % owf', true],
    ['0,125% owf', 125, '0.125 % owf', true],
    ['½ % o.w.f.', 500, '½ % owf = 0.5 % owf', true],
    ['1 owf', 1_000, '1 % owf', true],
    ['⅓', 333, '⅓ % owf ≈ 0.333 % owf', false],
    ['150', 150_000, '150 % owf', true],
    ['1000', 1_000_000, '1000 % owf', true],
    // A direct-dye maker's leaflet gives salt as 4 oz to the pound; 16 oz are a pound, so that is a quarter.
    ['4 oz/lb', 25_000, '4 oz/lb = 25 % owf', true],
    ['½ oz to 1 lb of cloth', 3_125, '½ oz/lb = 3.125 % owf', true],
    ['1/3 oz per lb', 2_083, '⅓ oz/lb ≈ 2.083 % owf', false],
    ['5 g/kg', 500, '5 g/kg = 0.5 % owf', true],
  ])('takes %s', (typed, owfMilli, echo, exact) => {
    expect(readOwf(typed)).toEqual({ ok: true, value: owfMilli, echo, exact });
  });

  it.each([
    ['1000.1', 'Write 1000 % owf or less.'],
    ['161 oz/lb', 'Write 1000 % owf or less.'],
    ['-1 %', '-1 is negative: write it without the minus.'],
    ['2 g', '2 g cannot be read as a number: write it as 1/2 or as 0.5.'],
    ['%', 'The number is missing: write it as 1/2 or as 0.5.'],
    ['1,500', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
  ])('says why %j cannot be read', (typed, reason) => {
    expect(readOwf(typed)).toEqual({ ok: false, reason });
  });
});

describe('reading a liquor ratio', () => {
  it.each(['20', '20:1', '20 : 1', '1:20', '1 : 20', '１：２０', '20 to 1', '20 L/kg', '20.0'])(
    'takes %s',
    (typed) => {
      expect(readLiquorRatio(typed)).toEqual({ ok: true, value: 20_000, echo: '1:20', exact: true });
    },
  );

  it('takes parts, and as much bath as cloth', () => {
    expect(readLiquorRatio('1:12.5')).toMatchObject({ value: 12_500, echo: '1:12.5' });
    expect(readLiquorRatio('7½')).toMatchObject({ value: 7_500, echo: '1:7½ = 1:7.5' });
    for (const typed of ['1', '1:1', '1 : 1']) expect(readLiquorRatio(typed)).toMatchObject({ value: 1_000 });
    expect(readLiquorRatio('1:200')).toMatchObject({ value: 200_000 });
  });

  it.each([
    ['0.5', 'A liquor ratio is 1 or more: litres of bath to each kilogram of cloth.'],
    ['1:0', 'A liquor ratio is 1 or more: litres of bath to each kilogram of cloth.'],
    ['201', 'Write 1:200 or less.'],
    ['2:20', '2:20 cannot be read as a number: write it as 20 or as 1:20.'],
    ['1:20:1', '20:1 cannot be read as a number: write it as 20 or as 1:20.'],
    ['', 'Enter a number.'],
  ])('says why %j cannot be read', (typed, reason) => {
    expect(readLiquorRatio(typed)).toEqual({ ok: false, reason });
  });
});

describe('figures of every kind', () => {
  it('are the same when what is shown is typed again', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1_000, max: 200_000 }), (thousandths) => {
        expect(readOwf(showOwf(thousandths))).toMatchObject({ value: thousandths, exact: true });
        expect(readLiquorRatio(showLiquorRatio(thousandths))).toMatchObject({
          value: thousandths,
          exact: true,
        });
      }),
    );
  });

  it('come of any text whatever, or a reason does', () => {
    const scraps = fc.array(fc.constantFrom(...'0123456789 .,:/-%owflkgto½1'), { maxLength: 12 });
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 80 }),
      scraps.map((some) => some.join('')),
    );
    fc.assert(
      fc.property(text, (typed) => {
        for (const read of [readOwf(typed), readLiquorRatio(typed)]) {
          if (read.ok) expect(Number.isSafeInteger(read.value) && read.value >= 0).toBe(true);
          else expect(read.reason).toMatch(/\.$/);
        }
      }),
      { numRuns: 1_000 },
    );
  });
});
