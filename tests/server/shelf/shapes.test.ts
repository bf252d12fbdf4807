import { describe, expect, it } from 'vitest';
import { address } from '../../../server/kit/address.ts';
import { shadeChip } from '../../../server/kit/chip.ts';
import { sliceOf } from '../../../server/kit/paging.ts';
import { listCodes } from '../../../server/kit/words.ts';
import { fillDown } from '../../../server/shelf/receive/rows.ts';

describe('filling down', () => {
  const first = { cloth_id: '1', shade_id: '2', mill_lot: 'A', length: '5', place_id: '3' };

  it('fills what was left open beside a length from the row above', () => {
    expect(
      fillDown([first, { cloth_id: '', shade_id: '', mill_lot: '', length: '4', place_id: '' }]),
    ).toEqual([first, { ...first, length: '4' }]);
  });

  it('goes over blank rows and leaves rows without a length alone', () => {
    const blank = { cloth_id: '', length: '' };
    const priceOnly = { price: '5', length: '' };
    expect(fillDown([first, blank, undefined, { length: '2' }, priceOnly])).toEqual([
      first,
      blank,
      undefined,
      { ...first, length: '2' },
      priceOnly,
    ]);
  });

  it('leaves the mill lot and place behind where the cloth or shade is another', () => {
    expect(fillDown([first, { length: '4', shade_id: '9' }])).toEqual([
      first,
      { cloth_id: '1', shade_id: '9', length: '4' },
    ]);
  });

  it('takes what is no list as it is', () => {
    expect(fillDown(undefined)).toBeUndefined();
    expect(fillDown('x')).toBe('x');
  });
});

describe('a chip', () => {
  it('has the colour of the screen nearest to the shade, or none', () => {
    // Black is L* 0 in CIELAB by its definition (CIE 15).
    expect(shadeChip({ name: 'Black', lab_l: 0, lab_a: 0, lab_b: 0 }, { lot: 'L1' })).toEqual({
      colour: '#000000',
      name: 'Black',
      lot: 'L1',
    });
    expect(shadeChip({ name: 'Ash', lab_l: null, lab_a: null, lab_b: null }).colour).toBeNull();
  });
});

describe('a list of codes', () => {
  it('is spoken as a list, and by its ends where it is long', () => {
    expect(listCodes(['B1'])).toBe('B1');
    expect(listCodes(['B1', 'B2'])).toBe('B1 and B2');
    expect(listCodes(['B1', 'B2', 'B3'])).toBe('B1, B2 and B3');
    expect(listCodes(Array.from({ length: 12 }, (_, n) => `B${n + 1}`))).toBe('B1 to B12');
  });
});

describe('a slice of a list', () => {
  const list = (total: number) => ({ total, noun: 'pieces', path: '/shelf', kept: { lot: 'a b' } });

  it('keeps the filters in its addresses', () => {
    expect(sliceOf({ page: '2' }, list(101)).pager).toEqual({
      from: 21,
      to: 40,
      total: 101,
      noun: 'pieces',
      previous: '/shelf?lot=a+b',
      next: '/shelf?lot=a+b&page=3',
    });
  });

  it('is empty for nothing', () => {
    expect(sliceOf({}, list(0))).toMatchObject({
      offset: 0,
      pager: { from: 0, to: 0, next: null, previous: null },
    });
  });

  it('reads no page that is not a number', () => {
    for (const page of ['-1', '1e3', '', ' 2x', '99999999999999999999']) {
      expect(sliceOf({ page }, list(101)).offset).toBe(0);
    }
  });
});

describe('an address', () => {
  it('leaves out what is blank', () => {
    expect(address('/shelf', { cloth: '', lot: 'A&B', page: null, free: 0 })).toBe('/shelf?lot=A%26B&free=0');
    expect(address('/shelf', {})).toBe('/shelf');
  });
});
