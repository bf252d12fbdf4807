import { type LengthUnit, TICKS_PER } from '../../src/length.ts';
import { showLength, type Units } from '../../src/length-show.ts';

/** Width of every tape in viewBox units; it stands for `maxTicks`, so that a list has one scale. */
export const TAPE_WIDTH = 400;

const LEAST_SHARE_WIDTH = 1.5;
const LEAST_MARK_GAP = 6;
const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000];

export interface TapeInput {
  /** what the tape is of, e.g. the piece's code; begins the spoken text */
  name: string;
  onHandTicks: number;
  heldTicks: number;
  /** length already gone from the piece, drawn dashed behind what is left; default 0 */
  usedTicks?: number;
  /** flaws by distance from the free end of what is on hand */
  flawsAtTicks?: number[];
  /** the longest tape of the list, used part included: the common scale */
  maxTicks: number;
  units: Units;
}

export interface Stretch {
  x: number;
  width: number;
}

/** What `partials/tape` draws, all in viewBox units. */
export interface Tape {
  free: Stretch | null;
  held: Stretch | null;
  used: Stretch | null;
  /** free and held together */
  outline: Stretch;
  /** one SVG path of the unit ticks above the bar */
  marks: string;
  /** where a flaw notches the lower edge */
  notches: number[];
  said: string;
}

/**
 * Shapes one piece as a tape: free, then held, then used, so that free lengths of a list start at
 * one line and compare by eye. The ledger does not say where on the piece a hold lies.
 * @throws RangeError when lengths are negative, more is held than there is, or the tape outruns the scale
 */
export function shapeTape(input: TapeInput): Tape {
  const { onHandTicks, heldTicks, usedTicks = 0, flawsAtTicks = [], maxTicks } = input;
  if (onHandTicks < 0 || heldTicks < 0 || usedTicks < 0)
    throw new RangeError('a tape has no negative length');
  if (heldTicks > onHandTicks) throw new RangeError('a tape cannot hold more than there is');
  if (maxTicks <= 0 || onHandTicks + usedTicks > maxTicks)
    throw new RangeError('the tape is longer than its scale');
  const place = (ticks: number) => round((ticks / maxTicks) * TAPE_WIDTH);
  const freeTicks = onHandTicks - heldTicks;
  return {
    free: stretch(place(0), place(freeTicks)),
    held: stretch(place(freeTicks), place(onHandTicks)),
    used: stretch(place(onHandTicks), place(onHandTicks + usedTicks)),
    outline: stretch(0, place(onHandTicks)) ?? {
      x: 0,
      width: LEAST_SHARE_WIDTH,
    },
    marks: drawMarks(onHandTicks + usedTicks, maxTicks, input.units),
    notches: flawsAtTicks.filter((ticks) => ticks >= 0 && ticks <= onHandTicks).map(place),
    said: sayTape(input, freeTicks),
  };
}

// A millimetre of free cloth on a long scale still shows.
function stretch(from: number, to: number): Stretch | null {
  return to > from ? { x: from, width: Math.max(round(to - from), LEAST_SHARE_WIDTH) } : null;
}

/**
 * The length between two ticks of a tape: one metre or yard, or a round multiple of it where those
 * would crowd; a tenth of a metre or a quarter yard where the whole scale is under two units.
 */
export function tapeStep(maxTicks: number, units: Units): number {
  const unit: LengthUnit = units.system === 'metric' ? 'm' : 'yd';
  const unitTicks = TICKS_PER[unit];
  if (maxTicks < 2 * unitTicks) return units.system === 'metric' ? unitTicks / 10 : unitTicks / 4;
  const roomy = (step: number) => ((step * unitTicks) / maxTicks) * TAPE_WIDTH >= LEAST_MARK_GAP;
  return (STEPS.find(roomy) ?? 20000) * unitTicks;
}

function drawMarks(lengthTicks: number, maxTicks: number, units: Units): string {
  const stepTicks = tapeStep(maxTicks, units);
  const every = units.system === 'imperial' && stepTicks < TICKS_PER.yd ? 4 : 5;
  const count = Math.floor(lengthTicks / stepTicks);
  const mark = (n: number) => {
    const x = round(((n * stepTicks) / maxTicks) * TAPE_WIDTH);
    return `M${x} 6V${n % every === 0 ? 0 : 3}`;
  };
  return Array.from({ length: count + 1 }, (_, n) => mark(n)).join('');
}

function sayTape(input: TapeInput, freeTicks: number): string {
  const { onHandTicks, heldTicks, usedTicks = 0, flawsAtTicks = [], units } = input;
  const show = (ticks: number) => showLength(ticks, units, 'down');
  const parts = [`${show(onHandTicks)} on hand`, `${show(freeTicks)} free`];
  if (heldTicks > 0) parts.push(`${show(heldTicks)} held`);
  if (usedTicks > 0) parts.push(`${show(usedTicks)} used`);
  if (flawsAtTicks.length > 0)
    parts.push(`${flawsAtTicks.length === 1 ? 'flaw' : 'flaws'} at ${flawsAtTicks.map(show).join(', ')}`);
  return `${input.name}: ${parts.join(', ')}`;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
