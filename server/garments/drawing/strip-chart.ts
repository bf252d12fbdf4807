import {
  type ColourOrder,
  type ColourRun,
  colourRuns,
  repeatOf,
} from '../../../src/garment/drawing/colour-runs.ts';
import { toTenth } from '../../../src/garment/drawing/sheet.ts';
import { countOf } from '../../kit/words.ts';
import type { Names } from '../garment/names.ts';

/** The drawing's own units: a row of strips, and the room for the number of its first strip. */
const WIDTH = 360;
const LEFT = 30;
const ROW_STRIPS = 20;
const ROW_HEIGHT = 24;
const ROW_STEP = 31;
/** The narrowest run that takes a count beside its letter. */
const ROOM_FOR_COUNT = 24;
/** More strips than this are drawn once round the order only. */
const MOST_DRAWN = 400;

/** The order in which a band's strips are joined: what views/garments/strip-chart draws. */
export interface StripChart {
  readonly width: number;
  readonly height: number;
  readonly rows: readonly ChartRow[];
  /** the whole order in letters and counts, "4 A, 2 B: 12 times, then 3 A" */
  readonly words: string;
  /** where the band starts in the order; '' at its start */
  readonly start: string;
  /** what of it is drawn, where that is not all; '' else */
  readonly part: string;
}

export interface ChartRow {
  /** the number of its first strip */
  readonly first: number;
  readonly y: number;
  readonly runs: readonly ChartRun[];
}

export interface ChartRun {
  readonly x: number;
  readonly width: number;
  readonly height: number;
  readonly colour: string | null;
  readonly letter: string;
  readonly text: string;
  /** small ticks where one strip meets the next */
  readonly ticks: string;
}

/** Draws the strips of a band in rows of twenty; the first strip stands `offset` strips into the order. */
export function drawStripChart(order: ColourOrder, strips: number, offset: number, names: Names): StripChart {
  const repeat = repeatOf(order);
  const folded = strips > MOST_DRAWN;
  const drawn = folded ? Math.min(repeat, MOST_DRAWN) : strips;
  const rows = rowsOf(colourRuns(order, drawn, offset), drawn, names);
  return {
    width: WIDTH,
    height: (rows.length - 1) * ROW_STEP + ROW_HEIGHT + 2,
    rows,
    words: sayOrder(order, strips, offset, names),
    start:
      offset % Math.max(1, repeat) === 0
        ? ''
        : `Starts ${countOf(offset % repeat, 'strip', 'strips')} into the order.`,
    part: folded ? sayPart(drawn, repeat) : '',
  };
}

function rowsOf(runs: readonly ColourRun[], strips: number, names: Names): ChartRow[] {
  const columns = Math.min(ROW_STRIPS, Math.max(8, strips));
  const cell = (WIDTH - LEFT - 1) / columns;
  const rows: ChartRow[] = [];
  let [at, from] = [0, 0];
  for (let first = 0; first < strips; first += columns) {
    const inRow: ChartRun[] = [];
    let column = 0;
    while (column < Math.min(columns, strips - first)) {
      const run = runs[at];
      if (!run) break;
      const taken = Math.min(run.strips - from, columns - column);
      inRow.push(runIn(run.shadeId, column, taken, cell, names));
      column += taken;
      from += taken;
      if (from === run.strips) [at, from] = [at + 1, 0];
    }
    rows.push({ first: first + 1, y: rows.length * ROW_STEP + 1, runs: inRow });
  }
  return rows;
}

function runIn(shadeId: number, column: number, strips: number, cell: number, names: Names): ChartRun {
  const [x, width] = [LEFT + column * cell, strips * cell];
  const letter = names.letter(shadeId);
  const between = Array.from({ length: strips - 1 }, (_, strip) => toTenth(x + (strip + 1) * cell));
  return {
    x: toTenth(x),
    width: toTenth(width),
    height: ROW_HEIGHT,
    colour: names.colour(shadeId),
    letter,
    text: strips > 1 && width >= ROOM_FOR_COUNT ? `${strips} ${letter}` : letter,
    ticks: between.map((tick) => `M${tick} 0v5M${tick} ${ROW_HEIGHT}v-5`).join(''),
  };
}

function sayOrder(order: ColourOrder, strips: number, offset: number, names: Names): string {
  const repeat = repeatOf(order);
  const say = (count: number) =>
    colourRuns(order, count, offset)
      .map((run) => `${run.strips} ${names.letter(run.shadeId)}`)
      .join(', ');
  const times = Math.floor(strips / Math.max(1, repeat));
  const rest = strips - times * repeat;
  // One shade all round, or less than two repeats, is said at once.
  if (times < 2 || colourRuns(order, strips, offset).length < 3) return say(strips);
  return `${say(repeat)}: ${times} times${rest > 0 ? `, then ${say(rest)}` : ''}`;
}

function sayPart(drawn: number, repeat: number): string {
  return drawn === repeat
    ? `Drawn once round the order of ${repeat} strips.`
    : `Drawn are the first ${drawn} strips of the order.`;
}
