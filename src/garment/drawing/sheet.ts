import { type PlacedBand, standOff } from './bands.ts';
import { type SilhouettePoint, silhouetteAt, silhouetteBetween } from './silhouette.ts';

/** The sheet that a garment is drawn on, in the drawing's own units: room for dimensions around it. */
export const DRAWING_SHEET = {
  width: 360,
  left: 72,
  right: 74,
  top: 12,
  bottom: 16,
  underFloor: 19,
  mostHeight: 330,
} as const;

const ROOM = DRAWING_SHEET.width - DRAWING_SHEET.left - DRAWING_SHEET.right;

/** Pieces into which a tier's curved side is drawn. */
const CURVE_PARTS = 4;

/** Where things are on the sheet: from drops, distances off the form and angles round it to the drawing's units. */
export interface SheetFrame {
  readonly height: number;
  /** where the floor is drawn, and how far above it the hem hangs; below 0 where it would lie on it */
  readonly floor: { readonly y: number; readonly clearTicks: number } | null;
  readonly firstDrop: number;
  readonly lastDrop: number;
  readonly hemDrop: number;
  readonly x: (dropTicks: number, standTicks: number, angle: number) => number;
  readonly y: (dropTicks: number) => number;
  /** a line across the form at a drop, as a path */
  readonly line: (dropTicks: number) => string;
  /** places round the garment at a drop by their angles, as they stand in a path */
  readonly ring: (dropTicks: number, standTicks: number) => (angle: number) => string;
  /** what lies between two drops */
  readonly stretch: (fromTicks: number, toTicks: number, stand: Stand) => DrawnStretch;
}

/** What lies between two drops, of which parts between two angles are drawn as closed paths. */
export interface DrawnStretch {
  /** from the left edge to the right */
  readonly outline: string;
  /** from one angle to another: the left edge is 0, the right π */
  readonly patch: (fromAngle: number, toAngle: number) => string;
}

type Stand = (dropTicks: number) => number;

/** How much of the garment's own ticks one unit of the drawing is, at most, for all of it to fit on the sheet. */
export function scaleToFit(
  side: readonly SilhouettePoint[],
  bands: readonly PlacedBand[],
  floorTicks: number | null,
): number {
  const { top, lowest } = heightsOf(side, bands, floorTicks);
  const widths = bands.map(
    (band) => silhouetteAt(side, band.endTicks).halfWidthTicks + standOff(band, band.endTicks),
  );
  const widest = Math.max(1, ...widths, ...side.map(({ halfWidthTicks }) => halfWidthTicks));
  return Math.min(ROOM / (2 * widest), DRAWING_SHEET.mostHeight / Math.max(1, lowest - top));
}

/** How far below the waist the drawing begins and ends. */
function heightsOf(
  side: readonly SilhouettePoint[],
  bands: readonly PlacedBand[],
  floorTicks: number | null,
) {
  const first = Math.min(side[0]?.dropTicks ?? 0, ...bands.map(({ startTicks }) => startTicks));
  const last = Math.max(side.at(-1)?.dropTicks ?? 0, ...bands.map(({ endTicks }) => endTicks));
  return {
    top: silhouetteAt(side, first).downTicks,
    lowest: Math.max(silhouetteAt(side, last).downTicks, floorTicks ?? 0),
  };
}

/** `floorTicks` is how far the floor lies below the waist, where that is known. */
export function sheetFrame(
  side: readonly SilhouettePoint[],
  bands: readonly PlacedBand[],
  floorTicks: number | null,
  scale: number,
): SheetFrame {
  const firstDrop = side[0]?.dropTicks ?? 0;
  const lastDrop = side.at(-1)?.dropTicks ?? 0;
  const hemDrop = Math.max(...bands.map(({ endTicks }) => endTicks));
  const { top, lowest } = heightsOf(side, bands, floorTicks);
  const middle = DRAWING_SHEET.left + ROOM / 2;
  const across = (dropTicks: number, standTicks: number) => {
    const halfWidth = (silhouetteAt(side, dropTicks).halfWidthTicks + standTicks) * scale;
    return (angle: number) => toTenth(middle - halfWidth * Math.cos(angle));
  };
  const x = (dropTicks: number, standTicks: number, angle: number) => across(dropTicks, standTicks)(angle);
  const level = (downTicks: number) => toTenth(DRAWING_SHEET.top + (downTicks - top) * scale);
  const y = (dropTicks: number) => level(silhouetteAt(side, dropTicks).downTicks);
  const ring: SheetFrame['ring'] = (dropTicks, standTicks) => {
    const [place, height] = [across(dropTicks, standTicks), y(dropTicks)];
    return (angle) => `${place(angle)} ${height}`;
  };
  const stretch: SheetFrame['stretch'] = (fromTicks, toTicks, stand) => {
    const rings = dropsBetween(side, fromTicks, toTicks, stand).map((drop) => ring(drop, stand(drop)));
    const at = (angle: number) => rings.map((place) => place(angle));
    const patch = (fromAngle: number, toAngle: number) =>
      `M${[...at(fromAngle), ...at(toAngle).reverse()].join('L')}Z`;
    return { outline: patch(0, Math.PI), patch };
  };
  return {
    height: toTenth(
      DRAWING_SHEET.top +
        (lowest - top) * scale +
        DRAWING_SHEET.bottom +
        (floorTicks === null ? 0 : DRAWING_SHEET.underFloor),
    ),
    floor:
      floorTicks === null ? null : { y: level(floorTicks), clearTicks: clearOf(floorTicks, side, hemDrop) },
    firstDrop,
    lastDrop,
    hemDrop,
    x,
    y,
    line: (drop) => `M${x(drop, 0, 0)} ${y(drop)}H${x(drop, 0, Math.PI)}`,
    ring,
    stretch,
  };
}

function clearOf(floorTicks: number, side: readonly SilhouettePoint[], hemDrop: number): number {
  return floorTicks - Math.round(silhouetteAt(side, hemDrop).downTicks);
}

/** Where a side is drawn through: the bends of the form, and a few points more where the tier curves. */
function dropsBetween(
  side: readonly SilhouettePoint[],
  fromTicks: number,
  toTicks: number,
  stand: Stand,
): number[] {
  const bends = silhouetteBetween(side, fromTicks, toTicks).map(({ dropTicks }) => dropTicks);
  if (stand(toTicks) === stand(fromTicks)) return bends;
  const parts = Array.from(
    { length: CURVE_PARTS - 1 },
    (_, part) => fromTicks + ((toTicks - fromTicks) * (part + 1)) / CURVE_PARTS,
  );
  return [...new Set([...bends, ...parts])].sort((a, b) => a - b);
}

/** A place on a drawing, in its own units, as fine as is written. */
export function toTenth(value: number): number {
  return Math.round(value * 10) / 10;
}
