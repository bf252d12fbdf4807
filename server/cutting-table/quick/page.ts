import { MOST_KINDS, MOST_PIECES } from '../../../src/cut-plan/job.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { countTyped, drawFields } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Problem } from '../../refusal.ts';
import type { Page, PageFrame } from '../../web/page-frame.ts';
import { bareUnits, quickFields } from './form.ts';
import type { QuickResult } from './result.ts';

export const QUICK_FRAME = {
  title: 'Quick plan',
  room: 'cutting-table',
  saves: false,
} as const satisfies PageFrame;

const FIRST_ROWS = 3;
const MORE_ROWS = 5;

/** The quick plan: its form as it was typed, and the plan where one was made. */
export function quickPlanPage(
  typed: Typed,
  units: Units,
  result: QuickResult | null,
  problems: readonly Problem[] = [],
) {
  const rows = (list: string) =>
    Math.max(FIRST_ROWS, countTyped(typed, list)) + (typed.act === `more-${list}` ? MORE_ROWS : 0);
  const fields = drawFields(quickFields(bareUnits(typed.unit, units)), typed, {
    pieces: rows('pieces'),
    strips: rows('strips'),
  });
  const data = {
    fields,
    morePieces: fields.pieces.length < MOST_PIECES,
    moreStrips: fields.strips.length < MOST_KINDS,
    result,
  };
  return { ...QUICK_FRAME, view: 'cutting-table/quick/quick', data, problems } satisfies Page;
}
