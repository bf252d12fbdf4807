import { isOfBath } from '../../../src/dye/bath-clock.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import type { BathState } from '../pot/bath-state.ts';
import type { LogRow } from '../pot/log-store.ts';
import { sayTemperature } from '../pot/log-words.ts';
import { clockOf } from '../pot/step.ts';

const SIZE = { width: 380, height: 230 } as const;
const FRAME = { left: 34, top: 22, right: 364, bottom: 192 } as const;
const TOP_C = 100;
const MINUTE_MS = 60_000;

interface Corner {
  readonly minute: number;
  readonly c: number;
  readonly what: string;
  readonly adds: boolean;
}

export type RampChart = ReturnType<typeof drawRamp>;

/**
 * The ramp of a bath as it was planned, and what was logged: drawn in lines and shapes that need no colour. Of a planned
 * batch `state` is null and nothing is logged.
 */
export function drawRamp(steps: readonly WorkStep[], state: BathState | null, name: string) {
  const corners = cornersOf(steps);
  const begun = state?.clock.steps.find(({ step }) => isOfBath(step))?.actual?.fromMs ?? null;
  const temperatures = state?.rows.filter(({ kind }) => kind === 'temperature') ?? [];
  const logged = loggedOf(temperatures, begun);
  const last = Math.max(1, corners.at(-1)?.minute ?? 0, ...logged.map(({ minute }) => minute));
  const step = last <= 90 ? 15 : last <= 240 ? 30 : 60;
  const most = Math.ceil(last / step) * step;
  const x = (minute: number) => round(FRAME.left + (minute / most) * (FRAME.right - FRAME.left));
  const y = (c: number) => round(FRAME.bottom - (c / TOP_C) * (FRAME.bottom - FRAME.top));
  const letters = new Map(corners.filter(({ adds }) => adds).map((corner, at) => [corner, letterOf(at)]));
  const clock = (minute: number) => (begun === null ? '' : clockOf(begun + minute * MINUTE_MS));
  return {
    title: titleOf(name, corners, logged.length, temperatures.length - logged.length),
    ...SIZE,
    frame: FRAME,
    /** corners of the planned curve, as an SVG polyline takes them */
    planned: corners.map(({ minute, c }) => `${x(minute)},${y(c)}`).join(' '),
    adds: [...letters].map(([corner, letter]) => ({ x: x(corner.minute), y: y(corner.c), letter })),
    logged: logged.map(({ minute, c }) => ({ x: x(minute), y: y(Math.min(c, TOP_C)) })),
    xTicks: range(0, most, step).map((minute) => ({ at: x(minute), label: String(minute) })),
    yTicks: range(0, TOP_C, 20).map((c) => ({ at: y(c), label: String(c) })),
    /** the same as a table: corners of the plan, then what was logged */
    rows: [
      ...corners.map((corner) => ({
        letter: letters.get(corner) ?? '',
        minute: String(corner.minute),
        clock: clock(corner.minute),
        planned: `${corner.c} °C`,
        logged: '',
        what: corner.what,
      })),
      ...logged.map(({ minute, c, who }) => ({
        letter: '',
        minute: String(Math.round(minute)),
        clock: clock(minute),
        planned: '',
        logged: sayTemperature(Math.round(c * 10)),
        what: who,
      })),
    ],
  };
}

/** Where the planned curve turns: at the beginning of each step of the bath, and at the end of the last. */
function cornersOf(steps: readonly WorkStep[]): Corner[] {
  let minute = 0;
  const corners: Corner[] = [];
  for (const step of steps.filter(isOfBath)) {
    const adds = step.kind === 'add' || step.adds.length > 0 || step.extra.length > 0;
    corners.push({ minute, c: step.fromC, what: step.title, adds });
    minute += step.minutes;
    corners.push({ minute, c: step.toC, what: 'the end', adds: false });
  }
  // The end of a step is the beginning of the next one.
  return corners.filter(({ what }, at) => what !== 'the end' || at === corners.length - 1);
}

/** What was logged of the dye bath: of what came before it, such as the scour, the chart has no curve. */
function loggedOf(temperatures: readonly LogRow[], begunMs: number | null) {
  if (begunMs === null) return [];
  return temperatures
    .filter(({ at }) => Date.parse(at) >= begunMs)
    .map(({ at, figure, person }) => ({
      minute: (Date.parse(at) - begunMs) / MINUTE_MS,
      c: figure / 10,
      who: person,
    }));
}

function titleOf(name: string, corners: readonly Corner[], logged: number, before: number): string {
  const highest = Math.max(0, ...corners.map(({ c }) => c));
  const minutes = corners.at(-1)?.minute ?? 0;
  const points = logged === 0 && before === 0 ? 'nothing logged yet' : `${logged} logged`;
  const early = before === 0 ? '' : `, ${before} before the bath was set`;
  return `${name}: planned to ${highest} °C over ${minutes} minutes, ${points}${early}`;
}

function letterOf(place: number): string {
  return String.fromCharCode('A'.charCodeAt(0) + (place % 26));
}

function range(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, at) => from + at * step);
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
