import { describe, expect, it } from 'vitest';
import { checkSheet, type LabelSheet, placeLabels } from '../../../src/labels/label-sheet.ts';
import { inch, mm } from '../../lengths.ts';

const TWELVE: LabelSheet = {
  paper: 'A4',
  columns: 2,
  rows: 6,
  widthTicks: mm(95),
  heightTicks: mm(45),
  leftTicks: mm(10),
  topTicks: mm('13.5'),
  acrossTicks: 0,
  downTicks: 0,
  nudgeRightTicks: 0,
  nudgeDownTicks: 0,
};

describe('a label sheet', () => {
  it('may fill its paper to the edge, and no further', () => {
    // 2 × 95 + 2 × 10 = 210 mm and 6 × 45 + 2 × 13.5 = 297 mm: A4 of ISO 216.
    expect(checkSheet({ ...TWELVE, leftTicks: mm(20), topTicks: mm(27) })).toEqual([]);
    expect(checkSheet({ ...TWELVE, leftTicks: mm(20) + 1, topTicks: mm(27) + 1 })).toEqual([
      {
        field: 'columns',
        message: 'They reach to 210.1 mm, and A4 is 210 mm wide: enter fewer or narrower labels.',
      },
      {
        field: 'rows',
        message: 'They reach to 297.1 mm, and A4 is 297 mm high: enter fewer or lower labels.',
      },
    ]);
    const ten = { ...TWELVE, paper: 'Letter', rows: 5, widthTicks: inch(4), heightTicks: inch(2) } as const;
    expect(checkSheet({ ...ten, leftTicks: inch('1/2'), topTicks: inch(1) })).toEqual([]);
  });

  it('has no labels that are too small for a code of 20 mm', () => {
    const problems = checkSheet({ ...TWELVE, widthTicks: mm(50), heightTicks: mm(25) });
    expect(problems.map(({ field }) => field)).toEqual(['width', 'height']);
  });
});

describe('placing labels', () => {
  it('goes row by row from the first free one, and on to the next sheet', () => {
    const sheet = { ...TWELVE, acrossTicks: mm(2), nudgeDownTicks: mm(1), nudgeRightTicks: -mm('0.5') };
    const places = placeLabels(sheet, 11, 3);
    expect(places).toEqual([
      { page: 1, place: 11, xTicks: mm('9.5'), yTicks: mm('239.5') },
      { page: 1, place: 12, xTicks: mm('106.5'), yTicks: mm('239.5') },
      { page: 2, place: 1, xTicks: mm('9.5'), yTicks: mm('14.5') },
    ]);
  });

  it('refuses a place that the sheet does not have', () => {
    expect(() => placeLabels(TWELVE, 13, 1)).toThrow(RangeError);
    expect(() => placeLabels(TWELVE, 0, 1)).toThrow(RangeError);
  });
});
