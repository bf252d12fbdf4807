import type { Buying, Flaw, PlanJob, PlanPiece } from './job.ts';
import { Meter } from './meter.ts';
import { gcd, type SumStep, WidthSums } from './sums.ts';

/** A strip as it lies on the piece. */
export interface Shape {
  readonly kind: number;
  readonly turned: boolean;
  readonly acrossTicks: number;
  readonly alongTicks: number;
  readonly step: SumStep;
}

/** Pieces of one usable width that may give the same kinds. */
export interface Family {
  readonly index: number;
  readonly widthTicks: number;
  /** Widths that strips side by side can come to, and the place of the greatest that fits. */
  readonly sums: WidthSums;
  readonly lastSum: number;
  readonly shapes: readonly Shape[];
  /** Heights that a lay may have, rising, in ticks and in cells along. */
  readonly heights: readonly number[];
  readonly heightCells: readonly number[];
  readonly lengthCells: number;
  readonly hasFlaws: boolean;
}

/** Pieces that are alike in all that matters to a plan. */
export interface PieceStock {
  readonly index: number;
  readonly family: Family;
  readonly lengthTicks: number;
  readonly usefulTicks: number;
  readonly buying: Buying | undefined;
  /** By where they begin; a lay that may not run past a flaw sees it over the full width. */
  readonly flaws: readonly Flaw[];
  /** True where many lays follow each other and little is lost at the end, so that lays may be counted one by one. */
  readonly isLong: boolean;
  readonly places: readonly Place[];
}

export interface Place {
  readonly piece: PlanPiece;
  readonly copy: number;
}

export interface Model {
  readonly job: PlanJob;
  readonly counts: readonly number[];
  readonly families: readonly Family[];
  readonly stocks: readonly PieceStock[];
  /** Ticks of a cell along. */
  readonly alongUnit: number;
  /** True where cells along are coarser than the sizes: the bound must not count by them. */
  readonly coarseAlong: boolean;
  readonly meter: Meter;
}

/** So many values of lays are worked out at a time without a wait. */
const MOST_VALUES = 20_000_000;
/** Sizes are counted exactly where that takes no more places than these, along or across. */
const MOST_CELLS = 120_000;
const COARSE_CELLS = 10_000;
const USUAL_SUMS = 24_000;
const MOST_HEIGHTS = 320;
const LONG_PIECE_LAYS = 16;

/**
 * What can be laid where: shapes, heights of lays and alike pieces, for kinds and lots that `allowed` lets meet.
 *
 * Along, sizes are counted in cells of the greatest common divisor of all strips, which is exact: what a piece has
 * beyond its last whole cell no sum of strips can use. Across, only sums of sizes count.
 */
export function modelOf(
  job: PlanJob,
  allowed: (kind: number, lotId: number) => boolean,
  meter = new Meter(),
): Model {
  const wanted = job.kinds.flatMap((kind, i) => (kind.count > 0 ? [i] : []));
  const grid = gridOf(job);
  const families = new Map<string, Family>();
  const stocks = new Map<string, Omit<PieceStock, 'index'> & { places: Place[] }>();
  const ordered = [...job.pieces].sort((a, b) => a.pieceId - b.pieceId);
  meter.lesser += ordered.length * (ordered.length + job.kinds.length);
  for (const piece of ordered) {
    const kinds = wanted.filter((kind) => allowed(kind, piece.lotId));
    const key = `${piece.widthTicks}|${kinds.join()}`;
    let family = families.get(key);
    if (!family) {
      const alike = job.pieces.filter(({ widthTicks }) => widthTicks === piece.widthTicks);
      family = familyOf(job, { index: families.size, kinds, piece, alike, grid });
      meter.lesser += family.heights.length * (family.heights.length + family.shapes.length);
      families.set(key, family);
    }
    if (family.shapes.length === 0) continue;
    const stockKey = `${key}|${piece.lengthTicks}|${JSON.stringify([piece.flaws, piece.buying ?? null])}`;
    const stock = stocks.get(stockKey) ?? stockOf(job, piece, family);
    for (let copy = 0; copy < piece.count; copy += 1) stock.places.push({ piece, copy });
    stocks.set(stockKey, stock);
  }
  return {
    job,
    counts: job.kinds.map(({ count }) => count),
    families: [...families.values()],
    stocks: [...stocks.values()].map((stock, index) => ({ ...stock, index })),
    alongUnit: grid.alongUnit,
    coarseAlong: grid.coarseAlong,
    meter,
  };
}

