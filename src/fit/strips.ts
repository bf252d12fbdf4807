import type { LotRule } from '../garment/band.ts';
import { clothLength, laidOver } from '../garment/cloth-length.ts';
import type { StripDemand } from '../garment/need.ts';
import { type Filling, fillPieces, type Stretch, type StripKind } from './filling.ts';

export type { Stretch };

/** Straight cut lengths of one depth off one piece, each slit into `columns` strips. */
export interface FitLay {
  readonly pieceId: number;
  readonly lotId: number;
  readonly depthTicks: number;
  readonly stripLengthTicks: number;
  readonly columns: number;
  readonly cutLengths: number;
  /** Which tiers the strips are for; what the last cut length yields beyond them is offcut. */
  readonly strips: readonly TierStrips[];
}

export interface TierStrips {
  readonly tierId: number;
  readonly count: number;
}

export interface Fit {
  /** The lots that the lays are cut from. */
  readonly lotIds: readonly number[];
  readonly lays: readonly FitLay[];
  /** Strips made and missing, an entry for each demand in its order; the two add up to what was asked. */
  readonly made: readonly TierStrips[];
  readonly missing: readonly TierStrips[];
  readonly madeStrips: number;
  readonly missingStrips: number;
  /** Length of all cut lengths, in ticks. */
  readonly usedTicks: number;
  /** How far each piece is cut into from its free end, flaws between the cut lengths included; in ticks. */
  readonly ends: readonly PieceEnd[];
}

export interface PieceEnd {
  readonly pieceId: number;
  readonly endTicks: number;
}

/**
 * Counts the strips that fit into pieces, and from which pieces to cut them.
 *
 * A piece of usable width W and length F gives ⌊W / length⌋ strips in each of ⌊F / depth⌋ cut lengths where strips lie across
 * it, and ⌊W / depth⌋ in each of ⌊F / length⌋ where they lie along it. Strips that may lie either way round are tried
 * across wherever some piece is wide enough and the way that takes less of fresh cloth. A cut length yields strips of one
 * size only and ends before a flaw. Several sizes over several pieces are shared out by a careful hand rule
 * (`fillPieces`): what it claims can be cut, and it may be that a better plan makes more. Under the rule 'one' every
 * lot is tried by itself and the best is taken: most strips, then the least length, then the lowest lot id. The same
 * strips and pieces give the same answer in whatever order they come.
 *
 * Throws RangeError for sizes that are not positive whole ticks or counts below 0.
 */
export function fitStrips(
  demands: readonly StripDemand[],
  stretches: readonly Stretch[],
  lots: LotRule,
): Fit {
  demands.forEach(assertDemand);
  stretches.forEach(assertStretch);
  const widestTicks = Math.max(0, ...stretches.map(({ usableWidthTicks }) => usableWidthTicks));
  if (stretches.length === 0) return allot(demands, [], NOTHING_CUT);
  const clean = stretches.some(hasFlaws) ? stretches.flatMap(cleanParts) : stretches;
  const groups = lots === 'any' ? [clean] : byLot(clean);
  let best: Try | undefined;
  for (const laid of waysToLay(demands, widestTicks)) {
    const kinds = kindsOf(laid);
    for (const group of groups.length > 0 ? groups : [[]]) {
      const filling = fillPieces(kinds, group);
      if (best === undefined || isBetter(filling, best.filling)) best = { laid, kinds, filling };
    }
  }
  return best ? allot(best.laid, best.kinds, best.filling) : allot([], [], NOTHING_CUT);
}

const NOTHING_CUT: Filling = { cutLengths: [], left: [], missing: 0, usedTicks: 0 };

/** Strips as they are laid for one try, and what it comes to. */
interface Try {
  readonly laid: readonly StripDemand[];
  readonly kinds: readonly StripKind[];
  readonly filling: Filling;
}

function waysToLay(demands: readonly StripDemand[], widestTicks: number): (readonly StripDemand[])[] {
  const across = demands.map((demand) => (isTurned(demand, widestTicks) ? turned(demand) : demand));
  const isOpen = demands.some(({ direction, count }) => direction === 'either' && count > 0);
  if (!isOpen || widestTicks === 0) return [across];
  return [
    across,
    laidOver(demands, widestTicks).map(({ size, lies }) => (lies === 'along' ? turned(size) : size)),
  ];
}

/**
 * The length to cut all demands from one fresh piece of a usable width, in ticks, by the careful hand rule
 * (`clothLength`). null where a strip is larger than the usable width, so that no length would do.
 */
export function lengthToCut(demands: readonly StripDemand[], usableWidthTicks: number): number | null {
  demands.forEach(assertDemand);
  if (usableWidthTicks <= 0) return demands.every(({ count }) => count === 0) ? 0 : null;
  const found = clothLength(demands, usableWidthTicks);
  return found.ok ? found.totalTicks : null;
}

/** A demand as its strips lie on fresh cloth of a usable width: turned where they lie along it, or may and take less so. */
export function laidOn(demand: StripDemand, widthTicks: number): StripDemand {
  if (demand.count === 0 || widthTicks <= 0) {
    return isTurned(demand, widthTicks) ? turned(demand) : demand;
  }
  return laidOver([demand], widthTicks)[0]?.lies === 'along' ? turned(demand) : demand;
}

function isTurned({ direction, lengthTicks }: StripDemand, widthTicks: number): boolean {
  return direction === 'along' || (direction === 'either' && lengthTicks > widthTicks);
}

