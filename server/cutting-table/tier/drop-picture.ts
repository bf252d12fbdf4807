import type { StripSize } from '../../../src/fit/drop.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';

/** One drop of a piece to scale, seen from above: the piece runs downwards, its selvedges to the left and right. */
export interface DropPicture {
  /** in viewBox units; the width stands for the usable width of the piece */
  readonly width: number;
  readonly height: number;
  readonly strips: readonly { readonly x: number; readonly width: number; readonly number: number }[];
  /** the part that is no strip; null where there is none */
  readonly rest: { readonly x: number; readonly width: number } | null;
  readonly said: string;
}

const WIDTH = 320;
/** A drop is drawn no flatter and no taller than this, so that its numbers can be read. */
const HEIGHTS = { least: 36, most: 200 };

export function drawDrop(
  strip: StripSize,
  usableWidthTicks: number,
  strips: number,
  units: Units,
): DropPicture {
  const scale = WIDTH / usableWidthTicks;
  const round = (value: number) => Math.round(value * 100) / 100;
  const place = (columns: number) => round(columns * strip.lengthTicks * scale);
  const restFrom = place(strips);
  const width = showSize(usableWidthTicks, units, 'down');
  const depth = showSize(strip.depthTicks, units, 'up');
  return {
    width: WIDTH,
    height: round(Math.min(HEIGHTS.most, Math.max(HEIGHTS.least, strip.depthTicks * scale))),
    strips: Array.from({ length: strips }, (_, column) => ({
      x: place(column),
      width: round(place(column + 1) - place(column)),
      number: column + 1,
    })),
    rest: restFrom < WIDTH ? { x: restFrom, width: round(WIDTH - restFrom) } : null,
    said: `A drop ${depth} deep of cloth ${width} wide, slit into ${strips}`,
  };
}
