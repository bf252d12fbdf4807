import { describe, expect, it } from 'vitest';
import {
  readFine,
  readRatios,
  readSewingRate,
  readStitches,
  showFine,
  showRatios,
} from '../../../src/garment/stitch-figures.ts';
import type { Reading } from '../../../src/quantity/reading.ts';
import { m, yd } from '../../lengths.ts';

const value = <T>(reading: Reading<T>) => (reading.ok ? reading.value : reading.reason);

describe('readFine', () => {
  it('reads micrometres exactly in both systems', () => {
    expect(value(readFine('0.25', 'mm'))).toBe(250);
    expect(value(readFine('0.005', 'in'))).toBe(127);
    expect(value(readFine('.01 in', 'mm'))).toBe(254);
    expect(value(readFine('4 mm', 'in'))).toBe(4000);
    expect(showFine(127)).toBe('0.127 mm');
  });

  it('refuses nothing, less than nothing, and too much', () => {
    expect(value(readFine('0', 'mm'))).toMatch(/more than 0/);
    expect(value(readFine('-1', 'mm'))).toMatch(/without the minus/);
    expect(value(readFine('51 mm', 'mm'))).toMatch(/50 mm or less/);
    expect(readFine('thin', 'mm').ok).toBe(false);
  });
});

describe('readStitches', () => {
  it('reads stitches to the inch and to the centimetre alike', () => {
    expect(value(readStitches('10', 'in'))).toBe(10_000);
    expect(value(readStitches('4/cm', 'in'))).toBe(10_160);
    expect(value(readStitches('4 per cm', 'in'))).toBe(10_160);
    expect(value(readStitches('10 spi', 'cm'))).toBe(10_000);
  });

  it('refuses none and more than a machine makes', () => {
    expect(value(readStitches('0', 'in'))).toMatch(/more than 0/);
    expect(value(readStitches('101', 'in'))).toMatch(/100 stitches/);
  });
});

describe('readRatios', () => {
  it('reads one figure, or one for each thread', () => {
    expect(value(readRatios('5.4'))).toEqual([5400]);
    expect(value(readRatios('1,3 + 4,1'))).toEqual([1300, 4100]);
    expect(showRatios([1300, 4100])).toBe('1.3 + 4.1');
  });

  it('refuses four threads, none, and figures that are none', () => {
    expect(value(readRatios('1+1+1+1'))).toMatch(/three threads/);
    expect(value(readRatios('0'))).toMatch(/more than 0/);
    expect(readRatios('1 + ').ok).toBe(false);
    expect(value(readRatios('101'))).toMatch(/100 or less/);
  });
});

describe('readRate', () => {
  it('reads a length a minute', () => {
    expect(value(readSewingRate('1.5', 'm'))).toBe(m('1.5'));
    expect(value(readSewingRate('2 yd/min', 'm'))).toBe(yd(2));
    expect(value(readSewingRate('90 cm a minute', 'yd'))).toBe(m('0.9'));
  });

  it('refuses standing still and what nobody can', () => {
    expect(value(readSewingRate('0', 'm'))).toMatch(/more than 0/);
    expect(value(readSewingRate('101 m', 'm'))).toMatch(/100 m in a minute/);
    expect(readSewingRate('fast', 'm').ok).toBe(false);
  });
});
