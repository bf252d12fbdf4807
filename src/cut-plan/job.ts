import { type Direction, type LotRule, MAX_STRIPS } from '../garment/band.ts';

export type { Direction };

/** A place of a piece that no strip may touch: a rectangle along and across the piece, in ticks from its free end and its left edge. */
export interface Flaw {
  readonly fromTicks: number;
  readonly toTicks: number;
  readonly leftTicks: number;
  readonly rightTicks: number;
}

/** Cloth that would be bought by the length: charged in whole steps, and never less than the least cut. */
export interface Buying {
  readonly stepTicks: number;
  readonly leastTicks: number;
}

/** Pieces that are alike: free length, usable width, lot and flaws. Cut from the free end. */
export interface PlanPiece {
  readonly pieceId: number;
  readonly lotId: number;
  readonly widthTicks: number;
  readonly lengthTicks: number;
  readonly flaws: readonly Flaw[];
  /** how many such pieces there are */
  readonly count: number;
  readonly buying?: Buying;
}

/** Strips of one size that are wanted for one thing. Strips of one `group` follow its lot rule together. */
export interface PlanKind {
  readonly kindId: number;
  readonly lengthTicks: number;
  readonly depthTicks: number;
  readonly count: number;
  /** Where the strip's length lies on the piece. */
  readonly direction: Direction;
  /** All from one lot, from lots that may meet, or from any. */
  readonly lots: LotRule;
  readonly group: number;
}

/** All that a cut plan is made from. Lengths in ticks of 1/160 mm. */
export interface PlanJob {
  readonly kinds: readonly PlanKind[];
  readonly pieces: readonly PlanPiece[];
  /** Pairs of lots that may meet in one group of strips. */
  readonly meets: readonly (readonly [number, number])[];
  /** An end shorter than this counts as used. */
  readonly usefulTicks: number;
  /** The longest lay that the table takes; a single strip may be longer. */
  readonly tableTicks: number;
  /** Whether one lay may run past a flaw, its strips beside it, or every lay ends before one. */
  readonly flaws: 'straddle' | 'skip';
  /** Whether a column of a lay may be several equal strips, one behind the other. */
  readonly stacks: boolean;
  readonly seed: number;
}

export const MOST_KINDS = 500;
export const MOST_PIECES = 200;
/** Pieces in all, alike ones counted one by one. */
export const MOST_COPIES = 10_000;
export const MOST_FLAWS = 20;
/** No piece and no strip is longer than 10 km, in ticks. */
export const MOST_TICKS = 1_600_000_000;

/** Throws RangeError where a job is no job: sizes or counts out of range, ids twice, flaws outside their piece. */
export function assertJob(job: PlanJob): void {
  const { kinds, pieces } = job;
  must(kinds.length <= MOST_KINDS, `a plan takes at most ${MOST_KINDS} kinds of strips`);
  must(pieces.length <= MOST_PIECES, `a plan takes at most ${MOST_PIECES} kinds of pieces`);
  must(isDistinct(kinds.map(({ kindId }) => kindId)), 'two kinds of strips have the same id');
  must(isDistinct(pieces.map(({ pieceId }) => pieceId)), 'two pieces have the same id');
  must(isWhole(job.usefulTicks, 0) && isWhole(job.tableTicks, 1), 'lengths are whole ticks');
  must(Number.isSafeInteger(job.seed), 'the seed is a whole number');
  for (const kind of kinds) {
    must(isWhole(kind.lengthTicks, 1) && isWhole(kind.depthTicks, 1), 'a strip has whole ticks above 0');
    must(isWhole(kind.count, 0, MAX_STRIPS), 'strips are counted in whole numbers from 0');
    const alike = kinds.filter(({ group }) => group === kind.group);
    must(
      alike.every(({ lots }) => lots === kind.lots),
      'strips of one group follow one lot rule',
    );
  }
  must(total(kinds) <= MAX_STRIPS, `a plan takes at most ${MAX_STRIPS} strips`);
  must(total(pieces) <= MOST_COPIES, `a plan takes at most ${MOST_COPIES} pieces`);
  pieces.forEach(assertPiece);
}

function assertPiece(piece: PlanPiece): void {
  must(isWhole(piece.widthTicks, 1) && isWhole(piece.lengthTicks, 0), 'a piece has whole ticks');
  must(isWhole(piece.count, 1, MOST_COPIES), 'pieces are counted in whole numbers from 1');
  must(piece.flaws.length <= MOST_FLAWS, `a piece has at most ${MOST_FLAWS} flaws`);
  for (const { fromTicks, toTicks, leftTicks, rightTicks } of piece.flaws) {
    must(
      isWhole(fromTicks, 0) && fromTicks < toTicks && isWhole(toTicks, 1, piece.lengthTicks),
      'a flaw lies between the ends of its piece',
    );
    must(
      isWhole(leftTicks, 0) && leftTicks < rightTicks && isWhole(rightTicks, 1, piece.widthTicks),
      'a flaw lies between the edges of its piece',
    );
  }
  const { buying } = piece;
  must(
    buying === undefined || (isWhole(buying.stepTicks, 1) && isWhole(buying.leastTicks, 0)),
    'cloth is bought in whole ticks',
  );
}

/** Groups of lots as pairs that may meet: within a group every lot may meet every other. */
export function meetingPairs(groups: readonly (readonly number[])[]): (readonly [number, number])[] {
  return groups.flatMap((group) => group.flatMap((a, i) => group.slice(i + 1).map((b) => [a, b] as const)));
}

function isWhole(n: number, least: number, most = MOST_TICKS): boolean {
  return Number.isSafeInteger(n) && n >= least && n <= most;
}

function isDistinct(ids: readonly number[]): boolean {
  return new Set(ids).size === ids.length;
}

function total(rows: readonly { readonly count: number }[]): number {
  return rows.reduce((sum, { count }) => sum + count, 0);
}

function must(holds: boolean, what: string): void {
  if (!holds) throw new RangeError(what);
}
