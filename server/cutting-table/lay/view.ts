import { crossCutsOf, isRestKept, type LaidBox, restsToKeep, slitsOf } from '../../../src/cut-plan/lay.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { StoredSlit } from '../../cut-plans/store.ts';
import type { Names } from '../../garments/garment/names.ts';
import { showStrip } from '../../garments/versions/differences.ts';
import { countOf, listed } from '../../kit/words.ts';
import { type LayAtTable, laidOut, type PlanAtTable, restKey } from './held-lays.ts';
import { drawLay, type LayPicture } from './picture.ts';

/** What every picture and page of a garment's lays needs to name things. */
export interface LayNames {
  readonly names: Names;
  /** by the number of a tier: its letter on the page, and its name */
  readonly tiers: ReadonlyMap<number, { readonly letter: string; readonly name: string }>;
  readonly usefulTicks: number;
  readonly units: Units;
}

/** One lay as a person cuts it. */
export interface LayView {
  readonly number: number;
  readonly piece: { readonly code: string; readonly place: string; readonly lot: string };
  readonly lengthTicks: number;
  readonly length: string;
  /** what is cut off before it because of a flaw; '' where it begins at the free end */
  readonly lead: string;
  /** lead and lay together */
  readonly takenTicks: number;
  readonly taken: string;
  readonly runs: readonly RunView[];
  /** where it is slit from end to end, from the left selvedge */
  readonly slits: readonly string[];
  /** where columns are cut across, from the beginning of the lay, in sentences */
  readonly crossCuts: readonly string[];
  readonly rests: readonly RestView[];
  readonly flaws: number;
  readonly picture: LayPicture;
}

/** Equal strips of one tier beside each other. */
export interface RunView {
  readonly letter: string;
  readonly tier: string;
  readonly strips: number;
  readonly size: string;
  readonly said: string;
}

/** What is left beside the strips. */
export interface RestView {
  readonly key: string;
  readonly widthTicks: number;
  readonly lengthTicks: number;
  readonly size: string;
  /** whether it is kept unless somebody says otherwise */
  readonly keep: boolean;
}

export function shapeLay(at: LayAtTable, plan: PlanAtTable['plan'], with_: LayNames): LayView {
  const { units } = with_;
  const { lay, piece, leadTicks } = at;
  const width = piece.usable_width_ticks;
  const takenTicks = leadTicks + lay.lengthTicks;
  const letter = (slit: StoredSlit) => with_.tiers.get(slit.tierId)?.letter ?? '?';
  const runs = lay.slits.map((slit) => ({
    ...slit,
    label: letter(slit),
    colour: with_.names.colour(plan.shadeId),
  }));
  const depths = lay.slits.map(({ depthTicks }) => depthTicks);
  const keepsRest = (rest: LaidBox) => isRestKept(rest, depths, with_.usefulTicks);
  const picture = drawLay(
    { ...laidOut(lay), runs, widthTicks: width, leadTicks, flaws: at.flaws, keepsRest },
    units,
  );
  return {
    number: lay.position,
    piece: { code: piece.code, place: piece.place_name ?? '', lot: piece.lot_code },
    lengthTicks: lay.lengthTicks,
    length: showSize(lay.lengthTicks, units, 'up'),
    lead: leadTicks === 0 ? '' : showSize(leadTicks, units, 'up'),
    takenTicks,
    taken: showLength(takenTicks, units, 'up'),
    runs: lay.slits.map((slit) => shapeRun(slit, with_)),
    slits: slitsOf(lay.slits, width).map((slit) => showSize(slit, units, 'near')),
    crossCuts: lay.slits.flatMap((slit) => sayCrossCuts(slit, lay.lengthTicks, letter(slit), units)),
    rests: restsAt(at, with_.usefulTicks).map(({ box, keep }) => ({
      key: restKey(box),
      widthTicks: box.rightTicks - box.leftTicks,
      lengthTicks: box.toTicks - box.fromTicks,
      size: `${showSize(box.rightTicks - box.leftTicks, units, 'down')} wide, ${showSize(box.toTicks - box.fromTicks, units, 'down')} long`,
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

function shapeRun(slit: StoredSlit, { tiers, units }: LayNames): RunView {
  const size = showStrip(slit, units);
  const how = sayHow(slit);
  return {
    letter: tiers.get(slit.tierId)?.letter ?? '?',
    tier: tiers.get(slit.tierId)?.name ?? 'a tier',
    strips: slit.strips,
    size,
    said: `${countOf(slit.strips, 'strip', 'strips')} of ${size}${how === '' ? '' : `, ${how}`}`,
  };
}

/** How a run of strips lies: "2 side by side, 3 behind each other and lengthwise"; '' for one strip across. */
export function sayHow({ columns, stack, turned }: Pick<StoredSlit, 'columns' | 'stack' | 'turned'>): string {
  return listed([
    ...(columns > 1 ? [`${columns} side by side`] : []),
    ...(stack > 1 ? [`${stack} behind each other`] : []),
    ...(turned ? ['lengthwise'] : []),
  ]);
}

function sayCrossCuts(slit: StoredSlit, heightTicks: number, letter: string, units: Units): string[] {
  const cuts = crossCutsOf(slit, heightTicks).map((at) => showSize(at, units, 'near'));
  return cuts.length === 0 ? [] : [`${letter} at ${listed(cuts)}`];
}
