import { type PlacedBand, placeBands, standOff } from '../../../src/garment/drawing/bands.ts';
import { colourArcs } from '../../../src/garment/drawing/colour-runs.ts';
import { type LevelHem, levelHemOf } from '../../../src/garment/drawing/level-hem.ts';
import {
  DRAWING_SHEET,
  type SheetFrame,
  scaleToFit,
  sheetFrame,
  toTenth,
} from '../../../src/garment/drawing/sheet.ts';
import { isOval, silhouetteOf, type View } from '../../../src/garment/drawing/silhouette.ts';
import type { Tier } from '../../../src/garment/tiers.ts';
import { floorBelowWaist } from '../../../src/garment/vertical-drop.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { listed } from '../../kit/words.ts';
import { type Names, namesOf } from '../garment/names.ts';
import type { Garment } from '../garment/records.ts';
import { asTier, formOfGarment, tiersIn, type WorkedGarment, workGarment } from '../garment/worked.ts';
import { type Dimensions, dimensionsOf, type LabelledBand, type TierMark } from './dimensions.ts';

const LEAST_LETTER_WIDTH = 13;
const LEAST_LETTER_HEIGHT = 13;
const BELOW_TEXT = 12;
/** Runs of one shade that are told apart in all tiers together. */
const MOST_RUNS = 700;

/** A garment from the side, to scale: what views/garments/elevation draws. */
export interface Elevation {
  readonly width: number;
  readonly height: number;
  readonly view: View;
  readonly title: string;
  readonly said: string;
  readonly form: string;
  /** lines across the form where its girths were measured */
  readonly girths: string;
  /** the lowest first, so that upper tiers and what hangs on them lie over the lower ones */
  readonly tiers: readonly DrawnTier[];
  readonly marks: readonly TierMark[];
  readonly dimensions: Dimensions;
  readonly levelHem: LevelHem | null;
  /** what the picture is measured by besides, a sentence each */
  readonly notes: readonly string[];
}

export interface DrawnTier {
  readonly label: string;
  readonly outline: string;
  /** short lines below the seam, closer where the tier is fuller */
  readonly gathers: string;
  readonly shades: readonly {
    readonly letter: string;
    readonly colour: string | null;
    readonly path: string;
  }[];
  readonly letters: readonly { readonly text: string; readonly x: number; readonly y: number }[];
}

/**
 * The pictures of a garment, to one scale: from the side, and from the front as well where its hoops are not round.
 * None where no tier can be worked out.
 */
export function drawElevations(worked: WorkedGarment, names: Names, units: Units): Elevation[] {
  const form = formOfGarment(worked.garment);
  const floorTicks = floorBelowWaist(form, worked.garment);
  const labels = new Map(worked.garment.tiers.map(({ id, label }) => [id, label]));
  const tiers = tiersIn(worked.garment).map(asTier);
  const strips = new Map(worked.tiers.map(({ tierId, count }) => [tierId, count.strips]));
  const views: readonly View[] = isOval(form) ? ['side', 'front'] : ['side'];
  const seen = views.flatMap((view) => {
    const side = silhouetteOf(form, view);
    const bands = side.length < 2 ? [] : placeBands(tiers, side, ({ tierId }) => strips.has(tierId));
    return bands.length === 0 ? [] : [{ view, side, bands }];
  });
  const scale = Math.min(...seen.map(({ side, bands }) => scaleToFit(side, bands, floorTicks)));
  return seen.map(({ view, side, bands }) =>
    drawElevation(
      worked.garment,
      view,
      bands.map((band) => {
        const { tierId } = band.tier;
        return { ...band, label: labels.get(tierId) ?? '', strips: strips.get(tierId) ?? 0 };
      }),
      sheetFrame(side, bands, floorTicks, scale),
      names,
      units,
    ),
  );
}

/** A tier in its place, with its label and how many strips it is made of. */
interface BandOfStrips extends PlacedBand<Tier>, Pick<LabelledBand, 'label'> {
  readonly strips: number;
}

/** The pictures of a garment as the book has it. @throws {Refusal} unknown */
export function drawnGarment(
  reader: Reader,
  code: string,
  { system, stepTicks }: Units,
): readonly Elevation[] {
  return drawnOf(reader, code, system, stepTicks);
}

const drawnOf = keptUntilWritten((reader, code: string, system: Units['system'], stepTicks: number) => {
  const worked = workGarment(reader, code);
  return drawElevations(worked, namesOf(reader, worked.garment), { system, stepTicks });
});