interface Size {
  readonly kind: number;
  readonly turned: boolean;
  readonly across: number;
  readonly along: number;
}

function shapesOf(job: PlanJob, kind: number): Size[] {
  const strip = job.kinds[kind];
  if (!strip) return [];
  const { lengthTicks, depthTicks, direction } = strip;
  const straight = { kind, turned: false, across: lengthTicks, along: depthTicks };
  const turned = { kind, turned: true, across: depthTicks, along: lengthTicks };
  if (direction === 'across' || (direction === 'either' && lengthTicks === depthTicks)) return [straight];
  return direction === 'along' ? [turned] : [straight, turned];
}

/** What sizes are counted in, along and across. */
interface Grid {
  readonly alongUnit: number;
  readonly coarseAlong: boolean;
  readonly sums: WidthSums;
}

/** It is the same for every choice of lots. */
const grids = new WeakMap<PlanJob, Grid>();

function gridOf(job: PlanJob): Grid {
  const known = grids.get(job);
  if (known) return known;
  const sizes = job.kinds.flatMap(({ count }, kind) => (count > 0 ? shapesOf(job, kind) : []));
  const longest = Math.max(1, ...job.pieces.map(({ lengthTicks }) => lengthTicks));
  const widest = Math.max(1, ...job.pieces.map(({ widthTicks }) => widthTicks));
  // More places are affordable where there are few heights, and few pieces with flaws, to work out at each.
  const heights = Math.max(1, heightsOf(job, sizes, longest).length);
  const flawed = job.pieces.filter(({ flaws }) => flaws.length > 0).length;
  const affordable = (values: number) => Math.floor(MOST_VALUES / (heights * values));
  const exactAlong = sizes.map(({ along }) => along).reduce(gcd, 0) || 1;
  const mostCells = Math.min(MOST_CELLS, Math.max(COARSE_CELLS, affordable(1 + 2 * flawed)));
  const mostSums = Math.min(MOST_CELLS, Math.max(USUAL_SUMS, affordable(Math.max(1, sizes.length))));
  const coarseAlong = longest / exactAlong > mostCells;
  const across = sizes.map((size) => size.across);
  const grid = {
    alongUnit: coarseAlong ? Math.ceil(longest / COARSE_CELLS) : exactAlong,
    coarseAlong,
    sums: new WidthSums(across, widest, mostSums),
  };
  grids.set(job, grid);
  return grid;
}

interface FamilyParts {
  readonly index: number;
  readonly kinds: readonly number[];
  readonly piece: PlanPiece;
  readonly alike: readonly PlanPiece[];
  readonly grid: Grid;
}

function familyOf(job: PlanJob, parts: FamilyParts): Family {
  const { widthTicks } = parts.piece;
  const { grid } = parts;
  const longestTicks = Math.max(...parts.alike.map(({ lengthTicks }) => lengthTicks));
  const sizes = parts.kinds
    .flatMap((kind) => shapesOf(job, kind))
    .filter(({ across, along }) => across <= widthTicks && along <= longestTicks);
  const heights = heightsOf(job, sizes, longestTicks);
  return {
    index: parts.index,
    widthTicks,
    sums: grid.sums,
    lastSum: grid.sums.placeOf(widthTicks),
    shapes: sizes.map(({ kind, turned, across, along }) => ({
      kind,
      turned,
      acrossTicks: across,
      alongTicks: along,
      step: grid.sums.stepOf(across),
    })),
    heights,
    heightCells: heights.map((height) => Math.ceil(height / grid.alongUnit)),
    lengthCells: Math.floor(longestTicks / grid.alongUnit),
    hasFlaws: parts.alike.some(({ flaws }) => flaws.length > 0),
  };
}

