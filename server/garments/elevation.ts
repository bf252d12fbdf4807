import { showSize, type Units } from '../../src/length-show.ts';
import type { Names } from './names.ts';
import type { Garment, TierRecord } from './records.ts';
import { type SidePoint, sideAt, sideBetween, sideOf } from './silhouette.ts';
import { stripRuns } from './strip-runs.ts';
import { startDrops, tiersIn, type WorkedGarment } from './worked.ts';

/** Width of the drawing in its own units, and the room for what is written on its two sides. */
const WIDTH = 350;
const LEFT = 58;
const RIGHT = 118;
const TOP = 14;
const MOST_HEIGHT = 300;
const LEAST_LETTER_WIDTH = 13;
const LEAST_LETTER_HEIGHT = 12;
const DROP_GAP = 13;
const LABEL_GAP = 27;

/** A garment from the side, to scale: what views/garments/elevation draws. */
export interface Elevation {
  readonly width: number;
  readonly height: number;
  readonly said: string;
  readonly form: string;
  /** the lowest first, so that upper tiers and what edges them lie over the lower ones */
  readonly tiers: readonly DrawnTier[];
  readonly labels: readonly Label[];
  readonly drops: readonly Label[];
}

export interface DrawnTier {
  readonly outline: string;
  readonly blocks: readonly {
    readonly points: string;
    readonly colour: string | null;
    readonly letter: { readonly text: string; readonly x: number; readonly y: number } | null;
  }[];
}

/** Lines of text, and a thin line from them to what they name. */
export interface Label {
  readonly lines: readonly string[];
  readonly x: number;
  readonly y: number;
  readonly leader: string;
}

/** Draws a garment that has a form; null where no tier can be worked out. */
export function drawElevation(worked: WorkedGarment, names: Names, units: Units): Elevation | null {
  const { garment } = worked;
  const side = sideOf(garment.girths);
  const starts = startDrops(tiersIn(garment));
  const bands = tiersIn(garment).flatMap((tier) => {
    const count = worked.tiers.find(({ tierId }) => tierId === tier.id)?.count;
    const start = starts.get(tier.id);
    if (!count || start === undefined) return [];
    return [{ tier, strips: count.strips, start, root: starts.get(rootOf(tier, garment)) ?? start }];
  });
  if (bands.length === 0 || side.length < 2) return null;
  const hem = Math.max(...bands.map(({ tier, start }) => start + tier.depthTicks));
  const lowest = Math.max(hem, lastDrop(side));
  const scale = scaleOf(side, lowest);
  const place = placing(side, scale);
  const drawn = [...bands].sort((a, b) => b.root - a.root || b.start - a.start);
  const most = Math.max(12, Math.floor(2400 / bands.length / 2));
  return {
    width: WIDTH,
    height: round(TOP + place.down(lowest) - place.down(firstDrop(side)) + 14),
    said: sayElevation(garment, bands, units),
    form: place.outline(firstDrop(side), lastDrop(side)),
    tiers: drawn.map((band) => drawTier(band, place, names, Math.min(120, most))),
    labels: spread(
      bands.map((band) => labelTier(band, place, units)),
      LABEL_GAP,
    ),
    drops: spread(dropLabels(bands, hem, place, units), DROP_GAP),
  };
}

interface BandDrawn {
  readonly tier: TierRecord;
  readonly strips: number;
  readonly start: number;
  /** where the tier starts that it hangs on at last: its whole chain lies over tiers that start lower */
  readonly root: number;
}

function rootOf(tier: TierRecord, garment: Garment): number {
  let at = tier;
  for (let steps = 0; steps < garment.tiers.length; steps += 1) {
    const edged = garment.tiers.find(({ id }) => id === at.edgesTierId);
    if (!edged) break;
    at = edged;
  }
  return at.id;
}

type Placing = ReturnType<typeof placing>;

