import { type PlacedBand, standOff } from '../../../src/garment/drawing/bands.ts';
import { DRAWING_SHEET, type SheetFrame, toTenth } from '../../../src/garment/drawing/sheet.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';

const DROP_GAP = 14;
const MARK_GAP = 22;
/** From the column of numbers to a second one. */
const SECOND_COLUMN = 22;
/** Where the dimension line of the drops stands, and the column of the tiers' labels. */
const DROPS_X = DRAWING_SHEET.left - 8;
const MARKS_X = DRAWING_SHEET.width - DRAWING_SHEET.right + 16;

/** The label of a tier beside the picture, and a thin line from it to the tier. */
export interface TierMark {
  readonly label: string;
  readonly x: number;
  readonly y: number;
  readonly leader: string;
}

/** A tier in its place, with its label. */
export interface LabelledBand extends PlacedBand {
  readonly label: string;
}

/** Drops measured down the form, with the lines that carry them out of the picture. */
export interface Dimensions {
  /** the dimension line with a tick at each drop */
  readonly line: string;
  /** from the garment's edge to the dimension line */
  readonly extensions: string;
  readonly drops: readonly { readonly text: string; readonly x: number; readonly y: number }[];
  /** null where the height of the waist is not known */
  readonly floor: Floor | null;
}

/** The floor under the garment, and how far above it the hem hangs. */
export interface Floor {
  readonly line: string;
  /** short strokes under the line, as ground is drawn */
  readonly ground: string;
  readonly clear: string;
  readonly x: number;
  readonly y: number;
}

export function dimensionsOf(
  bands: readonly LabelledBand[],
  frame: SheetFrame,
  units: Units,
): Dimensions & { readonly marks: readonly TierMark[] } {
  const marked = markedOf(bands, frame);
  const edges = edgesOf(marked);
  const drops = [...edges.keys()].sort((a, b) => a - b);
  const levels = drops.map((drop) => frame.y(drop));
  const all = drops.map((drop) => ({ text: showSize(drop, units, 'near'), y: frame.y(drop) }));
  const lowest = (frame.floor?.y ?? frame.height) - DROP_GAP / 2;
  const texts = isRoomFor(all, DROP_GAP, lowest)
    ? apart(all, DROP_GAP, { highest: all[0]?.y ?? 0, lowest })
    : thinned(all, DROP_GAP);
  return {
    line: `M${DROPS_X} ${levels[0] ?? 0}V${Math.max(levels.at(-1) ?? 0, frame.floor?.y ?? 0)}${levels.map((y) => `M${DROPS_X - 3} ${y}h6`).join('')}`,
    extensions: drops
      .map((drop) => `M${toTenth(frame.x(drop, edges.get(drop) ?? 0, 0) - 2)} ${frame.y(drop)}H${DROPS_X}`)
      .join(''),
    drops: texts.map(({ text, y }) => ({ text, x: DROPS_X - 6, y: toTenth(y + 4) })),
    floor: floorOf(frame, units),
    marks: marksOf(marked, frame),
  };
}

/** Where the labels of all tiers would not fit beside the picture, those that are sewn on other tiers go without. */
function markedOf(bands: readonly LabelledBand[], frame: SheetFrame): readonly LabelledBand[] {
  if (bands.length * MARK_GAP <= frame.height) return bands;
  return bands.filter(({ tier }) => tier.hangs.on === 'form' || tier.hangs.on === 'foundation');
}

/** Drops at which a tier begins, and the hem; how far the garment's edge stands off the form there. */
function edgesOf(bands: readonly PlacedBand[]): Map<number, number> {
  const edges = new Map<number, number>();
  const put = (drop: number, stand: number) => edges.set(drop, Math.max(stand, edges.get(drop) ?? 0));
  for (const band of bands) put(band.startTicks, band.standTicks);
  const hem = Math.max(...bands.map(({ endTicks }) => endTicks));
  for (const band of bands) if (band.endTicks === hem) put(hem, standOff(band, hem));
  return edges;
}

function floorOf({ floor }: SheetFrame, units: Units): Floor | null {
  if (!floor) return null;
  const [from, to] = [DRAWING_SHEET.left - 14, DRAWING_SHEET.width - DRAWING_SHEET.right + 6];
  const strokes = Array.from({ length: 18 }, (_, place) => from + 6 + ((to - from) * place) / 18);
  const size = (ticks: number) => showSize(ticks, units, 'near');
  return {
    line: `M${from} ${floor.y}H${to}`,
    ground: strokes.map((x) => `M${toTenth(x)} ${floor.y}l-5 6`).join(''),
    clear:
      floor.clearTicks >= 0
        ? `Hem ${size(floor.clearTicks)} clear of the floor`
        : `Hem ${size(-floor.clearTicks)} below the floor`,
    x: from,
    y: toTenth(floor.y + DRAWING_SHEET.underFloor),
  };
}

function marksOf(bands: readonly LabelledBand[], frame: SheetFrame): TierMark[] {
  const marks = bands.map((band) => {
    const middle = (band.startTicks + band.endTicks) / 2;
    const at = `${frame.x(middle, standOff(band, middle), Math.PI)} ${frame.y(middle)}`;
    return { label: band.label, number: band.number, y: frame.y(middle), at };
  });
  const inOrder = marks.sort((a, b) => a.y - b.y || a.number - b.number);
  const room = { highest: MARK_GAP / 2, lowest: frame.height - MARK_GAP / 2 };
  // Where they have no room below each other every other one stands in a second column.
  const columns = (marks.length - 1) * MARK_GAP > room.lowest - room.highest ? 2 : 1;
  return apart(inOrder, MARK_GAP / columns, room).map(({ label, y, at }, place) => {
    const x = MARKS_X + (place % columns) * SECOND_COLUMN;
    return { label, x, y, leader: `M${x - 9} ${y}L${at}` };
  });
}

/**
 * Moves what would overlap apart, in its order: down, up again where it would come to lie below `lowest`, and no higher than
 * `highest`. Where all of that has no room for them the last come to lie below.
 */
function apart<T extends { readonly y: number }>(
  all: readonly T[],
  gap: number,
  { highest, lowest }: { readonly highest: number; readonly lowest: number },
): T[] {
  const down = (ys: readonly number[], from: number) => {
    const placed: number[] = [];
    for (const y of ys) placed.push(Math.max(y, (placed.at(-1) ?? from - gap) + gap));
    return placed;
  };
  const raised = down(
    all.map(({ y }) => y),
    Number.NEGATIVE_INFINITY,
  ).map((y, at) => Math.min(y, lowest - (all.length - 1 - at) * gap));
  const placed = down(raised, highest);
  return all.map((one, at) => ({ ...one, y: toTenth(placed[at] ?? one.y) }));
}

function isRoomFor(all: readonly { readonly y: number }[], gap: number, lowest: number): boolean {
  return (all.length - 1) * gap <= lowest - (all[0]?.y ?? 0);
}

/** From the lowest up, those that do not touch: the hem is always among them, the others keep their ticks. */
function thinned<T extends { readonly y: number }>(all: readonly T[], gap: number): T[] {
  const kept: T[] = [];
  for (const one of [...all].reverse()) {
    const below = kept.at(-1);
    if (!below || below.y - one.y >= gap) kept.push(one);
  }
  return kept.reverse();
}
