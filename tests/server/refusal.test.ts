import { describe, expect, it } from 'vitest';
import { allInvalid, conflict, invalid, orProblems, refuseAny, unknown } from '../../server/refusal.ts';

const PROBLEMS = [
  { field: 'length', message: 'Enter a length above 0.' },
  { field: 'width', message: 'The width is too small.' },
];

describe('several problems', () => {
  it('are refused at once, and the first is what is said', () => {
    expect(() => refuseAny(PROBLEMS)).toThrow(
      expect.objectContaining({ kind: 'invalid', message: PROBLEMS[0]?.message, problems: PROBLEMS }),
    );
    expect(() => refuseAny([])).not.toThrow();
  });
});

describe('work that may be refused', () => {
  it('gives its value, or what is wrong', () => {
    expect(orProblems(() => 12)).toEqual({ value: 12, problems: [] });
    const refused = orProblems(() => {
      throw allInvalid(PROBLEMS);
    });
    expect(refused).toEqual({ value: null, problems: PROBLEMS });
    expect(
      orProblems(() => {
        throw invalid('length', 'Too long.');
      }),
    ).toEqual({ value: null, problems: [{ field: 'length', message: 'Too long.' }] });
  });

  it.each([conflict('Somebody was quicker.'), unknown('piece B12'), new Error('a fault')])(
    'hides nothing else: %s',
    (error) => {
      expect(() =>
        orProblems(() => {
          throw error;
        }),
      ).toThrow(error);
    },
  );
});
