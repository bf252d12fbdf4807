import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { costOfPart, inOrderOfUse, type SupplyLotLeft, takeFromLots } from '../../../src/supply/taking.ts';

const lot = (id: number, onHand: number, more: Partial<SupplyLotLeft> = {}): SupplyLotLeft => ({
  id,
  lot: '',
  openedOn: null,
  onHand,
  costMinor: 0,
  ...more,
});
const ids = (lots: readonly { readonly id: number }[]) => lots.map(({ id }) => id);

describe('the order of use', () => {
  it('is what was opened first, then what came first', () => {
    const lots = [
      lot(1, 5),
      lot(2, 5, { openedOn: '2026-03-02' }),
      lot(3, 5, { openedOn: '2026-01-09' }),
      lot(4, 5),
    ];
    expect(ids(inOrderOfUse(lots))).toEqual([3, 2, 1, 4]);
  });
});

describe('taking from lots', () => {
  const lots = [lot(1, 10, { lot: '4471', costMinor: 7 }), lot(2, 10, { openedOn: '2026-01-09' })];

  it('goes on to the next lot where one is used up', () => {
    expect(takeFromLots(lots, 12)).toEqual({
      draws: [
        { lotId: 2, amount: 10, costMinor: 0 },
        { lotId: 1, amount: 2, costMinor: 1 },
      ],
      missing: 0,
    });
  });

  it('begins with the lot that is named, however it is written', () => {
    expect(takeFromLots(lots, 4, ' 4471 ').draws).toEqual([{ lotId: 1, amount: 4, costMinor: 3 }]);
    expect(takeFromLots(lots, 4, 'another').draws[0]?.lotId).toBe(2);
  });

  it('says what is missing, and takes what there is', () => {
    const { draws, missing } = takeFromLots(lots, 25);
    expect(draws.reduce((sum, { amount }) => sum + amount, 0)).toBe(20);
    expect(missing).toBe(5);
  });

  it('loses no amount and no cost, however a lot is used up', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5000 }),
        fc.integer({ min: 0, max: 5000 }),
        fc.array(fc.integer({ min: 1, max: 700 }), { minLength: 1, maxLength: 40 }),
        (onHand, costMinor, parts) => {
          let left = lot(1, onHand, { costMinor });
          let taken = 0;
          for (const part of [...parts, 10_000]) {
            const { draws } = takeFromLots([left], part);
            for (const draw of draws) {
              taken += draw.costMinor;
              left = {
                ...left,
                onHand: left.onHand - draw.amount,
                costMinor: left.costMinor - draw.costMinor,
              };
              expect(left.costMinor).toBeGreaterThanOrEqual(0);
            }
          }
          expect([left.onHand, left.costMinor, taken]).toEqual([0, 0, costMinor]);
        },
      ),
    );
  });

  it('refuses to price more than there is', () => {
    expect(() => costOfPart(lot(1, 3, { costMinor: 9 }), 4)).toThrow(RangeError);
    expect(costOfPart(lot(1, 3, { costMinor: 9 }), 0)).toBe(0);
  });
});

it('takes no more of a lot than is free to take', () => {
  const lot = { lot: '', openedOn: null, costMinor: 100 };
  const lots = [
    { ...lot, id: 1, onHand: 10, mayTake: 4 },
    { ...lot, id: 2, onHand: 10, mayTake: 0 },
    { ...lot, id: 3, onHand: 10 },
  ];
  expect(takeFromLots(lots, 6)).toEqual({
    draws: [
      { lotId: 1, amount: 4, costMinor: 40 },
      { lotId: 3, amount: 2, costMinor: 20 },
    ],
    missing: 0,
  });
  expect(takeFromLots(lots, 15).missing).toBe(1);
});
