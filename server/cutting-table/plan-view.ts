import { type Columns, differentLays, type Lay, slitting } from '../../src/cut-plan/plan.ts';
import { showLength, showSize, type Units } from '../../src/length-show.ts';
import { countOf } from '../garments/words.ts';
import { piecePath } from '../shelf/address.ts';
import { drawLay, type LayPicture } from './lay-picture.ts';
import { sayHow } from './lay-view.ts';
import type { LayState } from './plan-store.ts';

/** A piece that a plan cuts from. */
export interface PlanPieceView {
  readonly code: string;
  readonly href: string;
  readonly lot: string;
  readonly width: string;
  readonly uses: string;
  /** of what may be planned of it; '' where a plan is held */
  readonly left: string;
  readonly lays: readonly LayGroupView[];
}

/** Lays that follow each other and are slit alike. */
export interface LayGroupView {
  readonly times: number;
  readonly length: string;
  /** what each of them gives, run by run from the left edge */
  readonly gives: readonly string[];
  /** null where a lay slit alike was drawn above */
  readonly picture: LayPicture | null;
  /** '' in a plan that is not held */
  readonly state: LayState | '';
}

/** What the views need to name pieces, lots and tiers. */
export interface PlanNames {
  readonly units: Units;
  readonly colour: string | null;
  readonly pieces: ReadonlyMap<number, PieceNamed>;
  /** by `kindId` */
  tier(kindId: number): { readonly letter: string; readonly name: string };
}

export interface PieceNamed {
  readonly code: string;
  readonly lot: string;
  readonly widthTicks: number;
}

/** A lay with what became of it. */
export interface ShownLay {
  readonly lay: Lay;
  readonly state: LayState | '';
}

/** The pieces of a plan in its order, each with its lays. Lays that are slit alike are drawn once. */
export function shapePieces(
  lays: readonly ShownLay[],
  names: PlanNames,
  leftOf: (pieceId: number) => string,
): PlanPieceView[] {
  const drawn = new Set<string>();
  const ids = [...new Set(lays.map(({ lay }) => lay.pieceId))];
  return ids.flatMap((pieceId): PlanPieceView[] => {
    const piece = names.pieces.get(pieceId);
    if (!piece) return [];
    const own = lays.filter(({ lay }) => lay.pieceId === pieceId);
    const usedTicks = own.reduce((sum, { lay }) => sum + lay.heightTicks, 0);
    return [
      {
        code: piece.code,
        href: piecePath(piece.code),
        lot: piece.lot,
        width: showSize(piece.widthTicks, names.units, 'down'),
        uses: showLength(usedTicks, names.units, 'up'),
        left: leftOf(pieceId),
        lays: groupsOf(own).map((group) => shapeGroup(group, piece, names, drawn)),
      },
    ];
  });
}

interface Group extends ShownLay {
  times: number;
}

function groupsOf(lays: readonly ShownLay[]): Group[] {
  const groups: Group[] = [];
  for (const { lay, state } of lays) {
    const last = groups.at(-1);
    if (last && last.state === state && gives(last.lay) === gives(lay)) last.times += 1;
    else groups.push({ lay, state, times: 1 });
  }
  return groups;
}

function gives(lay: Lay): string {
  return `${slitting(lay)} ${lay.columns.map(({ strips }) => strips).join()}`;
}

function shapeGroup(
  { lay, state, times }: Group,
  piece: PieceNamed,
  names: PlanNames,
  drawn: Set<string>,
): LayGroupView {
  const key = `${piece.widthTicks} ${gives(lay)}`;
  const isNew = !drawn.has(key);
  drawn.add(key);
  return {
    times,
    length: showSize(lay.heightTicks, names.units, 'up'),
    gives: lay.columns.map((run) => sayRun(run, names)),
    picture: isNew ? drawn1(lay, piece, names) : null,
    state,
  };
}

function drawn1(lay: Lay, { widthTicks }: PieceNamed, names: PlanNames): LayPicture {
  const runs = lay.columns.map((run) => ({
    ...run,
    label: names.tier(run.kindId).letter,
    colour: names.colour,
  }));
  return drawLay({ heightTicks: lay.heightTicks, runs, widthTicks, flaws: [] }, names.units);
}

function sayRun(run: Columns, names: PlanNames): string {
  const { letter, name } = names.tier(run.kindId);
  const { units } = names;
  const [depth, length] = run.turned ? [run.acrossTicks, run.alongTicks] : [run.alongTicks, run.acrossTicks];
  const how = sayHow(run);
  const strips = `${countOf(run.strips, 'strip', 'strips')} of ${showSize(depth, units, 'up')} × ${showSize(length, units, 'up')}`;
  return `${letter} ${name}: ${strips}${how === '' ? '' : ` (${how})`}`;
}

/** "12 lays, 3 of them different" */
export function sayLays(lays: readonly Lay[]): string {
  const different = differentLays(lays);
  return different === lays.length || lays.length < 2
    ? countOf(lays.length, 'lay', 'lays')
    : `${lays.length} lays, set out ${different === 1 ? 'once' : `${different} times`}`;
}
