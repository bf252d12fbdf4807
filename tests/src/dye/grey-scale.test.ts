import { expect, it } from 'vitest';
import { GRADES_TENTHS, showGrade } from '../../../src/dye/grey-scale.ts';

it('writes the nine grades of the grey scale as reports do, and no others', () => {
  // Grades of ISO 105-A02 and A03, from memory.
  expect(GRADES_TENTHS.map(showGrade)).toEqual(['5', '4-5', '4', '3-4', '3', '2-3', '2', '1-2', '1']);
  for (const none of [0, 42, 55]) expect(() => showGrade(none)).toThrow(RangeError);
});