/** Multiples of the strips' sizes along, up to the table's length; one that only one size fills gives nothing new. */
function heightsOf(job: PlanJob, sizes: readonly Size[], longestTicks: number): number[] {
  const alongs = [...new Set(sizes.map(({ along }) => along))].sort((a, b) => a - b);
  const tallest = alongs.at(-1) ?? 0;
  let limit = Math.min(longestTicks, Math.max(job.tableTicks, tallest));
  for (;;) {
    const heights = new Set(alongs);
    for (const along of job.stacks ? alongs : []) {
      const count = sizes.reduce(
        (sum, s) => sum + (s.along === along ? (job.kinds[s.kind]?.count ?? 0) : 0),
        0,
      );
      for (let n = 2; n <= count && n * along <= limit; n += 1) {
        if (alongs.some((other) => other !== along && other <= n * along)) heights.add(n * along);
      }
    }
    if (heights.size <= MOST_HEIGHTS || limit <= tallest) return [...heights].sort((a, b) => a - b);
    limit = Math.max(tallest, Math.floor(limit * 0.8));
  }
}

function stockOf(
  job: PlanJob,
  piece: PlanPiece,
  family: Family,
): Omit<PieceStock, 'index'> & { places: Place[] } {
  const flaws = piece.flaws
    .map((flaw) => (job.flaws === 'skip' ? { ...flaw, leftTicks: 0, rightTicks: piece.widthTicks } : flaw))
    .sort((a, b) => a.fromTicks - b.fromTicks || a.toTicks - b.toTicks);
  const { lengthTicks, buying } = piece;
  const tallest = family.shapes.reduce((most, { alongTicks }) => Math.max(most, alongTicks), 0);
  const isLong = flaws.length === 0 && buying === undefined && lengthTicks >= LONG_PIECE_LAYS * tallest;
  return { family, lengthTicks, usefulTicks: job.usefulTicks, buying, flaws, isLong, places: [] };
}

/** How many wanted strips of a shape stand one behind the other in a lay of a height. */
export function stackIn({ job }: Model, { alongTicks }: Shape, heightTicks: number, wanted: number): number {
  return Math.min(Math.floor(heightTicks / alongTicks), job.stacks ? wanted : Math.min(1, wanted));
}

/** Length charged when a piece is cut up to `endTicks`, in ticks: bought cloth by whole steps, else with a useless end. */
export function chargedTicks(
  stock: Pick<PieceStock, 'lengthTicks' | 'usefulTicks' | 'buying'>,
  endTicks: number,
): number {
  const { lengthTicks, usefulTicks, buying } = stock;
  if (endTicks === 0) return 0;
  if (buying) {
    const bought = Math.max(endTicks, buying.leastTicks);
    return Math.min(
      lengthTicks,
      bought + ((buying.stepTicks - (bought % buying.stepTicks)) % buying.stepTicks),
    );
  }
  return lengthTicks - endTicks < usefulTicks ? lengthTicks : endTicks;
}

/** The stretches across that are free of every flaw between two places along a piece, left to right, in ticks. */
export function freeSpans(
  flaws: readonly Flaw[],
  widthTicks: number,
  fromTicks: number,
  toTicks: number,
): (readonly [number, number])[] {
  const inWay = flaws
    .filter((flaw) => flaw.fromTicks < toTicks && flaw.toTicks > fromTicks)
    .sort((a, b) => a.leftTicks - b.leftTicks);
  const spans: (readonly [number, number])[] = [];
  let left = 0;
  for (const { leftTicks, rightTicks } of inWay) {
    if (leftTicks > left) spans.push([left, leftTicks]);
    left = Math.max(left, rightTicks);
  }
  if (left < widthTicks) spans.push([left, widthTicks]);
  return spans;
}
