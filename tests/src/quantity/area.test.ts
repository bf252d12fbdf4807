import { describe, expect, it } from 'vitest';
import { readStockStrength } from '../../../src/dye/bench-figures.ts';
import { readArea, toSquareMetres } from '../../../src/quantity/area.ts';
import { readPower, showPower } from '../../../src/quantity/power.ts';

const M2 = 160_000 * 160_000;

describe('reading an area', () => {
  it.each([
    ['4.5 m²', 4.5 * M2],
    ['4,5 m2', 4.5 * M2],
    ['3 m × 1.5 m', 4.5 * M2],
    ['3 x 150cm', 0.045 * M2],
    // A yard is 0.9144 m exactly: 146 304 ticks.
    ['2 sq yd', 2 * 146_304 ** 2],
    ['9 ft²', 146_304 ** 2],
  ])('takes %s', (typed, ticks2) => {
    const read = readArea(typed);
    expect(read.ok && read.value).toBe(ticks2);
  });

  it.each(['4.5', '0 m²', '20000 m²', '3 × 1.5', 'm²', '2 acres', ''])('refuses %j', (typed) => {
    expect(readArea(typed).ok).toBe(false);
  });
});

describe('reading power and strength', () => {
  it('wants the unit of a power', () => {
    expect(readPower('2.4 kW')).toMatchObject({ ok: true, value: 2400 });
    expect(readPower('1500W')).toMatchObject({ ok: true, value: 1500 });
    expect([readPower('2000').ok, readPower('0 W').ok, readPower('2 MW').ok]).toEqual([false, false, false]);
    expect([showPower(1500), showPower(2400)]).toEqual(['1500 W', '2.4 kW']);
  });

  it('reads grams in 100 mL', () => {
    expect(readStockStrength('0.5 %')).toMatchObject({ ok: true, value: 500 });
    expect(readStockStrength('20 g/100 mL')).toMatchObject({ ok: true, value: 20_000 });
    expect([readStockStrength('0').ok, readStockStrength('101').ok]).toEqual([false, false]);
  });
});

describe('an area for scripts', () => {
  it('is in square metres, to the nearest square millimetre', () => {
    expect(toSquareMetres(4.5 * M2)).toBe(4.5);
    expect(toSquareMetres(160 * 160 * 0.4)).toBe(0);
    expect(toSquareMetres(160 * 160 * 0.6)).toBe(0.000_001);
  });
});
