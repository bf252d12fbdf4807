import { TICKS_PER } from '../quantity/length.ts';
import type { Flaw } from './job.ts';

/** Equal strips of a lay, for one tier: columns side by side from the left edge, in each a stack of strips. In ticks. */
export interface LaidStrips {
  readonly leftTicks: number;
  /** Of one strip, across and along the piece. */
  readonly acrossTicks: number;
  readonly alongTicks: number;
  readonly columns: number;
  readonly stack: number;
  /** Strips that are wanted: columns × stack, less those that the last column is short of. */
  readonly strips: number;
}

/** One straight cut length of the full width of a piece, and how it is slit. */
export interface LaidOut<T extends LaidStrips = LaidStrips> {
  readonly heightTicks: number;
  readonly runs: readonly T[];
}

/** A rectangle of a lay: from the edge where the lay begins and from the left edge of the piece. In ticks. */
export interface LaidBox {
  readonly fromTicks: number;
  readonly toTicks: number;
  readonly leftTicks: number;
  readonly rightTicks: number;
}

/** Every strip of a run, column by column from the left, in each the one nearest the beginning of the lay first. */
export function stripBoxes(run: LaidStrips): LaidBox[] {
  return Array.from({ length: run.strips }, (_, i) => {
    const column = Math.floor(i / run.stack);
    const row = i - column * run.stack;
    const leftTicks = run.leftTicks + column * run.acrossTicks;
    const fromTicks = row * run.alongTicks;
    return {
      fromTicks,
      toTicks: fromTicks + run.alongTicks,
      leftTicks,
      rightTicks: leftTicks + run.acrossTicks,
    };
  });
}

/** Where a lay is slit from end to end: the edges of its columns, from the left edge of the piece, in ticks. */
export function slitsOf(runs: readonly LaidStrips[], widthTicks: number): number[] {
  const edges = runs.flatMap((run) =>
    Array.from({ length: run.columns + 1 }, (_, i) => run.leftTicks + i * run.acrossTicks),
  );
  return [...new Set(edges)].filter((at) => at > 0 && at < widthTicks).sort((a, b) => a - b);
}

/** Where the columns of a run are cut across, from the beginning of the lay; the end of the lay itself is left out. */
export function crossCutsOf(run: LaidStrips, heightTicks: number): number[] {
  const ends = Array.from({ length: run.stack }, (_, i) => (i + 1) * run.alongTicks);
  return ends.filter((at) => at < heightTicks);
}

/** The area of the strips of a run in square ticks. */
export function stripArea(run: LaidStrips): bigint {
  return BigInt(run.strips) * BigInt(run.acrossTicks) * BigInt(run.alongTicks);
}

/**
 * How far from the free end a lay begins, so that no strip has a flaw and the piece is long enough: at the free end,
 * or else where it was planned, or else behind the first flaw that gives it room. null where it fits nowhere, or is
 * wider than the piece. Flaws and `plannedTicks` are counted from the free end as it is now.
 */
export function startOfLay(
  lay: LaidOut,
  piece: { readonly lengthTicks: number; readonly widthTicks: number; readonly flaws: readonly Flaw[] },
  plannedTicks: number,
): number | null {
  const right = Math.max(0, ...lay.runs.map((run) => run.leftTicks + run.columns * run.acrossTicks));
  if (right > piece.widthTicks) return null;
  const boxes = lay.runs.flatMap(stripBoxes);
  const starts = [0, plannedTicks, ...piece.flaws.map(({ toTicks }) => toTicks).sort((a, b) => a - b)];
  const fits = (start: number) =>
    start >= 0 &&
    start + lay.heightTicks <= piece.lengthTicks &&
    !boxes.some((box) => piece.flaws.some((flaw) => meets(flaw, box, start)));
  return starts.find(fits) ?? null;
}

function meets(flaw: Flaw, box: LaidBox, start: number): boolean {
  return (
    flaw.fromTicks < start + box.toTicks &&
    start + box.fromTicks < flaw.toTicks &&
    flaw.leftTicks < box.rightTicks &&
    box.leftTicks < flaw.rightTicks
  );
}

/**
 * What is left of a lay beside its strips, the largest first: what is cut off before it (`leadTicks`), the cloth to the
 * right of all columns, as long as was taken for the lay (`takenTicks` less the lead), and what lies behind columns that
 * are shorter than the lay. No two of them lie on each other or on a strip.
 */
export function restsOf(
  lay: LaidOut,
  widthTicks: number,
  leadTicks = 0,
  takenTicks = leadTicks + lay.heightTicks,
): LaidBox[] {
  const right = Math.max(0, ...lay.runs.map((run) => run.leftTicks + run.columns * run.acrossTicks));
  const lead = { fromTicks: -leadTicks, toTicks: 0, leftTicks: 0, rightTicks: widthTicks };
  const beside = {
    fromTicks: 0,
    toTicks: takenTicks - leadTicks,
    leftTicks: right,
    rightTicks: widthTicks,
  };
  const behind = lay.runs.flatMap((run) => behindColumns(run, lay.heightTicks));
  return [lead, beside, ...behind]
    .filter((box) => box.rightTicks > box.leftTicks && box.toTicks > box.fromTicks)
    .sort((a, b) => (boxArea(b) > boxArea(a) ? 1 : boxArea(b) < boxArea(a) ? -1 : 0));
}

