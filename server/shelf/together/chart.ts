import { type Lab, labToScreen } from '../../../src/colour/lab.ts';
import { MINUS } from '../../../src/quantity/figure-show.ts';

/** A lot in the chart: its letter, and its colour. */
export interface ChartedLot {
  readonly letter: string;
  readonly lab: Lab;
}

const SIDE = 300;
const LEFT = 44;
const TOP = 16;
const GAP = 64;
/** Room at the right for letters beside the line of lightness. */
const RIGHT = 48;
/** A span of fewer units would make nothing look like much. */
const LEAST_SPAN = 4;
const STEPS = [0.5, 1, 2, 5, 10, 20, 50];
const LETTER_ROOM = 15;

/** Lots in a* and b* and along L*, both in the same units, so that a step of one is as long in both. */
export function drawLotChart(lots: readonly ChartedLot[]) {
  const spanOf = (axis: keyof Lab) => {
    const values = lots.map(({ lab }) => lab[axis]);
    return {
      middle: (Math.max(...values) + Math.min(...values)) / 2,
      span: Math.max(...values) - Math.min(...values),
    };
  };
  const spans = { l: spanOf('l'), a: spanOf('a'), b: spanOf('b') };
  const span = Math.max(LEAST_SPAN, 1.3 * Math.max(spans.l.span, spans.a.span, spans.b.span));
  const step = STEPS.find((each) => span / each <= 6) ?? 50;
  const across = (axis: keyof Lab) => (value: number) =>
    round(((value - spans[axis].middle) / span + 0.5) * SIDE);
  const [x, y, z] = [across('a'), across('b'), across('l')];
  const points = lots.map(({ letter, lab }) => ({
    letter,
    fill: labToScreen(lab),
    x: LEFT + x(lab.a),
    y: TOP + SIDE - y(lab.b),
    lightness: TOP + SIDE - z(lab.l),
  }));
  const plane = spread(points);
  const line = spread(points.map(({ lightness }) => ({ x: 0, y: lightness })));
  return {
    width: LEFT + SIDE + GAP + RIGHT,
    height: TOP + SIDE + 40,
    left: LEFT,
    right: LEFT + SIDE,
    top: TOP,
    bottom: TOP + SIDE,
    lineX: LEFT + SIDE + GAP,
    a: ticksOf(spans.a.middle, span, step).map((value) => ({ at: LEFT + x(value), label: showUnits(value) })),
    b: ticksOf(spans.b.middle, span, step).map((value) => ({
      at: TOP + SIDE - y(value),
      label: showUnits(value),
    })),
    l: ticksOf(spans.l.middle, span, step).map((value) => ({
      at: TOP + SIDE - z(value),
      label: showUnits(value),
    })),
    points: points.map((point, at) => ({
      ...point,
      letterY: plane[at] ?? point.y,
      lineLetterY: line[at] ?? point.lightness,
    })),
  };
}

export type LotChart = ReturnType<typeof drawLotChart>;

function ticksOf(middle: number, span: number, step: number): number[] {
  const first = Math.ceil((middle - span / 2) / step);
  const last = Math.floor((middle + span / 2) / step);
  return Array.from({ length: last - first + 1 }, (_, at) => (first + at) * step);
}

/** How far down letters beside their points stand, moved where they would lie on each other. */
function spread(points: readonly { readonly x: number; readonly y: number }[]): number[] {
  const order = points.map((point, at) => ({ ...point, at })).sort((one, other) => one.y - other.y);
  const placed: { x: number; y: number; at: number }[] = [];
  for (const { x, y, at } of order) {
    const lowest = placed
      .filter((other) => Math.abs(other.x - x) < LETTER_ROOM)
      .reduce((least, other) => Math.max(least, other.y + LETTER_ROOM), y);
    placed.push({ x, y: round(lowest), at });
  }
  return placed.sort((one, other) => one.at - other.at).map(({ y }) => y);
}

const round = (value: number) => Math.round(value * 10) / 10;
const showUnits = (value: number) => String(round(value)).replace('-', MINUS);
