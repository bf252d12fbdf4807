import type { Flaw } from '../../../src/cut-plan/job.ts';
import type { Lay, PieceUse } from '../../../src/cut-plan/plan.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A cut piece to scale, its free end to the left: lays, flaws and what is left. In viewBox units. */
export interface TapePicture {
  readonly width: number;
  readonly height: number;
  readonly outline: Box;
  readonly lays: readonly Box[];
  readonly flaws: readonly Box[];
  /** the end that is charged although no strip comes off it; null where there is none */
  readonly waste: Box | null;
  readonly said: string;
}

const TAPE_WIDTH = 400;
const LEAST_HEIGHT = 8;
const MOST_BOXES = 240;

export function drawTape(
  use: PieceUse,
  lays: readonly Lay[],
  flaws: readonly Flaw[],
  longestTicks: number,
  units: Units,
): TapePicture {
  const scale = TAPE_WIDTH / longestTicks;
  const height = round(Math.max(LEAST_HEIGHT, use.widthTicks * scale));
  const tall = height / use.widthTicks;
  const along = (from: number, to: number): Box => ({
    x: round(from * scale),
    y: 0,
    width: round(Math.max(0.4, (to - from) * scale)),
    height,
  });
  const wasted = use.chargedTicks > use.usedTicks;
  const left = wasted ? 0 : use.leftTicks;
  return {
    width: TAPE_WIDTH,
    height,
    outline: along(0, use.lengthTicks),
    lays: lays.slice(0, MOST_BOXES).map((lay) => along(lay.fromTicks, lay.fromTicks + lay.heightTicks)),
    flaws: flaws.map((flaw) => ({
      ...along(flaw.fromTicks, flaw.toTicks),
      y: round(flaw.leftTicks * tall),
      height: round(Math.max(1, (flaw.rightTicks - flaw.leftTicks) * tall)),
    })),
    waste: wasted ? along(use.usedTicks, use.lengthTicks) : null,
    said: `${lays.length} lays take ${showLength(use.usedTicks, units, 'up')} of ${showLength(use.lengthTicks, units, 'down')}; ${left > 0 ? `${showLength(left, units, 'down')} is left` : 'nothing useful is left'}`,
  };
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
