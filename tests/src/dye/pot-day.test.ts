import { describe, expect, it } from 'vitest';
import { type BathInDay, placeInPots } from '../../../src/dye/pot-day.ts';

const HOUR = 3_600_000;
const bath = (
  key: string,
  fromHour: number | null,
  hours: number,
  of: Partial<BathInDay> = {},
): BathInDay => ({
  key,
  vesselId: 1,
  fromMs: fromHour === null ? null : fromHour * HOUR,
  minutes: hours * 60,
  begun: false,
  ...of,
});
const told = (pots: number, baths: readonly BathInDay[], from = 9) =>
  placeInPots([{ id: 1, pots }], baths, from * HOUR).map(({ bath: { key }, fromMs, toMs, pot, inTheWay }) => [
    key,
    fromMs / HOUR,
    toMs / HOUR,
    pot,
    inTheWay.map((other) => other.key).join(),
  ]);

describe('pots over a day', () => {
  it('hold one bath at a time: two that overlap need two pots', () => {
    const both = [bath('a', 9, 3), bath('b', 11, 3)];
    expect(told(1, both)).toEqual([
      ['a', 9, 12, 0, ''],
      ['b', 11, 14, null, 'a'],
    ]);
    expect(told(2, both)).toEqual([
      ['a', 9, 12, 0, ''],
      ['b', 11, 14, 1, ''],
    ]);
  });

  it('are free again at the very minute at which a bath leaves', () => {
    expect(told(1, [bath('a', 9, 3), bath('b', 12, 3)])).toEqual([
      ['a', 9, 12, 0, ''],
      ['b', 12, 15, 0, ''],
    ]);
  });

  it('get five baths one after another, and the shorter day from a second pot', () => {
    const five = ['a', 'b', 'c', 'd', 'e'].map((key) => bath(key, null, 3));
    expect(told(1, five).map(([, from, to]) => [from, to])).toEqual([
      [9, 12],
      [12, 15],
      [15, 18],
      [18, 21],
      [21, 24],
    ]);
    expect(told(2, five).at(-1)).toEqual(['e', 15, 18, 0, '']);
  });

  it('fill gaps that are long enough, and leave what stands where it stands', () => {
    const baths = [
      bath('said', 13, 2),
      bath('begun', 8, 2, { begun: true }),
      bath('long', null, 4),
      bath('short', null, 2),
    ];
    expect(told(1, baths)).toEqual([
      ['begun', 8, 10, 0, ''],
      ['said', 13, 15, 0, ''],
      ['long', 15, 19, 0, ''],
      ['short', 10, 12, 0, ''],
    ]);
  });

  it('are of their own kind, and a kind that is not there has none', () => {
    const placed = placeInPots(
      [
        { id: 1, pots: 1 },
        { id: 2, pots: 1 },
      ],
      [bath('a', 9, 3), bath('b', 9, 3, { vesselId: 2 }), bath('c', 9, 3, { vesselId: 3 })],
      0,
    );
    expect(placed.map(({ pot }) => pot)).toEqual([0, 0, null]);
  });
});
