import { describe, expect, it } from 'vitest';
import { changeBp, treatedTicks, untreatedTicks } from '../../../src/quantity/wash-change.ts';
import { cm, m, mm } from '../../lengths.ts';

const marks = (before: string | number, after: string | number) => ({
  beforeTicks: mm(before),
  afterTicks: mm(after),
});

describe('a wash test', () => {
  // 350 mm to 339.5 mm is −3.0 % by the formula of ISO 5077 (texfire.net); 40 m then give 38.8 m.
  it('finds the published change, and what 40 m come to', () => {
    expect(changeBp(marks(350, '339.5'))).toBe(-300);
    expect(treatedTicks(m(40), marks(350, '339.5'))).toBe(m('38.8'));
    expect(untreatedTicks(m('38.8'), marks(350, '339.5'))).toBe(m(40));
  });

  it('rounds what is left down and what is taken up, so that going there and back never promises more', () => {
    for (const ticks of [1, 7, cm(147), m(3)]) {
      const needed = untreatedTicks(ticks, marks(351, 340));
      expect(treatedTicks(needed, marks(351, 340))).toBeGreaterThanOrEqual(ticks);
      expect(treatedTicks(needed - 1, marks(351, 340))).toBeLessThan(ticks);
    }
  });

  it('knows cloth that grows, and refuses marks that are none', () => {
    expect(changeBp(marks(350, 357))).toBe(200);
    expect(() => changeBp(marks(0, 357))).toThrow(RangeError);
    expect(() => treatedTicks(1, { beforeTicks: 1, afterTicks: 0 })).toThrow(RangeError);
  });
});
