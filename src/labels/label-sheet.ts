import { TICKS_PER } from '../quantity/length.ts';

export type Paper = 'A4' | 'Letter';

/** Width and height upright, in ticks: A4 of ISO 216, Letter of ANSI/ASME Y14.1. */
export const PAPER_TICKS: Readonly<Record<Paper, { readonly width: number; readonly height: number }>> = {
  A4: { width: 210 * TICKS_PER.mm, height: 297 * TICKS_PER.mm },
  Letter: { width: (17 * TICKS_PER.in) / 2, height: 11 * TICKS_PER.in },
};

/** A grid of equal labels on one paper, in ticks. The nudges may be negative: to the left, upwards. */
export interface LabelSheet {
  readonly paper: Paper;
  readonly columns: number;
  readonly rows: number;
  readonly widthTicks: number;
  readonly heightTicks: number;
  /** from the edges of the paper to the first label */
  readonly leftTicks: number;
  readonly topTicks: number;
  /** between two labels */
  readonly acrossTicks: number;
  readonly downTicks: number;
  /** what the printer is out by */
  readonly nudgeRightTicks: number;
  readonly nudgeDownTicks: number;
}

/** The least side of a code without its quiet edge, so that a phone at arm's length reads it: 20 mm (common practice). */
export const CODE_TICKS = 20 * TICKS_PER.mm;
/** A code of 33 modules (version 4, the largest used) with four quiet modules on each side. */
const CODE_WITH_EDGE_TICKS = Math.ceil((CODE_TICKS * 41) / 33);
export const LEAST_HEIGHT_TICKS = CODE_WITH_EDGE_TICKS + TICKS_PER.mm;
/** Beside the code stand at least 25 mm of words. */
export const LEAST_WIDTH_TICKS = CODE_WITH_EDGE_TICKS + 26 * TICKS_PER.mm;

export interface SheetProblem {
  readonly field: 'width' | 'height' | 'columns' | 'rows';
  readonly message: string;
}

/** What a sheet cannot be: labels too small for a code that can be read, or a grid larger than its paper. */
export function checkSheet(sheet: LabelSheet): SheetProblem[] {
  const problems: SheetProblem[] = [];
  const paper = PAPER_TICKS[sheet.paper];
  if (sheet.widthTicks < LEAST_WIDTH_TICKS)
    problems.push({
      field: 'width',
      message: `A label is at least ${showMm(LEAST_WIDTH_TICKS)} wide: ${WHY}`,
    });
  if (sheet.heightTicks < LEAST_HEIGHT_TICKS)
    problems.push({
      field: 'height',
      message: `A label is at least ${showMm(LEAST_HEIGHT_TICKS)} high: ${WHY}`,
    });
  const across = lastLabelEnd(sheet.leftTicks, sheet.columns, sheet.widthTicks, sheet.acrossTicks);
  const down = lastLabelEnd(sheet.topTicks, sheet.rows, sheet.heightTicks, sheet.downTicks);
  if (across > paper.width)
    problems.push({
      field: 'columns',
      message: `They reach to ${showMm(across)}, and ${sheet.paper} is ${showMm(paper.width)} wide: enter fewer or narrower labels.`,
    });
  if (down > paper.height)
    problems.push({
      field: 'rows',
      message: `They reach to ${showMm(down)}, and ${sheet.paper} is ${showMm(paper.height)} high: enter fewer or lower labels.`,
    });
  return problems;
}

const WHY = 'a code of 20 mm, its quiet edge and the words stand on it.';

/** Where the last of so many labels ends. */
function lastLabelEnd(edge: number, count: number, size: number, gap: number): number {
  return edge + count * size + (count - 1) * gap;
}

/** Upwards to the tenth of a millimetre. */
function showMm(ticks: number): string {
  return `${Math.ceil((ticks * 10) / TICKS_PER.mm) / 10} mm`;
}

/** One label's page, its place on it and its upper left corner in ticks. Pages and places count from 1. */
export interface LabelPlace {
  readonly page: number;
  readonly place: number;
  readonly xTicks: number;
  readonly yTicks: number;
}

/**
 * Where `count` labels go, row by row, the first of them at place `first` of the first page.
 * @throws {RangeError} where the sheet has no such place
 */
export function placeLabels(sheet: LabelSheet, first: number, count: number): LabelPlace[] {
  const onPage = sheet.columns * sheet.rows;
  if (first < 1 || first > onPage) throw new RangeError(`a sheet of ${onPage} labels has no place ${first}`);
  return Array.from({ length: count }, (_, index) => {
    const at = first - 1 + index;
    const place = at % onPage;
    const column = place % sheet.columns;
    const row = (place - column) / sheet.columns;
    return {
      page: (at - place) / onPage + 1,
      place: place + 1,
      xTicks: sheet.leftTicks + sheet.nudgeRightTicks + column * (sheet.widthTicks + sheet.acrossTicks),
      yTicks: sheet.topTicks + sheet.nudgeDownTicks + row * (sheet.heightTicks + sheet.downTicks),
    };
  });
}
