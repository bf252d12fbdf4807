import { crossCutsOf, type LaidOut, slitsOf } from './lay.ts';

/** A lay as it comes to the table: off a piece of a usable width, in ticks. */
export interface LayOfPiece extends LaidOut {
  readonly widthTicks: number;
  /** what is cut off before it; such a lay begins a stack of its own. Default 0 */
  readonly leadTicks?: number;
  /** whether the cloth beside its columns is kept whole, so that no fold may lie in it. Default false */
  readonly keepsSpare?: boolean;
  /** whether shapes are cut out of its strips, so that it lies flat. Default false */
  readonly isShaped?: boolean;
}

/** What a cloth allows at the table. */
export interface PlyRules {
  /** layers of cloth that are cut through at once, those of folds counted; 1 or more */
  readonly plyLimit: number;
  /** how often a length is folded lengthwise at most */
  readonly foldLimit: number;
  /** whether a fold line may lie in a strip; otherwise folds lie between strips only */
  readonly foldLineInStrips: boolean;
  /** cloth that is lost where a fold is cut open, in ticks */
  readonly foldAllowanceTicks: number;
}

/** The strokes of the knife through a lay: how many, and how far the blade goes in all, in ticks. */
export interface Strokes {
  readonly strokes: number;
  readonly strokesTicks: number;
  /** the most strips of one length that fall at a stroke */
  readonly atAStroke: number;
}

/** A length folded lengthwise, each time in half, and how it is cut then. Lengths in ticks. */
export interface FoldedLay extends Strokes {
  readonly folds: number;
  /** where the folds lie, from the left selvedge of the length laid flat */
  readonly foldLinesTicks: readonly number[];
  /** the mark that the left selvedge is laid to; null where it is laid to the other selvedge */
  readonly markTicks: number | null;
  /** where it is cut lengthwise, from the fold made last */
  readonly cutsTicks: readonly number[];
  /** whether strips have a fold line in them */
  readonly isInStrips: boolean;
}

/**
 * Strokes through a lay that lies flat: one ends the cut length, one each slit, one each cut across a run of columns. A slit frees
 * a strip; where strips lie behind each other, a cut across frees one of every column.
 */
export function strokesOf(lay: LayOfPiece): Strokes {
  const slits = slitsOf(lay.runs, lay.widthTicks).length;
  const across = lay.runs.map((run) => ({
    cuts: crossCutsOf(run, lay.heightTicks).length,
    ticks: run.columns * run.acrossTicks,
    columns: run.columns,
  }));
  return {
    strokes: 1 + slits + across.reduce((sum, { cuts }) => sum + cuts, 0),
    strokesTicks:
      lay.widthTicks +
      slits * lay.heightTicks +
      across.reduce((sum, { cuts, ticks }) => sum + cuts * ticks, 0),
    atAStroke: Math.max(1, ...across.filter(({ cuts }) => cuts > 0).map(({ columns }) => columns)),
  };
}

/**
 * Folds a lay in half lengthwise so many times. Every stroke goes through all layers, so a fold is allowed only where each
 * of them is to be cut there: columns of one width, whose number the folds halve until at most the last fold lies in a
 * strip. A fold between strips is cut open, for which half of the allowance is taken off each side. Null where it
 * cannot be cut folded so often: strips of two sizes or a gap beside a flaw, no cloth for the allowances, a fold line
 * in a strip that may have none, or in cloth that is kept.
 *
 * Plane geometry. The selvedges are laid together and the strips measured from the last fold; where the cloth beside the
 * strips is kept, the left selvedge is laid to a mark at the edge of the strips instead.
 */
export function foldLay(lay: LayOfPiece, folds: number, rules: PlyRules): FoldedLay | null {
  const block = blockOf(lay);
  if (block === null || lay.isShaped || folds < 1 || folds > rules.foldLimit) return null;
  const { columns, acrossTicks, crossCuts } = block;
  const panels = 2 ** folds;
  const stripsTicks = columns * acrossTicks;
  const hasSlits = columns > 1;
  const halvings = timesHalved(columns);
  // A single column can be folded as it is; trimmed beside it, only once.
  const most = hasSlits ? halvings + 1 : lay.widthTicks === stripsTicks ? folds : 1;
  if (folds > most) return null;
  const isLastCut = hasSlits && folds <= halvings;
  const isFirstCut = hasSlits && folds > 1;
  if (!isLastCut && !rules.foldLineInStrips) return null;
  const half = rules.foldAllowanceTicks / 2;
  const lastTicks = isLastCut ? half : 0;
  const neededTicks = stripsTicks + panels * (lastTicks + (isFirstCut ? half : 0));
  if (neededTicks > lay.widthTicks) return null;
  if (lay.keepsSpare && neededTicks > stripsTicks) return null;
  const isMarked = lay.keepsSpare === true && lay.widthTicks > stripsTicks;
  const spanTicks = isMarked ? stripsTicks : lay.widthTicks;
  const between = Math.ceil(columns / panels) - 1;
  // Folded once between strips, these are measured from the selvedges and what is over lies at the fold.
  const isOverAtFold = folds === 1 && isLastCut && !isMarked;
  const overTicks = isOverAtFold ? (spanTicks - stripsTicks) / panels : lastTicks;
  const isFarCut = isFirstCut || (lay.widthTicks > neededTicks && !isOverAtFold);
  const firstTicks = isLastCut ? overTicks : acrossTicks / 2;
  const cuts = Array.from({ length: between + (isLastCut ? 1 : 0) }, (_, i) => firstTicks + i * acrossTicks);
  if (isFarCut) cuts.push(lastTicks + stripsTicks / panels);
  const endTicks = spanTicks / panels + (isMarked ? lay.widthTicks - stripsTicks : 0);
  const onEachOther = !hasSlits ? 1 : isLastCut || between > 0 ? panels : panels / 2;
  return {
    folds,
    foldLinesTicks: Array.from({ length: panels - 1 }, (_, i) => Math.round(((i + 1) * spanTicks) / panels)),
    markTicks: isMarked ? stripsTicks : null,
    cutsTicks: cuts.map(Math.round),
    isInStrips: !isLastCut,
    strokes: 1 + cuts.length + crossCuts,
    strokesTicks: Math.ceil(endTicks + cuts.length * lay.heightTicks + (crossCuts * stripsTicks) / panels),
    atAStroke: crossCuts > 0 ? columns : onEachOther,
  };
}

/** The columns of a lay whose strips are all of one size, side by side from the left edge; null for any other. */
function blockOf({ runs, heightTicks }: LayOfPiece) {
  const [first] = runs;
  if (!first) return null;
  let columns = 0;
  for (const run of runs) {
    const isAlike =
      run.acrossTicks === first.acrossTicks &&
      run.alongTicks === first.alongTicks &&
      run.stack === first.stack &&
      run.strips === run.columns * run.stack &&
      run.leftTicks === columns * first.acrossTicks;
    if (!isAlike) return null;
    columns += run.columns;
  }
  return { columns, acrossTicks: first.acrossTicks, crossCuts: crossCutsOf(first, heightTicks).length };
}

/** How often a number can be halved: 12 twice, 7 never. */
function timesHalved(count: number): number {
  let [left, times] = [count, 0];
  while (left % 2 === 0) [left, times] = [left / 2, times + 1];
  return times;
}
