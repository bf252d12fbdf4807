import type { LayState } from '../../../src/cut-plan/held-lays.ts';
import type { Flaw } from '../../../src/cut-plan/job.ts';
import { isFlawOnLay, isRestKept, type LaidBox } from '../../../src/cut-plan/lay.ts';
import { type Columns, differentLays, type Lay, slitting } from '../../../src/cut-plan/plan.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { ShapedRow } from '../../garments/parts/cut.ts';
import { showStrip } from '../../garments/versions/differences.ts';
import { piecePath } from '../../kit/paths.ts';
import { countOf, wordFor } from '../../kit/words.ts';
import { drawLay, type LayPicture } from '../lay/picture.ts';
import { outlinesIn, sayShapes } from '../lay/shapes.ts';
import { sayArrangement } from '../lay/view.ts';

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

/** Lays that follow each other and look alike. */
export interface LayGroupView {
  readonly times: number;
  readonly length: string;
  /** what each of them gives, run by run from the left edge */
  readonly gives: readonly string[];
  /** null where a lay that looks alike was drawn above */
  readonly picture: LayPicture | null;
  /** '' in a plan that is not held */
  readonly state: LayState | '';
}

/** What the views need to name pieces, lots and tiers. */
export interface PlanNames {
  readonly units: Units;
  /** the shortest length that is worth keeping */
  readonly usefulTicks: number;
  readonly colour: string | null;
  readonly pieces: ReadonlyMap<number, PieceNamed>;
  /** by `kindId` */
  tier(kindId: number): {
    readonly label: string;
    readonly name: string;
    readonly shaped?: ShapedRow;
  };
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
  /** what is cut off before it because of a flaw, in ticks */
  readonly leadTicks: number;
  /** flaws of its piece, from the edge where it begins */
  readonly flaws: readonly Flaw[];
}

/** The pieces of a plan in its order, each with its lays. Lays that look alike are drawn once. */
export function shapePlanPieces(
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
    const usedTicks = own.reduce((sum, { lay, leadTicks }) => sum + leadTicks + lay.heightTicks, 0);
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
  for (const shown of lays) {
    const last = groups.at(-1);
    if (last && last.state === shown.state && looks(last) === looks(shown)) last.times += 1;
    else groups.push({ ...shown, times: 1 });
  }
  return groups;
}

/** The same for lays that are slit alike, give as many strips, and have their flaws in the same places. */
function looks({ lay, leadTicks, flaws }: ShownLay): string {
  const seen = flaws
    .filter((flaw) => isFlawOnLay(flaw, lay, leadTicks))
    .map(({ fromTicks, toTicks, leftTicks, rightTicks }) =>
      [fromTicks, toTicks, leftTicks, rightTicks].join(' '),
    );
  return [slitting(lay), lay.columns.map(({ strips }) => strips).join(), leadTicks, ...seen].join('; ');
}

function shapeGroup(group: Group, piece: PieceNamed, names: PlanNames, drawn: Set<string>): LayGroupView {
  const { lay, state, times } = group;
  const key = `${piece.widthTicks} ${looks(group)}`;
  const isNew = !drawn.has(key);
  drawn.add(key);
  return {
    times,
    length: showSize(lay.heightTicks, names.units, 'up'),
    gives: lay.columns.map((run) => sayRun(run, names)),
    picture: isNew ? draw(group, piece, names) : null,
    state,
  };
}

function draw({ lay, leadTicks, flaws }: ShownLay, { widthTicks }: PieceNamed, names: PlanNames): LayPicture {
  const runs = lay.columns.map((run) => ({
    ...run,
    label: names.tier(run.kindId).label,
    colour: names.colour,
    outlines: outlinesIn(names.tier(run.kindId).shaped, run),
  }));
  const depths = lay.columns.map((run) => sizeOf(run).depthTicks);
  const keepsRest = (rest: LaidBox) => isRestKept(rest, depths, names.usefulTicks);
  return drawLay(
    { heightTicks: lay.heightTicks, runs, widthTicks, leadTicks, flaws, keepsRest },
    names.units,
  );
}

function sizeOf({ turned, acrossTicks, alongTicks }: Columns): { depthTicks: number; lengthTicks: number } {
  return turned
    ? { depthTicks: acrossTicks, lengthTicks: alongTicks }
    : { depthTicks: alongTicks, lengthTicks: acrossTicks };
}

function sayRun(run: Columns, names: PlanNames): string {
  const { name, shaped } = names.tier(run.kindId);
  const { units } = names;
  const shapes = sayShapes(shaped, run, units);
  const how = sayArrangement(run);
  const strips = `${countOf(run.strips, 'strip', 'strips')} of ${showStrip(sizeOf(run), units)}`;
  return `${name}: ${strips}${how === '' ? '' : ` (${how})`}${shapes.map((said) => `. ${said.replace(/\.$/, '')}`).join('')}`;
}

/** "12 lays, 3 of them different" */
export function sayLays(lays: readonly Lay[]): string {
  const different = differentLays(lays);
  return different === lays.length || lays.length < 2
    ? countOf(lays.length, 'lay', 'lays')
    : `${lays.length} lays, set out ${wordFor(different, 'once', `${different} times`)}`;
}
