import type { Flaw } from '../../../src/cut-plan/job.ts';
import {
  isFlawOnLay,
  type LaidBox,
  type LaidOut,
  type LaidStrips,
  restsOf,
  slitsOf,
  stripBoxes,
} from '../../../src/cut-plan/lay.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import { countOf } from '../../kit/words.ts';

/** A run of strips as it is drawn: what stands on each, and the colour of the cloth. */
export interface DrawnStrips extends LaidStrips {
  /** a letter or number that the strips are told apart by */
  readonly label: string;
  /** '#rrggbb', or null where no colour is known */
  readonly colour: string | null;
  /** what is cut out of each strip, in millimetres from its upper left corner */
  readonly outlines?: readonly string[];
}

/** A lay on its piece. Lengths in ticks. */
export interface LayToDraw extends LaidOut<DrawnStrips> {
  readonly widthTicks: number;
  /** what lies before the lay and is cut off with it */
  readonly leadTicks?: number;
  /** flaws from the edge where the lay begins */
  readonly flaws: readonly Flaw[];
  /** where it is folded lengthwise to be cut */
  readonly foldLinesTicks?: readonly number[];
  /** the rests that are kept, by `keepsRest`; the others are waste */
  readonly keepsRest?: (rest: LaidBox) => boolean;
}

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/**
 * One lay to scale, seen from above, in viewBox units: the piece runs downwards from its free end, its selvedges to
 * the left and right. `partials`: views/cutting-table/lay/picture.eta.
 */
export interface LayPicture {
  readonly width: number;
  readonly height: number;
  readonly outline: Box;
  readonly strips: readonly (Box & {
    readonly label: string;
    readonly fill: string;
    /** outlines in millimetres, `scale` of the picture to each; null where the strip is what is cut */
    readonly cutOut: { readonly outlines: readonly string[]; readonly scale: number } | null;
  })[];
  readonly rests: readonly (Box & { readonly kept: boolean })[];
  readonly flaws: readonly Box[];
  /** where it is slit, from the left edge; '' where there is no room for the figure */
  readonly slits: readonly { readonly x: number; readonly label: string }[];
  /** fold lines, from the left edge */
  readonly folds: readonly number[];
  readonly across: string;
  readonly along: string;
  readonly said: string;
}

const WIDTH = 300;
const MOST_HEIGHT = 460;
const MARGIN = { left: 8, right: 22, top: 20, bottom: 24 };
const ROOM_FOR_LABEL = { width: 13, height: 13 };
const CHARACTER = 6.4;
const MOST_STRIPS = 240;

export function drawLay(lay: LayToDraw, units: Units): LayPicture {
  const { widthTicks, heightTicks, leadTicks = 0, flaws, runs, foldLinesTicks = [] } = lay;
  const scale = Math.min(WIDTH / widthTicks, MOST_HEIGHT / (heightTicks + leadTicks));
  const box = ({ fromTicks, toTicks, leftTicks, rightTicks }: LaidBox): Box => ({
    x: round(MARGIN.left + leftTicks * scale),
    y: round(MARGIN.top + (leadTicks + fromTicks) * scale),
    width: round(Math.max(0.5, (rightTicks - leftTicks) * scale)),
    height: round(Math.max(0.5, (toTicks - fromTicks) * scale)),
  });
  const whole = { leftTicks: 0, rightTicks: widthTicks };
  const seen = flaws.filter((flaw) => isFlawOnLay(flaw, lay, leadTicks));
  const strips = runs.flatMap((run) => stripBoxes(run).map((at) => ({ ...box(at), run })));
  const across = showSize(widthTicks, units, 'down');
  const along = showSize(heightTicks, units, 'near');
  const outline = box({ ...whole, fromTicks: -leadTicks, toTicks: heightTicks });
  return {
    width: round(outline.width + MARGIN.left + MARGIN.right),
    height: round(outline.height + MARGIN.top + MARGIN.bottom),
    outline,
    strips: strips.slice(0, MOST_STRIPS).map(({ run, ...at }) => ({
      ...at,
      label: hasRoom(at) ? run.label : '',
      fill: run.colour ?? 'none',
      cutOut: run.outlines?.length
        ? { outlines: run.outlines, scale: Math.round(scale * TICKS_PER.mm * 10_000) / 10_000 }
        : null,
    })),
    rests: restsOf(lay, widthTicks, leadTicks).map((rest) => ({
      ...box(rest),
      kept: lay.keepsRest?.(rest) ?? false,
    })),
    flaws: seen.map((flaw) =>
      box({
        ...flaw,
        fromTicks: Math.max(-leadTicks, flaw.fromTicks),
        toTicks: Math.min(heightTicks, flaw.toTicks),
      }),
    ),
    slits: placeSlits(slitsOf(runs, widthTicks), scale, units),
    folds: foldLinesTicks.map((at) => round(MARGIN.left + at * scale)),
    across,
    along,
    said: `A lay ${along} long of cloth ${across} wide, slit into ${countOf(strips.length, 'strip', 'strips')}${seen.length > 0 ? ', past a flaw' : ''}${foldLinesTicks.length > 0 ? ', folded at the dashed lines' : ''}`,
  };
}

/** Every slit has its mark, and its figure where the one before leaves room for it. */
function placeSlits(slits: readonly number[], scale: number, units: Units): LayPicture['slits'] {
  let free = 0;
  return slits.map((at) => {
    const x = round(MARGIN.left + at * scale);
    const label = showSize(at, units, 'near');
    const half = (label.length * CHARACTER) / 2;
    if (x - half < free) return { x, label: '' };
    free = x + half + 4;
    return { x, label };
  });
}

function hasRoom(box: Box): boolean {
  return box.width >= ROOM_FOR_LABEL.width && box.height >= ROOM_FOR_LABEL.height;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
