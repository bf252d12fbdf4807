import type { WeekLoad } from '../../src/by-when/week-load.ts';
import { showDayNumber } from './words.ts';

const WIDTH = 720;
const LEFT = 8;
const LANE = 110;
const TOP = 24;
const HIGH = 76;

export type WeekChart = ReturnType<typeof drawWeeks>;

interface ChartLane {
  readonly name: string;
  readonly say: (units: number) => string;
  readonly weeks: readonly WeekLoad[];
}

/**
 * A lane for each resource, a column a week: the outline is what can be done, the hatched bar what is planned as soon as possible,
 * the solid one what must be done at the latest. In lines and hatches, so that it needs no colour.
 */
export function drawWeeks(lanes: readonly ChartLane[]) {
  const weeks = lanes[0]?.weeks ?? [];
  const column = (WIDTH - 2 * LEFT) / Math.max(weeks.length, 8);
  const each = Math.max(1, Math.ceil(weeks.length / 13));
  return {
    width: WIDTH,
    height: TOP + lanes.length * LANE,
    title: `Load of ${weeks.length} weeks from ${showDayNumber(weeks[0]?.monday ?? 0)}`,
    labels: weeks.flatMap(({ monday }, at) =>
      at % each === 0 ? [{ x: LEFT + at * column, text: showDayNumber(monday).replace(/ \d+$/, '') }] : [],
    ),
    lanes: lanes.map(({ name, say, weeks: own }, at) => {
      const most = Math.max(1, ...own.map(({ capacity }) => capacity));
      const bottom = TOP + at * LANE + LANE - 8;
      const high = (units: number) => round((units / most) * HIGH);
      const bar = (x: number, width: number, units: number) =>
        units === 0
          ? null
          : { x: round(x), y: round(bottom - high(units)), width: round(width), height: high(units) };
      return {
        label: `${name}, ${say(most)} in a full week`,
        y: TOP + at * LANE + 14,
        bottom,
        columns: own.map(({ capacity, soonest, latest }, week) => {
          const x = LEFT + week * column + 2;
          const width = column - 4;
          return {
            capacity: bar(x, width, capacity),
            soonest: bar(x + 2, width / 2 - 3, soonest),
            latest: bar(x + width / 2 + 1, width / 2 - 3, latest),
          };
        }),
      };
    }),
  };
}

function round(figure: number): number {
  return Math.round(figure * 100) / 100;
}
