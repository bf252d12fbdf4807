import type { PlacedBath } from '../../../src/dye/pot-day.ts';
import { clockOf } from '../pot/step.ts';
import type { Vessel } from '../vessels/store.ts';
import type { OpenBath } from './baths.ts';

const HOUR_MS = 3_600_000;
const WIDTH = 720;
const LEFT = 24;
const LANE = 58;
const TOP = 26;

export type PotsChart = ReturnType<typeof drawPots>;

/** Pots as lanes over the hours, baths as bars: in lines, hatches and words, so that it needs no colour. */
export function drawPots(
  vessels: readonly Vessel[],
  placed: readonly PlacedBath<OpenBath>[],
  nowMs: number | null,
) {
  const hours = { from: hourBefore(placed), to: hourAfter(placed) };
  const spanMs = Math.max(1, hours.to - hours.from);
  const x = (ms: number) => Math.round(LEFT + ((ms - hours.from) / spanMs) * (WIDTH - 2 * LEFT));
  const lanes = vessels.flatMap((vessel) => {
    const own = placed.filter(({ bath }) => bath.vesselId === vessel.id);
    const shown = Array.from({ length: vessel.pots }, (_, pot) => ({
      label:
        vessel.pots > 1 ? `${vessel.name} ${pot + 1}, ${vessel.volume}` : `${vessel.name}, ${vessel.volume}`,
      own: own.filter((each) => each.pot === pot),
    }));
    const without = own.filter(({ pot }) => pot === null);
    return [
      ...shown,
      ...(without.length > 0 ? [{ label: `${vessel.name}: no pot free`, own: without }] : []),
    ];
  });
  const used = lanes.filter(({ own }) => own.length > 0);
  const step = spanMs > 14 * HOUR_MS ? 3 : spanMs > 7 * HOUR_MS ? 2 : 1;
  return {
    width: WIDTH,
    height: TOP + used.length * LANE + 4,
    title: `${used.length} of ${lanes.length} pots from ${clockOf(hours.from)} to ${clockOf(hours.to)}`,
    ticks: ticksOf(hours, step).map((ms) => ({ at: x(ms), label: clockOf(ms) })),
    bottom: TOP + used.length * LANE,
    now: nowMs !== null && nowMs > hours.from && nowMs < hours.to ? x(nowMs) : null,
    lanes: used.map(({ label, own }, at) => ({
      label,
      y: TOP + at * LANE,
      bars: own.map(({ bath, fromMs, toMs, pot }) => ({
        x: x(Math.max(fromMs, hours.from)),
        width: Math.max(2, x(toMs) - x(Math.max(fromMs, hours.from))),
        label: `${bath.batch.code}${bath.count > 1 ? `.${bath.number}` : ''}`,
        time: `${clockOf(fromMs)}–${clockOf(toMs)}`,
        kind: pot === null ? ('clash' as const) : bath.begun ? ('stands' as const) : ('planned' as const),
      })),
    })),
  };
}

function hourBefore(placed: readonly PlacedBath[]): number {
  return Math.floor(Math.min(...placed.map(({ fromMs }) => fromMs)) / HOUR_MS) * HOUR_MS;
}

function hourAfter(placed: readonly PlacedBath[]): number {
  return Math.ceil(Math.max(...placed.map(({ toMs }) => toMs)) / HOUR_MS) * HOUR_MS;
}

function ticksOf({ from, to }: { readonly from: number; readonly to: number }, step: number): number[] {
  const count = Math.floor((to - from) / (step * HOUR_MS)) + 1;
  return Array.from({ length: count }, (_, at) => from + at * step * HOUR_MS);
}
