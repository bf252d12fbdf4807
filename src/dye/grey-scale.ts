/**
 * Grey scale grades: 1 to 5 in half steps, 5 the best, as written on a test report ("4-5"). ISO 105-A02 (change in colour)
 * and A03 (staining); from memory, the texts were not seen. Kept in tenths.
 */
export const GRADES_TENTHS = [50, 45, 40, 35, 30, 25, 20, 15, 10] as const;

/** "4-5" for 45, "4" for 40. Throws RangeError on what is no grade. */
export function showGrade(tenths: number): string {
  if (!GRADES_TENTHS.some((grade) => grade === tenths)) throw new RangeError(`${tenths} is no grade`);
  const whole = Math.floor(tenths / 10);
  return tenths % 10 === 0 ? String(whole) : `${whole}-${whole + 1}`;
}

/**
 * The tests of a finished cloth: to rub it stains only, the others change its colour and stain what lies beside it.
 * Common practice of what a dye house reports; the methods are ISO 105-X12 (rub), E01 (water), E04 (perspiration).
 */
export const FASTNESS_TESTS = [
  'rub, dry',
  'rub, wet',
  'water, change',
  'water, staining',
  'acid perspiration, change',
  'acid perspiration, staining',
  'alkaline perspiration, change',
  'alkaline perspiration, staining',
] as const;
export type FastnessTest = (typeof FASTNESS_TESTS)[number];
