import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitStrips, lengthToCut } from '../../../src/fit/strips.ts';
import { atShopStep, clothLength, type LaidSize, showAtShop } from '../../../src/garment/cloth-length.ts';
import { cm, inch, m, yd } from '../../lengths.ts';

function strips(count: number, depthTicks: number, lengthTicks: number, direction: LaidSize['direction']) {
  return { count, depthTicks, lengthTicks, direction };
}

function total(sizes: readonly LaidSize[], widthTicks: number): number {
  const found = clothLength(sizes, widthTicks);
  if (!found.ok) throw new Error('too large');
  return found.totalTicks;
}

describe('clothLength', () => {
  it('takes six 10-in cross cuts from 60 in (common practice of total depth, worked out by hand)', () => {
    expect(total([strips(6, inch(10), inch(58), 'across')], inch(58))).toBe(inch(60));
  });

  it('lays two strips in a drop where the width takes the length twice', () => {
    const found = clothLength([strips(5, cm(30), cm(70), 'across')], cm(147));
    expect(found).toMatchObject({ totalTicks: cm(90), steps: [{ columns: 2, drops: 3, dropTicks: cm(30) }] });
  });

  it('lays the depth across where the length lies along the cloth', () => {
    const found = clothLength([strips(5, cm(30), m(3), 'along')], cm(147));
    expect(found).toMatchObject({ totalTicks: m(6), steps: [{ columns: 4, drops: 2, dropTicks: m(3) }] });
  });

  it('takes the shorter way where either is open, and the only one where the other is closed', () => {
    expect(total([strips(3, cm(30), cm(147), 'either')], cm(147))).toBe(cm(90));
    expect(total([strips(4, cm(30), cm(100), 'either')], cm(147))).toBe(cm(100));
    expect(total([strips(4, cm(30), cm(150), 'either')], cm(147))).toBe(cm(150));
  });

  it('shares the last drop among strips of one size, and says which strip is too large', () => {
    const three = strips(3, cm(30), cm(70), 'across');
    expect(total([three, three], cm(147))).toBe(cm(90));
    // Four of 30 × 100 cm may lie along, and two more must: six share two drops of four.
    expect(total([strips(4, cm(30), m(1), 'either'), strips(2, cm(30), m(1), 'along')], cm(147))).toBe(m(2));
    const large = strips(1, cm(30), cm(148), 'across');
    expect(clothLength([three, large], cm(147))).toEqual({ ok: false, tooLarge: large });
  });

  it('gives what the needs of a garment are counted by, whichever way strips lie', () => {
    const size = fc.record({
      depthTicks: fc.integer({ min: 1, max: 100_000 }),
      lengthTicks: fc.integer({ min: 1, max: 250_000 }),
      count: fc.integer({ min: 1, max: 300 }),
      direction: fc.constantFrom('across' as const, 'along' as const, 'either' as const),
    });
    fc.assert(
      fc.property(fc.array(size, { minLength: 1, maxLength: 5 }), (sizes) => {
        const asked = sizes.map((one, tierId) => ({ ...one, tierId }));
        const found = clothLength(asked, 235_200);
        expect(found.ok ? found.totalTicks : null).toBe(lengthToCut(asked, 235_200));
        if (!found.ok) return;
        // So much cloth is enough by the rule that counts what fits into pieces.
        const bolt = { pieceId: 1, lotId: 1, usableWidthTicks: 235_200, lengthTicks: found.totalTicks };
        expect(fitStrips(asked, [bolt], 'one').missingStrips).toBe(0);
      }),
    );
  });
});

describe('the step of a shop', () => {
  it('makes 60 in up to 1¾ yd at an eighth and to 160 cm at 10 cm (common practice)', () => {
    expect(atShopStep(inch(60), yd('1/8'))).toBe(yd('1 3/4'));
    expect(atShopStep(inch(60), cm(10))).toBe(cm(160));
    expect(showAtShop(yd('1 3/4'), 'imperial')).toBe('1¾ yd');
    expect(showAtShop(cm(160), 'metric')).toBe('160 cm');
  });

  it('makes 187 in up to 5¼ yd (annasmountaintreasures.blogspot 2013)', () => {
    expect(showAtShop(atShopStep(inch(187), yd('1/8')), 'imperial')).toBe('5¼ yd');
  });

  it('leaves what is on the step, and shows odd lengths in full', () => {
    expect(atShopStep(m('2.4'), cm(10))).toBe(m('2.4'));
    expect(showAtShop(m('2.4'), 'metric')).toBe('2.4 m');
    expect(showAtShop(yd(1) + inch(1), 'imperial')).toBe('1 yd 1 in');
  });
});
