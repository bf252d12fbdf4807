import { describe, expect, it } from 'vitest';
import { exhaustionBp, sumOfExhaustion } from '../../../src/dye/exhaustion.ts';

describe('exhaustion', () => {
  it('is the share of the dye that the cloth took up', () => {
    // textileschool.com, article 28820: 80 g taken up of 100 g are 80 %.
    expect(exhaustionBp(100_000, 20_000)).toBe(8000);
    expect(sumOfExhaustion(100_000, 20_000)).toBe('(100 g − 20 g) ÷ 100 g = 80 %');
  });

  it('is all of it where the liquor is clear, and none where all is left', () => {
    expect(exhaustionBp(300, 0)).toBe(10_000);
    expect(exhaustionBp(300, 300)).toBe(0);
    expect(exhaustionBp(300, 100)).toBe(6667);
  });

  it('is nothing where nothing was put in, or more is left than that', () => {
    expect(() => exhaustionBp(0, 0)).toThrow(RangeError);
    expect(() => exhaustionBp(100, 101)).toThrow(RangeError);
    expect(() => exhaustionBp(100, -1)).toThrow(RangeError);
  });
});
