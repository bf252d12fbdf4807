import { describe, expect, it } from 'vitest';
import { countOf, listCodes, listed, wordFor } from '../../../server/kit/words.ts';

describe('words', () => {
  it('are of one thing or of many', () => {
    expect([0, 1, 2, 1001].map((count) => countOf(count, 'strip', 'strips'))).toEqual([
      '0 strips',
      '1 strip',
      '2 strips',
      '1001 strips',
    ]);
    expect([wordFor(1, 'is', 'are'), wordFor(0, 'is', 'are')]).toEqual(['is', 'are']);
  });

  it('are joined as a list is said', () => {
    expect([[], ['Moss'], ['Moss', 'Plum'], ['Moss', 'Plum', 'Gold']].map((texts) => listed(texts))).toEqual([
      '',
      'Moss',
      'Moss and Plum',
      'Moss, Plum and Gold',
    ]);
  });

  it('name the ends of a long list of codes', () => {
    const codes = Array.from({ length: 9 }, (_, at) => `B${at + 1}`);
    expect(listCodes(codes)).toBe('B1 to B9');
    expect(listCodes(codes.slice(1))).toBe('B2, B3, B4, B5, B6, B7, B8 and B9');
  });
});