function turned(demand: StripDemand): StripDemand {
  return { ...demand, depthTicks: demand.lengthTicks, lengthTicks: demand.depthTicks };
}

/** A clean part of a stretch, and how far from its free end it begins; from its very end where that is left out. */
interface Part extends Stretch {
  readonly fromTicks?: number;
}

function hasFlaws({ flaws }: Stretch): boolean {
  return flaws !== undefined && flaws.length > 0;
}

function cleanParts(stretch: Stretch): Part[] {
  if (!hasFlaws(stretch)) return [stretch];
  const { flaws = [], ...whole } = stretch;
  const parts: Part[] = [];
  let fromTicks = 0;
  const add = (toTicks: number) => {
    if (toTicks > fromTicks) parts.push({ ...whole, fromTicks, lengthTicks: toTicks - fromTicks });
  };
  for (const flaw of [...flaws].sort((a, b) => a.fromTicks - b.fromTicks)) {
    add(Math.min(flaw.fromTicks, whole.lengthTicks));
    fromTicks = Math.max(fromTicks, flaw.toTicks);
  }
  add(whole.lengthTicks);
  return parts;
}

function endsOf({ cutLengths }: Filling, kinds: readonly StripKind[]): PieceEnd[] {
  const used = new Map<Stretch, number>();
  for (const { stretch, kind, cutLengths: count } of cutLengths) {
    used.set(stretch, (used.get(stretch) ?? 0) + count * (kinds[kind]?.depthTicks ?? 0));
  }
  const ends = new Map<number, number>();
  for (const [stretch, ticks] of used) {
    const endTicks = ('fromTicks' in stretch ? Number(stretch.fromTicks) : 0) + ticks;
    ends.set(stretch.pieceId, Math.max(ends.get(stretch.pieceId) ?? 0, endTicks));
  }
  return [...ends].map(([pieceId, endTicks]) => ({ pieceId, endTicks }));
}

/** Demands of one size are cut alike, so that tiers can share the last cut length. Deepest first, then longest. */
function kindsOf(demands: readonly StripDemand[]): StripKind[] {
  const kinds = new Map<string, StripKind>();
  for (const { depthTicks, lengthTicks, count } of demands) {
    const key = `${depthTicks} ${lengthTicks}`;
    kinds.set(key, { depthTicks, lengthTicks, count: (kinds.get(key)?.count ?? 0) + count });
  }
  return [...kinds.values()].sort((a, b) => b.depthTicks - a.depthTicks || b.lengthTicks - a.lengthTicks);
}

function byLot(stretches: readonly Stretch[]): Stretch[][] {
  const lots = new Map<number, Stretch[]>();
  for (const stretch of stretches) {
    lots.set(stretch.lotId, [...(lots.get(stretch.lotId) ?? []), stretch]);
  }
  return [...lots].sort(([a], [b]) => a - b).map(([, group]) => group);
}

function isBetter(a: Filling, b: Filling): boolean {
  return a.missing < b.missing || (a.missing === b.missing && a.usedTicks < b.usedTicks);
}

/** Shares the strips of each size among the tiers that want it, in the order of the demands. */
function allot(demands: readonly StripDemand[], kinds: readonly StripKind[], filling: Filling): Fit {
  const owed = demands.map((demand) => demand.count);
  const lays = filling.cutLengths.map(({ stretch, kind, columns, cutLengths, strips }): FitLay => {
    const { depthTicks, lengthTicks } = kinds[kind] ?? { depthTicks: 0, lengthTicks: 0 };
    const taken: TierStrips[] = [];
    let left = strips;
    demands.forEach((demand, i) => {
      const alike = demand.depthTicks === depthTicks && demand.lengthTicks === lengthTicks;
      const count = alike ? Math.min(left, owed[i] ?? 0) : 0;
      if (count > 0) {
        taken.push({ tierId: demand.tierId, count });
        owed[i] = (owed[i] ?? 0) - count;
        left -= count;
      }
    });
    const { pieceId, lotId } = stretch;
    return { pieceId, lotId, depthTicks, stripLengthTicks: lengthTicks, columns, cutLengths, strips: taken };
  });
  const missing = demands.map(({ tierId }, i) => ({ tierId, count: owed[i] ?? 0 }));
  const made = demands.map(({ tierId, count }, i) => ({ tierId, count: count - (owed[i] ?? 0) }));
  return {
    lotIds: [...new Set(lays.map((lay) => lay.lotId))].sort((a, b) => a - b),
    lays,
    made,
    missing,
    madeStrips: total(made),
    missingStrips: total(missing),
    usedTicks: filling.usedTicks,
    ends: endsOf(filling, kinds),
  };
}

function total(strips: readonly TierStrips[]): number {
  return strips.reduce((sum, { count }) => sum + count, 0);
}

function assertDemand({ depthTicks, lengthTicks, count }: StripDemand): void {
  const sizes = [depthTicks, lengthTicks];
  if (!sizes.every((ticks) => Number.isSafeInteger(ticks) && ticks > 0)) {
    throw new RangeError('a strip has a depth and a length of whole ticks above 0');
  }
  if (!Number.isSafeInteger(count) || count < 0) {
    throw new RangeError('strips are counted in whole numbers from 0');
  }
}

function assertStretch({ usableWidthTicks, lengthTicks }: Stretch): void {
  const sizes = [usableWidthTicks, lengthTicks];
  if (!sizes.every((ticks) => Number.isSafeInteger(ticks) && ticks >= 0)) {
    throw new RangeError('a piece has a usable width and a length of whole ticks from 0');
  }
}