function drawElevation(
  garment: Garment,
  view: View,
  bands: readonly BandOfStrips[],
  frame: SheetFrame,
  names: Names,
  units: Units,
): Elevation {
  const most = Math.max(12, Math.floor(MOST_RUNS / bands.length));
  const { marks, ...dimensions } = dimensionsOf(bands, frame, units);
  const levelHem = levelHemOf(garment, view, bands, frame);
  return {
    width: DRAWING_SHEET.width,
    height: Math.max(
      frame.height,
      ...marks.map(({ y }) => y + BELOW_TEXT),
      ...dimensions.drops.map(({ y }) => y + BELOW_TEXT),
      levelHem ? levelHem.lowestY + BELOW_TEXT : 0,
    ),
    view,
    title: `From the ${view}`,
    said: `${garment.name} from the ${view}, drops along the form: ${sayBands(bands, units)}`,
    form: frame.stretch(frame.firstDrop, frame.lastDrop, () => 0).outline,
    girths: garment.girths.map(({ dropTicks }) => frame.line(dropTicks)).join(''),
    tiers: bands.map((band) => drawTier(band, frame, names, most)),
    marks,
    dimensions,
    levelHem,
    notes: notesOf(garment, levelHem !== null, units),
  };
}

function drawTier(band: BandOfStrips, frame: SheetFrame, names: Names, most: number): DrawnTier {
  const { startTicks, endTicks } = band;
  const stand = (dropTicks: number) => standOff(band, dropTicks);
  const middle = (startTicks + endTicks) / 2;
  const height = frame.y(endTicks) - frame.y(startTicks);
  const { outline, patch } = frame.stretch(startTicks, endTicks, stand);
  const [standMiddle, y] = [stand(middle), toTenth(frame.y(middle) + 4)];
  const runs = colourArcs(band.tier.blocks, band.strips, band.tier.offsetStrips, most);
  const paths = new Map<number, string>();
  const letters = runs.flatMap(({ shadeId, fromAngle, toAngle }) => {
    paths.set(shadeId, (paths.get(shadeId) ?? '') + patch(fromAngle, toAngle));
    const [left, right] = [frame.x(middle, standMiddle, fromAngle), frame.x(middle, standMiddle, toAngle)];
    const roomy = right - left >= LEAST_LETTER_WIDTH && height >= LEAST_LETTER_HEIGHT;
    return roomy ? [{ text: names.letter(shadeId), x: toTenth((left + right) / 2), y }] : [];
  });
  return {
    label: band.label,
    outline,
    gathers: gathersOf(band, frame),
    shades: [...paths].map(([shadeId, path]) => ({
      letter: names.letter(shadeId),
      colour: names.colour(shadeId),
      path,
    })),
    letters: spaced(letters),
  };
}

function gathersOf(band: PlacedBand, frame: SheetFrame): string {
  const { tier, startTicks, endTicks } = band;
  if (tier.fullnessMilli <= 1000) return '';
  const count = Math.min(40, Math.round((9 * tier.fullnessMilli) / 1000));
  const at = (part: number) => {
    const drop = startTicks + (endTicks - startTicks) * part;
    return frame.ring(drop, standOff(band, drop));
  };
  const [seam, long, short] = [at(0), at(0.26), at(0.14)];
  const lines = Array.from({ length: count }, (_, place) => {
    const angle = (Math.PI * (place + 0.5)) / count;
    return `M${seam(angle)}L${(place % 2 === 0 ? long : short)(angle)}`;
  });
  return lines.join('');
}

/** Letters that would touch are left out: the hatch in print and the strip chart tell those blocks. */
function spaced<T extends { readonly x: number }>(letters: readonly T[]): T[] {
  const kept: T[] = [];
  for (const letter of letters) {
    const last = kept.at(-1);
    if (!last || letter.x - last.x >= LEAST_LETTER_WIDTH) kept.push(letter);
  }
  return kept;
}

/** The floor below the waist, and the drops to a level hem over a form that is tilted. */
function notesOf(garment: Garment, isDrawn: boolean, units: Units): string[] {
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const { waistHeightTicks, frontDropTicks, sideDropTicks, backDropTicks } = garment;
  const drops = [
    ...(frontDropTicks === null ? [] : [`${size(frontDropTicks)} down the front`]),
    ...(sideDropTicks === null ? [] : [`${size(sideDropTicks)} at the side`]),
    ...(backDropTicks === null ? [] : [`${size(backDropTicks)} down the back`]),
  ];
  return [
    ...(waistHeightTicks === null ? [] : [`The floor is ${size(waistHeightTicks)} below the waist.`]),
    ...(drops.length === 0
      ? []
      : [
          `Drops to a level hem: ${listed(drops)}.`,
          isDrawn
            ? 'The form is drawn upright, its front at the left; the dashed line is level once it is worn.'
            : 'It is drawn upright.',
        ]),
  ];
}

function sayBands(bands: readonly BandOfStrips[], units: Units): string {
  const size = (ticks: number) => showSize(ticks, units, 'near');
  return [...bands]
    .sort((a, b) => a.number - b.number)
    .map(({ tier, startTicks, endTicks }) => `${tier.name} from ${size(startTicks)} to ${size(endTicks)}`)
    .join('; ');
}
