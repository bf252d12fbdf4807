/**
 * One square of a photo: the light that its pixels stand for, and whether that can be relied on.
 *
 * Pixels are sRGB (IEC 61966-2-1), averaged in linear light, since a mean of the coded values is darker than the cloth.
 */

/** The fewest pixels along a side: fewer leave too much of the weave and the noise in the mean (common practice). */
export const LEAST_SIDE_PX = 100;

/** At or above it the camera may have run out of light to tell, at or below the other out of dark (our rule). */
const CLIPPED_HIGH = 250;
const CLIPPED_LOW = 2;

/** Cells a side that light is compared over; what is smaller than one is the weave. */
const CELLS = 8;

/** A square by its centre, in thousandths of the picture's width and height, and its side in thousandths of the width. */
export interface AreaMark {
  readonly xMilli: number;
  readonly yMilli: number;
  readonly sideMilli: number;
}

export interface PictureSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** A square in pixels, from the top left corner of the picture. */
export interface PixelSquare {
  readonly leftPx: number;
  readonly topPx: number;
  readonly sidePx: number;
}

/** The pixels that a mark stands for; they may lie partly outside of the picture. */
export function squareOf(
  { xMilli, yMilli, sideMilli }: AreaMark,
  { widthPx, heightPx }: PictureSize,
): PixelSquare {
  const sidePx = Math.round((sideMilli * widthPx) / 1000);
  return {
    leftPx: Math.round((xMilli * widthPx) / 1000 - sidePx / 2),
    topPx: Math.round((yMilli * heightPx) / 1000 - sidePx / 2),
    sidePx,
  };
}

/** Red, green and blue in linear light, 1 being the most that the picture can hold. */
export type LinearLight = readonly [red: number, green: number, blue: number];

/** What a square of a photo shows. */
export interface AreaMeasured {
  readonly sidePx: number;
  readonly light: LinearLight;
  /** shares of the pixels, from 0 to 1, of which a channel is at its end */
  readonly clippedHigh: number;
  readonly clippedLow: number;
  /** how the light grows from left to right and from top to bottom, as a share of it a pixel */
  readonly slopeX: number;
  readonly slopeY: number;
  /** what is left beside the slope: the relative standard deviation of the cells */
  readonly unevenness: number;
}

const LINEAR = Float64Array.from({ length: 256 }, (_, coded) => {
  const part = coded / 255;
  return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
});

/** Luminance of linear red, green and blue (IEC 61966-2-1). */
export function luminanceOf([red, green, blue]: LinearLight): number {
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/**
 * Measures a square of pixels: red, green and blue of each, row after row.
 *
 * @throws {RangeError} where there are not three values for each pixel of a square
 */
export function measureArea(pixels: Uint8Array, sidePx: number): AreaMeasured {
  const count = sidePx * sidePx;
  if (sidePx < CELLS || pixels.length !== count * 3)
    throw new RangeError(`these are no pixels of a square of ${sidePx} a side`);
  const cells = Array.from({ length: CELLS * CELLS }, () => ({ red: 0, green: 0, blue: 0, count: 0 }));
  let high = 0;
  let low = 0;
  for (let pixel = 0; pixel < count; pixel++) {
    const red = pixels[pixel * 3] as number;
    const green = pixels[pixel * 3 + 1] as number;
    const blue = pixels[pixel * 3 + 2] as number;
    if (red >= CLIPPED_HIGH || green >= CLIPPED_HIGH || blue >= CLIPPED_HIGH) high += 1;
    if (red <= CLIPPED_LOW || green <= CLIPPED_LOW || blue <= CLIPPED_LOW) low += 1;
    const row = Math.floor((Math.floor(pixel / sidePx) * CELLS) / sidePx);
    const cell = cells[
      row * CELLS + Math.floor(((pixel % sidePx) * CELLS) / sidePx)
    ] as (typeof cells)[number];
    cell.red += LINEAR[red] as number;
    cell.green += LINEAR[green] as number;
    cell.blue += LINEAR[blue] as number;
    cell.count += 1;
  }
  const meanOf = (channel: 'red' | 'green' | 'blue') =>
    cells.reduce((sum, cell) => sum + cell[channel], 0) / count;
  const light = [meanOf('red'), meanOf('green'), meanOf('blue')] as const;
  const ofCells = cells.map((cell) => luminanceOf([cell.red, cell.green, cell.blue]) / cell.count);
  return {
    sidePx,
    light,
    clippedHigh: high / count,
    clippedLow: low / count,
    ...evennessOf(ofCells, sidePx),
  };
}

/** The plane through the cells' light, as shares of the mean, by least squares; on an even grid both slopes stand alone. */
function evennessOf(cells: readonly number[], sidePx: number) {
  const mean = Math.max(cells.reduce((sum, each) => sum + each, 0) / cells.length, 1e-6);
  const parts = cells.map((each, at) => ({
    over: each / mean - 1,
    x: (((at % CELLS) + 0.5) / CELLS - 0.5) * sidePx,
    y: ((Math.floor(at / CELLS) + 0.5) / CELLS - 0.5) * sidePx,
  }));
  const squares = parts.reduce((sum, { x }) => sum + x * x, 0);
  const slopeX = parts.reduce((sum, { over, x }) => sum + over * x, 0) / squares;
  const slopeY = parts.reduce((sum, { over, y }) => sum + over * y, 0) / squares;
  const rest = parts.reduce((sum, { over, x, y }) => sum + (over - slopeX * x - slopeY * y) ** 2, 0);
  return { slopeX, slopeY, unevenness: Math.sqrt(rest / (cells.length - 3)) };
}
