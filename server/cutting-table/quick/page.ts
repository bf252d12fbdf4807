import { MOST_KINDS, MOST_PIECES } from '../../../src/cut-plan/job.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { countRows } from '../../garments/garment/form.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Problem } from '../../refusal.ts';
import type { Page, PageFrame } from '../../web/page-frame.ts';
import { bareUnits } from './form.ts';
import type { QuickResult } from './result.ts';

export const QUICK_FRAME = {
  title: 'Quick plan',
  room: 'cutting-table',
  saves: false,
} as const satisfies PageFrame;

const PLAIN = [
  'lot_rule',
  'lots_that_meet',
  'useful',
  'table',
  'flaws',
  'stacks',
  'plies',
  'wish',
  'cures',
  'seconds',
  'unit',
  'seed',
] as const;
const PIECE = ['count', 'width', 'length', 'lot', 'flaws'] as const;
const STRIP = ['name', 'width', 'length', 'count', 'direction', 'lots', 'group'] as const;
const FIRST_ROWS = 3;
const MORE_ROWS = 5;

/** The quick plan: its form as it was typed, and the plan where one was made. */
export type QuickPlanData = ReturnType<typeof quickPlanPage>['data'];

export function quickPlanPage(
  typed: Typed,
  units: Units,
  result: QuickResult | null,
  problems: readonly Problem[] = [],
) {
  const bare = bareUnits('', units);
  const unit = typed.unit ?? '';
  const pieces = rowsOf(typed, 'pieces', PIECE, MOST_PIECES);
  const strips = rowsOf(typed, 'strips', STRIP, MOST_KINDS);
  const data = {
    typed: textsOf(PLAIN, (name) => typed[name]),
    pieces,
    strips,
    morePieces: pieces.length < MOST_PIECES,
    moreStrips: strips.length < MOST_KINDS,
    lengthUnit: unit || bare.length,
    sizeUnit: unit || bare.size,
    result,
  };
  return { ...QUICK_FRAME, view: 'cutting-table/quick/quick', data, problems } satisfies Page;
}

function rowsOf<N extends string>(
  typed: Typed,
  list: string,
  names: readonly N[],
  most: number,
): Readonly<Record<N, string>>[] {
  const given = countRows(typed, list);
  const more = typed.act === `more-${list}` ? MORE_ROWS : 0;
  const count = Math.min(most, Math.max(FIRST_ROWS, given) + more);
  return Array.from({ length: count }, (_, row) => textsOf(names, (name) => typed[`${list}.${row}.${name}`]));
}

function textsOf<N extends string>(
  names: readonly N[],
  find: (name: N) => string | undefined,
): Readonly<Record<N, string>> {
  return Object.fromEntries(names.map((name) => [name, find(name) ?? ''])) as Record<N, string>;
}
