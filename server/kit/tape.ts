import { TICKS_PER } from '../../src/quantity/length.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import { wordFor } from './words.ts';

/** Width of every tape in viewBox units; it stands for `maxTicks`, so that a list has one scale. */
export const TAPE_WIDTH = 400;

const LEAST_STRETCH = 1.5;
const LEAST_MARK_GAP = 6;
const NOTCH_HALF = 5;
const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000];

export interface TapeInput {
  /** what the tape is of, e.g. the piece's code; begins the spoken text */
  name: string;
  onHandTicks: number;
  heldTicks: number;
  /** what open garments will cut off what is free; default 0 */
  neededTicks?: number;
  /** length already gone from the piece, drawn dashed behind what is left; default 0 */
  usedTicks?: number;
  /** flaws by distance from the free end of what is on hand; those beyond it are left out */
  flawsAtTicks?: readonly number[];
  /** the longest tape of the list, used part included: the common scale */
  maxTicks: number;
  units: Units;
}

export interface TapeStretch {
  x: number;
  width: number;
}

/** What `partials/tape` draws, in viewBox units. */
export interface Tape {
  /** free and needed by no open garment */
  spare: TapeStretch | null;
  /** free, and needed */
  needed: TapeStretch | null;
  held: TapeStretch | null;
  used: TapeStretch | null;
  /** all that is on hand */
  outline: TapeStretch | null;
  /** the same where all of it is to spare, so that one shape draws it */
  whole: TapeStretch | null;
  /** one SVG path of the unit ticks above the bar */
  marks: string;
  /** where a flaw notches the lower edge */
  notches: TapeStretch[];
  said: string;
}

/**
 * Shapes one piece as a tape: what is to spare, then needed, held, used, so that the lengths to spare of a list start
 * at one line and compare by eye. Neither the ledger nor the needs say where on the piece a length lies.
 * @throws RangeError when a length is negative, more is held or needed than there is, or the tape outruns the scale
 */
export function shapeTape(input: TapeInput): Tape {
  const { onHandTicks, heldTicks, neededTicks = 0, usedTicks = 0, maxTicks, units } = input;
  if (onHandTicks < 0 || heldTicks < 0 || neededTicks < 0 || usedTicks < 0)
    throw new RangeError('a tape has no negative length');
  if (heldTicks + neededTicks > onHandTicks)
    throw new RangeError('a tape cannot hold or need more than there is');
  if (!(maxTicks > 0) || onHandTicks + usedTicks > maxTicks)
    throw new RangeError('the tape is longer than its scale');
  const place = (ticks: number) => round((ticks / maxTicks) * TAPE_WIDTH);
  const freeTicks = onHandTicks - heldTicks;
  const outline = stretch(0, place(onHandTicks));
  const flawsAtTicks = (input.flawsAtTicks ?? []).filter((ticks) => ticks >= 0 && ticks <= onHandTicks);
  return {
    spare: stretch(0, place(freeTicks - neededTicks)),
    needed: stretch(place(freeTicks - neededTicks), place(freeTicks)),
    held: stretch(place(freeTicks), place(onHandTicks)),
    used: stretch(place(onHandTicks), place(onHandTicks + usedTicks)),
    outline,
    whole: heldTicks + neededTicks === 0 ? outline : null,
    marks: drawMarks(onHandTicks + usedTicks, maxTicks, units),
    notches: flawsAtTicks.map((ticks) => notch(place(ticks), place(onHandTicks))),
    said: sayTape({ ...input, flawsAtTicks }, freeTicks - neededTicks),
  };
}

// A millimetre of free cloth on a long scale still shows.
function stretch(from: number, to: number): TapeStretch | null {
  return to > from ? { x: from, width: Math.max(round(to - from), LEAST_STRETCH) } : null;
}

function notch(at: number, end: number): TapeStretch {
  const from = Math.max(0, at - NOTCH_HALF);
  return { x: round(from), width: round(Math.min(end, at + NOTCH_HALF) - from) };
}

function drawMarks(lengthTicks: number, maxTicks: number, units: Units): string {
  const { stepTicks, marks } = scaleOf(maxTicks, units);
  return marks.slice(0, Math.floor(lengthTicks / stepTicks) + 1).join('');
}

interface Scale {
  readonly maxTicks: number;
  readonly system: Units['system'];
  readonly stepTicks: number;
  /** of the whole scale */
  readonly marks: readonly string[];
}
let lastScale: Scale | null = null;

/** The ticks of a scale; the tapes of a list have one in common, so that the last is kept. */
function scaleOf(maxTicks: number, units: Units): Scale {
  if (lastScale?.maxTicks === maxTicks && lastScale.system === units.system) return lastScale;
  const { stepTicks, tallEvery } = tapeStep(maxTicks, units);
  const mark = (n: number) => {
    const x = round(((n * stepTicks) / maxTicks) * TAPE_WIDTH);
    return `M${x} 6V${n % tallEvery === 0 ? 0 : 3}`;
  };
  const marks = Array.from({ length: Math.floor(maxTicks / stepTicks) + 1 }, (_, n) => mark(n));
  lastScale = { maxTicks, system: units.system, stepTicks, marks };
  return lastScale;
}

/**
 * The length between two ticks of a tape, and how many of them make a tall one: a metre or a yard,
 * or a round multiple where those would crowd; a tenth of a metre or a quarter yard where the whole
 * scale is under two of them.
 */
export function tapeStep(maxTicks: number, units: Units): { stepTicks: number; tallEvery: number } {
  const metric = units.system === 'metric';
  const unitTicks = metric ? TICKS_PER.m : TICKS_PER.yd;
  if (maxTicks < 2 * unitTicks)
    return metric ? { stepTicks: unitTicks / 10, tallEvery: 5 } : { stepTicks: unitTicks / 4, tallEvery: 4 };
  const roomy = (step: number) => ((step * unitTicks) / maxTicks) * TAPE_WIDTH >= LEAST_MARK_GAP;
  const step = STEPS.find(roomy) ?? Math.ceil((LEAST_MARK_GAP * maxTicks) / (TAPE_WIDTH * unitTicks));
  return { stepTicks: step * unitTicks, tallEvery: 5 };
}

/** What a tick is worth, for `partials/tape-key`: "One tick is 1 m, a tall one 5 m". */
export function sayTapeStep(maxTicks: number, units: Units): string {
  const { stepTicks, tallEvery } = tapeStep(maxTicks, units);
  const show = (ticks: number) => showLength(ticks, units, 'near');
  return `One tick is ${show(stepTicks)}, a tall one ${show(stepTicks * tallEvery)}`;
}

function sayTape(input: TapeInput, spareTicks: number): string {
  const { onHandTicks, heldTicks, neededTicks = 0, usedTicks = 0, flawsAtTicks = [], units } = input;
  const show = (ticks: number) => showLength(ticks, units, 'down');
  const onHand = show(onHandTicks);
  const parts = [`${onHand} on hand`, `${spareTicks === onHandTicks ? onHand : show(spareTicks)} to spare`];
  if (neededTicks > 0) parts.push(`${show(neededTicks)} needed`);
  if (heldTicks > 0) parts.push(`${show(heldTicks)} held`);
  if (usedTicks > 0) parts.push(`${show(usedTicks)} used`);
  if (flawsAtTicks.length > 0)
    parts.push(`${wordFor(flawsAtTicks.length, 'flaw', 'flaws')} at ${flawsAtTicks.map(show).join(', ')}`);
  return `${input.name}: ${parts.join(', ')}`;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