/** From drops and angles to the drawing's own units. */
function placing(side: readonly SidePoint[], scale: number) {
  const middle = LEFT + (WIDTH - LEFT - RIGHT) / 2;
  const top = sideAt(side, firstDrop(side)).downTicks;
  const x = (halfWidthTicks: number, angle: number) =>
    round(middle - halfWidthTicks * scale * Math.cos(angle));
  const y = (downTicks: number) => round(TOP + (downTicks - top) * scale);
  /** The part of the surface between two drops and two angles, from the left edge (0) to the right (π). */
  const patch = (fromTicks: number, toTicks: number, fromAngle: number, toAngle: number) => {
    const points = sideBetween(side, fromTicks, toTicks);
    const down = points.map((point) => `${x(point.halfWidthTicks, fromAngle)},${y(point.downTicks)}`);
    const up = points.map((point) => `${x(point.halfWidthTicks, toAngle)},${y(point.downTicks)}`).reverse();
    return [...down, ...up].join(' ');
  };
  return {
    patch,
    outline: (fromTicks: number, toTicks: number) => patch(fromTicks, toTicks, 0, Math.PI),
    down: (dropTicks: number) => y(sideAt(side, dropTicks).downTicks),
    across: (dropTicks: number, angle: number) => x(sideAt(side, dropTicks).halfWidthTicks, angle),
  };
}

function scaleOf(side: readonly SidePoint[], lowest: number): number {
  const bottom = sideAt(side, lowest);
  const widest = Math.max(bottom.halfWidthTicks, ...side.map(({ halfWidthTicks }) => halfWidthTicks));
  const height = bottom.downTicks - sideAt(side, firstDrop(side)).downTicks;
  return Math.min((WIDTH - LEFT - RIGHT) / (2 * widest), MOST_HEIGHT / Math.max(height, 1));
}

function drawTier({ tier, strips, start }: BandDrawn, place: Placing, names: Names, most: number): DrawnTier {
  const end = start + tier.depthTicks;
  const height = place.down(end) - place.down(start);
  return {
    outline: place.outline(start, end),
    blocks: stripRuns(tier.blocks, strips, most).map(({ shadeId, fromAngle, toAngle }) => {
      const middle = start + tier.depthTicks / 2;
      const [left, right] = [place.across(middle, fromAngle), place.across(middle, toAngle)];
      const roomy = right - left >= LEAST_LETTER_WIDTH && height >= LEAST_LETTER_HEIGHT;
      const text = names.letter(shadeId);
      return {
        points: place.patch(start, end, fromAngle, toAngle),
        colour: names.colour(shadeId),
        letter: roomy ? { text, x: round((left + right) / 2), y: round(place.down(middle) + 4) } : null,
      };
    }),
  };
}

function labelTier({ tier, start }: BandDrawn, place: Placing, units: Units): Label {
  const middle = start + tier.depthTicks / 2;
  const [x, y] = [place.across(middle, Math.PI), place.down(middle)];
  const deep = `${showSize(tier.depthTicks, units, 'near')} deep`;
  return { lines: [shortened(tier.name), deep], x: WIDTH - RIGHT + 14, y, leader: `${x} ${y}` };
}

function dropLabels(
  bands: readonly BandDrawn[],
  hem: number,
  place: Placing,
  units: Units,
): readonly Label[] {
  const drops = [...new Set([...bands.map(({ start }) => start), hem])].sort((a, b) => a - b);
  return drops.map((drop) => {
    const [x, y] = [place.across(drop, 0), place.down(drop)];
    return { lines: [showSize(drop, units, 'near')], x: LEFT - 8, y, leader: `${x} ${y}` };
  });
}

/** Moves labels down where they would overlap; their leaders keep to what they name. */
function spread(labels: readonly Label[], gap: number): Label[] {
  const placed: Label[] = [];
  for (const label of [...labels].sort((a, b) => a.y - b.y)) {
    const above = placed.at(-1);
    placed.push({ ...label, y: round(above ? Math.max(label.y, above.y + gap) : label.y) });
  }
  return placed.map(({ leader, ...label }) => ({ ...label, leader: `M${label.x} ${label.y}L${leader}` }));
}

function sayElevation(garment: Garment, bands: readonly BandDrawn[], units: Units): string {
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const parts = bands.map(
    ({ tier, start }) => `${tier.name} from ${size(start)} to ${size(start + tier.depthTicks)}`,
  );
  return `${garment.name} from the side, drops along the form: ${parts.join('; ')}`;
}

function shortened(name: string): string {
  return [...name].length > 16 ? `${[...name].slice(0, 15).join('').trimEnd()}…` : name;
}

function firstDrop(side: readonly SidePoint[]): number {
  return side[0]?.dropTicks ?? 0;
}

function lastDrop(side: readonly SidePoint[]): number {
  return side.at(-1)?.dropTicks ?? 0;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
