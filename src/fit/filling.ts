import type { Flaw } from '../cut-plan/job.ts';

/** A stretch of one piece that strips may be cut from, its full usable width, in ticks; flaws from its free end. */
export interface Stretch {
  readonly pieceId: number;
  readonly lotId: number;
  readonly usableWidthTicks: number;
  readonly lengthTicks: number;
  readonly flaws?: readonly Flaw[];
}

/** Strips of one size, whatever tier they are for. */
export interface StripKind {
  readonly depthTicks: number;
  readonly lengthTicks: number;
  readonly count: number;
}

/** Cut lengths of one kind (by its place in the list) taken off one stretch. */
export interface CutLengths {
  readonly stretch: Stretch;
  readonly kind: number;
  readonly columns: number;
  readonly cutLengths: number;
  /** Strips that are wanted; never more than columns × cut lengths. */
  readonly strips: number;
}

export interface Filling {
  readonly cutLengths: readonly CutLengths[];
  /** Strips still wanted, by kind, and in all. */
  readonly left: readonly number[];
  readonly missing: number;
  readonly usedTicks: number;
}

/**
 * Shares strips of several kinds out over stretches of cloth by a careful hand rule.
 *
 * Piece by piece, kind by kind in a fixed order, as many cut lengths are taken as fit and are wanted; what is left of the
 * piece goes to the next kind. That is tried in several orders of kinds (deepest first, shallowest first, what leaves
 * the shortest end, …; all of them up to four kinds) and of pieces (tightest, longest, least left over first), and the
 * best is kept: most strips, then least length.
 *
 * Another piece never lowers the strips made for one or two kinds: then each walk by itself can only gain from it.
 * With three kinds or more a walk can lose by an added piece, so the pieces are also taken in by rising id, each time
 * keeping the best so far and filling the newcomer with what is missing: a newly received piece never lowers them.
 */
export function fillPieces(kinds: readonly StripKind[], stretches: readonly Stretch[]): Filling {
  if (stretches.length === 0 || kinds.every(({ count }) => count === 0)) return nothingCut(kinds);
  const orders = ordersOf(kinds);
  const byId = [...stretches].sort((a, b) => a.pieceId - b.pieceId || tightest(a, b));
  let best = nothingCut(kinds);
  if (kinds.length <= 2) {
    return bestWalk(kinds, byId, orders, best);
  }
  byId.forEach((stretch, i) => {
    const soFar = best;
    const grown = orders.map((order) => walk(kinds, [stretch], order, soFar));
    best = grown.reduce(better, grown[0] ?? soFar);
    if (best.missing > 0 || i === byId.length - 1) {
      best = bestWalk(kinds, byId.slice(0, i + 1), orders, best);
    }
  });
  return best;
}

function bestWalk(
  kinds: readonly StripKind[],
  stretches: readonly Stretch[],
  orders: readonly KindOrder[],
  soFar: Filling,
): Filling {
  let best = soFar;
  for (const compare of stretchOrders(kinds)) {
    const sorted = [...stretches].sort(compare);
    for (const order of orders) {
      best = better(best, walk(kinds, sorted, order, nothingCut(kinds)));
    }
  }
  return best;
}

/** In what order the kinds (by place) are tried on a stretch; it may look at the stretch, never at what is left. */
type KindOrder = (stretch: Stretch) => readonly number[];

const ALL_ORDERS_UP_TO_KINDS = 4;

function ordersOf(kinds: readonly StripKind[]): readonly KindOrder[] {
  const places = kinds.map((_, place) => place);
  const by = (measure: (kind: StripKind) => number) =>
    [...places].sort((a, b) => at(kinds, measure, b) - at(kinds, measure, a) || a - b);
  const fixed =
    kinds.length <= ALL_ORDERS_UP_TO_KINDS
      ? permutations(places)
      : [
          by((kind) => kind.depthTicks),
          by((kind) => -kind.depthTicks),
          by((kind) => kind.lengthTicks),
          by((kind) => kind.depthTicks * kind.count),
          by((kind) => kind.count),
        ];
  const shortestEnd: KindOrder = ({ lengthTicks }) => by((kind) => -(lengthTicks % kind.depthTicks));
  return [...fixed.map((order) => () => order), shortestEnd];
}

function at(kinds: readonly StripKind[], measure: (kind: StripKind) => number, place: number): number {
  const kind = kinds[place];
  return kind === undefined ? 0 : measure(kind);
}

function permutations(places: readonly number[]): readonly (readonly number[])[] {
  if (places.length <= 1) {
    return [places];
  }
  return places.flatMap((first) =>
    permutations(places.filter((place) => place !== first)).map((rest) => [first, ...rest]),
  );
}

type StretchOrder = (a: Stretch, b: Stretch) => number;

const tightest: StretchOrder = (a, b) =>
  a.lengthTicks - b.lengthTicks ||
  a.usableWidthTicks - b.usableWidthTicks ||
  a.pieceId - b.pieceId ||
  a.lotId - b.lotId;

function stretchOrders(kinds: readonly StripKind[]): readonly StretchOrder[] {
  const deepestTicks = kinds[0]?.depthTicks ?? 1;
  const leastLeft: StretchOrder = (a, b) =>
    (a.lengthTicks % deepestTicks) - (b.lengthTicks % deepestTicks) || tightest(a, b);
  return [tightest, (a, b) => tightest(b, a), leastLeft];
}

function nothingCut(kinds: readonly StripKind[]): Filling {
  const left = kinds.map((kind) => kind.count);
  return { cutLengths: [], left, missing: left.reduce((sum, count) => sum + count, 0), usedTicks: 0 };
}

/** One pass over the stretches in the order given, going on from what is cut already. */
function walk(
  kinds: readonly StripKind[],
  stretches: readonly Stretch[],
  order: KindOrder,
  from: Filling,
): Filling {
  const cutLengths = [...from.cutLengths];
  const left = [...from.left];
  let { missing, usedTicks } = from;
  for (const stretch of stretches) {
    if (missing === 0) break;
    let restTicks = stretch.lengthTicks;
    for (const place of order(stretch)) {
      const taken = takeCutLengths(kinds, stretch, restTicks, place, left[place] ?? 0);
      if (taken !== undefined) {
        cutLengths.push(taken.cutLengths);
        left[place] = (left[place] ?? 0) - taken.cutLengths.strips;
        missing -= taken.cutLengths.strips;
        restTicks -= taken.ticks;
        usedTicks += taken.ticks;
      }
    }
  }
  return { cutLengths, left, missing, usedTicks };
}

function takeCutLengths(
  kinds: readonly StripKind[],
  stretch: Stretch,
  restTicks: number,
  place: number,
  wanted: number,
): { readonly cutLengths: CutLengths; readonly ticks: number } | undefined {
  const kind = kinds[place];
  if (kind === undefined || wanted === 0) {
    return undefined;
  }
  // Both are quotients of safe integers, whose floating floor is exact.
  const columns = Math.floor(stretch.usableWidthTicks / kind.lengthTicks);
  const fitting = Math.floor(restTicks / kind.depthTicks);
  if (columns === 0 || fitting === 0) {
    return undefined;
  }
  const cutLengths = Math.min(fitting, Math.floor((wanted + columns - 1) / columns));
  const strips = Math.min(wanted, cutLengths * columns);
  return {
    cutLengths: { stretch, kind: place, columns, cutLengths, strips },
    ticks: cutLengths * kind.depthTicks,
  };
}

function better(best: Filling, other: Filling): Filling {
  const more = other.missing - best.missing || other.usedTicks - best.usedTicks;
  return more < 0 ? other : best;
}