/** Behind the full columns of a run, and behind its last column where that has fewer strips. */
function behindColumns(run: LaidStrips, heightTicks: number): LaidBox[] {
  const inLast = run.strips - (run.columns - 1) * run.stack;
  const full = inLast === run.stack ? run.columns : run.columns - 1;
  const box = (columns: number, first: number, rows: number): LaidBox => ({
    fromTicks: rows * run.alongTicks,
    toTicks: heightTicks,
    leftTicks: run.leftTicks + first * run.acrossTicks,
    rightTicks: run.leftTicks + (first + columns) * run.acrossTicks,
  });
  return [box(full, 0, run.stack), box(run.columns - full, full, inLast)];
}

export function boxArea(box: LaidBox): bigint {
  return BigInt(box.toTicks - box.fromTicks) * BigInt(box.rightTicks - box.leftTicks);
}

/** What is smaller than this in length or width is waste, whatever the workroom keeps. Common practice. */
const LEAST_REST_TICKS = 5 * TICKS_PER.cm;
/** Smaller rests of a lay than so many are waste. */
const MOST_RESTS = 3;

/**
 * Whether a rest is kept unless somebody says otherwise: at least `usefulTicks` long, as wide as the least deep strip of
 * the lay, so that one more could be cut along it, and 5 cm at least either way.
 */
export function isRestKept(rest: LaidBox, depthsTicks: readonly number[], usefulTicks: number): boolean {
  return (
    isLargeRest(rest) &&
    rest.toTicks - rest.fromTicks >= usefulTicks &&
    rest.rightTicks - rest.leftTicks >= Math.min(...depthsTicks)
  );
}

function isLargeRest({ fromTicks, toTicks, leftTicks, rightTicks }: LaidBox): boolean {
  return toTicks - fromTicks >= LEAST_REST_TICKS && rightTicks - leftTicks >= LEAST_REST_TICKS;
}

/**
 * The rests of a lay that can be kept, three at most, the largest first, and whether each is unless somebody says
 * otherwise. Of a lay that took more than was planned (`takenTicks`) they are as they were cut; all in ticks.
 */
export function restsToKeep(
  lay: LaidOut<LaidStrips & { readonly depthTicks: number }>,
  piece: { readonly widthTicks: number; readonly leadTicks: number; readonly usefulTicks: number },
  takenTicks: number = piece.leadTicks + lay.heightTicks,
): { readonly box: LaidBox; readonly keep: boolean }[] {
  const leadTicks = leadTaken(lay, piece.leadTicks, takenTicks);
  const depths = lay.runs.map(({ depthTicks }) => depthTicks);
  return restsOf(lay, piece.widthTicks, leadTicks, takenTicks)
    .filter((box) => isLargeRest(box) && box.toTicks <= takenTicks - leadTicks)
    .slice(0, MOST_RESTS)
    .map((box) => ({ box, keep: isRestKept(box, depths, piece.usefulTicks) }));
}

/** What of the length taken was cut off before the lay, in ticks: where less was taken than planned, less of that. */
export function leadTaken(
  { heightTicks }: Pick<LaidOut, 'heightTicks'>,
  leadTicks: number,
  takenTicks: number,
): number {
  return Math.max(0, Math.min(leadTicks, takenTicks - heightTicks));
}

/** Whether a flaw, counted from where the lay begins, lies on it or on what is cut off before it. */
export function isFlawOnLay(
  flaw: Flaw,
  { heightTicks }: Pick<LaidOut, 'heightTicks'>,
  leadTicks = 0,
): boolean {
  return flaw.toTicks > -leadTicks && flaw.fromTicks < heightTicks;
}

/** What a lay takes off the piece for each tier, and for which of them what is kept beside the strips is entered. */
export interface LayShares {
  readonly lengthsTicks: readonly number[];
  readonly carrier: number;
}

/**
 * Shares the length that a lay takes among its tiers, by the area of their strips; the parts add up to the length
 * and each is at least 1 tick. What is kept as remnants is entered beside the cut of the tier with most cloth, so
 * that tier's part is longer by as much cloth as the remnants are; then its strips bear the same cost per area as
 * all others. `keptArea` is in square ticks.
 *
 * @throws RangeError where the lay is shorter than it has tiers, or more is kept than it takes
 */
export function shareLay(
  takenTicks: number,
  stripAreas: readonly bigint[],
  keptArea: bigint,
  widthTicks: number,
): LayShares {
  const kept = Number(keptArea / BigInt(widthTicks));
  const toShare = takenTicks - kept - stripAreas.length;
  if (stripAreas.length === 0 || toShare < 0) throw new RangeError('a lay has length for each of its tiers');
  const whole = stripAreas.reduce((sum, area) => sum + area, 0n);
  let carrier = 0;
  stripAreas.forEach((area, i) => {
    if (area > (stripAreas[carrier] ?? 0n)) carrier = i;
  });
  const parts = stripAreas.map((area) => 1 + Number((BigInt(toShare) * area) / whole));
  const rest = takenTicks - kept - parts.reduce((sum, part) => sum + part, 0);
  return {
    carrier,
    lengthsTicks: parts.map((part, i) => (i === carrier ? part + rest + kept : part)),
  };
}
