import { crossCutsOf, isRestKept, type LaidBox, restsToKeep, slitsOf } from '../../../src/cut-plan/lay.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { StoredSlit } from '../../cut-plans/store.ts';
import type { Names } from '../../garments/garment/names.ts';
import type { ShapedRow } from '../../garments/parts/cut.ts';
import { showStrip } from '../../garments/versions/differences.ts';
import { countOf, listed } from '../../kit/words.ts';
import { type LayAtTable, laidOut, type PlanAtTable, restKey } from './held-lays.ts';
import { drawLay } from './picture.ts';
import { outlinesIn, sayShapes } from './shapes.ts';

/** What every picture and page of a garment's lays needs to name things. */
export interface LayNames {
  readonly names: Names;
  /** by the number of a tier: its label and its name */
  readonly tiers: ReadonlyMap<number, { readonly label: string; readonly name: string }>;
  /** what is cut out of the rectangles of parts */
  readonly shaped: ReadonlyMap<number, ShapedRow>;
  readonly usefulTicks: number;
  readonly units: Units;
}

/** One lay as a person cuts it, with the lines that it is folded at. */
export function shapeLay(
  at: LayAtTable,
  plan: PlanAtTable['plan'],
  naming: LayNames,
  foldLinesTicks: readonly number[] = [],
) {
  const { units } = naming;
  const { lay, piece, leadTicks } = at;
  const width = piece.usable_width_ticks;
  const takenTicks = leadTicks + lay.lengthTicks;
  const label = (slit: StoredSlit) => naming.tiers.get(slit.tierId)?.label ?? '?';
  const runs = lay.slits.map((slit) => ({
    ...slit,
    label: label(slit),
    colour: naming.names.colour(plan.shadeId),
    outlines: outlinesIn(naming.shaped.get(slit.tierId), slit),
  }));
  const depths = lay.slits.map(({ depthTicks }) => depthTicks);
  const keepsRest = (rest: LaidBox) => isRestKept(rest, depths, naming.usefulTicks);
  const picture = drawLay(
    { ...laidOut(lay), runs, widthTicks: width, leadTicks, flaws: at.flaws, keepsRest, foldLinesTicks },
    units,
  );
  return {
    number: lay.position,
    piece: { code: piece.code, place: piece.place_name ?? '', lot: piece.lot_code },
    lengthTicks: lay.lengthTicks,
    length: showSize(lay.lengthTicks, units, 'up'),
    /** what is cut off before it because of a flaw; '' where it begins at the free end */
    lead: leadTicks === 0 ? '' : showSize(leadTicks, units, 'up'),
    /** lead and lay together */
    takenTicks,
    taken: showLength(takenTicks, units, 'up'),
    runs: lay.slits.map((slit) => shapeRun(slit, naming)),
    /** where it is slit from end to end, from the left selvedge */
    slits: slitsOf(lay.slits, width).map((slit) => showSize(slit, units, 'near')),
    /** where columns are cut across, from the beginning of the lay, in sentences */
    crossCuts: lay.slits.flatMap((slit) => sayCrossCuts(slit, lay.lengthTicks, label(slit), units)),
    rests: restsAt(at, naming.usefulTicks).map(({ box, keep }) => ({
      key: restKey(box),
      widthTicks: box.rightTicks - box.leftTicks,
      lengthTicks: box.toTicks - box.fromTicks,
      size: `${showSize(box.rightTicks - box.leftTicks, units, 'down')} wide, ${showSize(box.toTicks - box.fromTicks, units, 'down')} long`,
      /** whether it is kept unless somebody says otherwise */
      keep,
    })),
    flaws: picture.flaws.length,
    picture,
  };
}

/** The rests of a lay that can be kept; of one that took another length than planned, as it was cut. */
export function restsAt({ lay, piece, leadTicks }: LayAtTable, usefulTicks: number, takenTicks?: number) {
  const of = { widthTicks: piece.usable_width_ticks, leadTicks, usefulTicks };
  return restsToKeep(laidOut(lay), of, takenTicks);
}

/** Equal strips of one tier beside each other. */
export type RunView = ReturnType<typeof shapeRun>;

function shapeRun(slit: StoredSlit, { tiers, shaped, units }: LayNames) {
  const size = showStrip(slit, units);
  const how = sayArrangement(slit);
  return {
    tier: tiers.get(slit.tierId)?.name ?? 'a tier',
    strips: slit.strips,
    size,
    said: `${countOf(slit.strips, 'strip', 'strips')} of ${size}${how === '' ? '' : `, ${how}`}`,
    /** what is cut out of each, in sentences; none where the strips are what is wanted */
    shapes: sayShapes(shaped.get(slit.tierId), slit, units),
  };
}

/** How a run of strips lies: "2 side by side, 3 behind each other and lengthwise"; '' for one strip across. */
export function sayArrangement({
  columns,
  stack,
  turned,
}: Pick<StoredSlit, 'columns' | 'stack' | 'turned'>): string {
  return listed([
    ...(columns > 1 ? [`${columns} side by side`] : []),
    ...(stack > 1 ? [`${stack} behind each other`] : []),
    ...(turned ? ['lengthwise'] : []),
  ]);
}

function sayCrossCuts(slit: StoredSlit, heightTicks: number, label: string, units: Units): string[] {
  const cuts = crossCutsOf(slit, heightTicks).map((at) => showSize(at, units, 'near'));
  return cuts.length === 0 ? [] : [`${label} at ${listed(cuts)}`];
}
