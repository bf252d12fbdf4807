import type { HoleRule } from '../../../src/buying/grading.ts';
import type { Reader } from '../../database/book.ts';
/** How what comes is judged. */
export interface GradingRule {
  readonly holes: HoleRule;
  /** points in 100 square yards that still pass */
  readonly mostPoints: number;
  /** what may be missing on a length, in hundredths of a percent */
  readonly shortBp: number;
}

/** 40 points is a common pass mark, and the standard sets none; 2.5 % is usual in terms of trade. */
const USUAL: GradingRule = { holes: 'by size', mostPoints: 40, shortBp: 250 };

export function readGradingRule(reader: Reader): GradingRule {
  const row = reader.first(reader.db.selectFrom('grading_rule').selectAll().orderBy('id', 'desc'));
  return row ? { holes: row.holes, mostPoints: row.most_points, shortBp: row.short_bp } : USUAL;
}
