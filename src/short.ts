import type { LotRule } from './band.ts';
import { type Fit, fitStrips, lengthToCut, type Stretch, type TierStrips } from './fit.ts';
import type { StripDemand } from './need.ts';
import { type Reason, reasonsOf } from './reasons.ts';

/** A stretch that is promised to a tier. */
export interface HeldStretch extends Stretch {
  readonly tierId: number;
}

/** Strips that a tier has cut already, and the lot they came from. */
export interface CutStrips extends TierStrips {
  readonly lotId: number;
}

/** A need and all there is for it: cloth of its own kind and shade only. */
export interface Supply {
  readonly demands: readonly StripDemand[];
  readonly lots: LotRule;
  /** The usable width that fresh cloth would have, in ticks. */
  readonly usableWidthTicks: number;
  readonly cut: readonly CutStrips[];
  readonly held: readonly HeldStretch[];
  readonly free: readonly Stretch[];
  /** Length ordered and not yet received, in ticks. */
  readonly onOrderTicks: number;
}

export interface Short {
  readonly wantedStrips: number;
  /** Length to cut all wanted strips from fresh cloth; null where a strip is longer than its usable width. */
  readonly wantedTicks: number | null;
  readonly cutStrips: number;
  /** Strips that fit into what is held for their own tier, and how they are cut from it. */
  readonly heldStrips: number;
  readonly heldFits: readonly Fit[];
  /** Strips that fit into free pieces: of the best lot, or of all lots where any may be used. */
  readonly freeStrips: number;
  readonly freeFit: Fit;
  /** The lots that count as free here, and their free length. */
  readonly freeLotIds: readonly number[];
  readonly freeTicks: number;
  /** Of the strips short, those that other lots could give, and the free length of these lots. */
  readonly elsewhereStrips: number;
  readonly elsewhereTicks: number;
  readonly shortStrips: number;
  readonly shortOf: readonly TierStrips[];
  /** Length of fresh cloth that gives the strips short; null as for wantedTicks. */
  readonly shortTicks: number | null;
  /** Length of fresh cloth that gives every strip not yet cut, for one lot throughout; null as for wantedTicks. */
  readonly oneLotTicks: number | null;
  readonly onOrderTicks: number;
  /** Of the strips short, those that what is on order gives if it comes in one piece of the usable width. */
  readonly onOrderStrips: number;
  /** What is short even then. */
  readonly toOrderStrips: number;
  readonly toOrderTicks: number | null;
  readonly reasons: readonly Reason[];
}

interface LotChoice {
  readonly lotIds: readonly number[];
  readonly heldFits: readonly Fit[];
  readonly heldStrips: number;
  readonly freeFit: Fit;
  readonly freeTicks: number;
}

/**
 * What is short for a need, in strips and in length to get, and why.
 *
 * Strips are counted by what fits into pieces, never by adding up lengths: first what is cut, then what fits into
 * the lengths held for each tier, then what fits into free pieces. Under the rule 'one' the lot is chosen that makes
 * most strips from held and free cloth together (then most from held cloth, then the least length); strips that are
 * cut already fix the lot. Fresh cloth is another lot: `oneLotTicks` says what to get where it must match throughout.
 *
 * Throws RangeError for sizes and counts that are not whole numbers of their range.
 */
export function shortOf(supply: Supply): Short {
  const { demands, usableWidthTicks, onOrderTicks } = supply;
  if (new Set(demands.map(({ tierId }) => tierId)).size !== demands.length) {
    throw new RangeError('a need has one demand for each tier');
  }
  const uncut = demands.map((demand) => ({ ...demand, count: demand.count - cutFor(demand, supply.cut) }));
  const { lotIds, heldFits, heldStrips, freeFit, freeTicks } = chooseLots(supply, uncut);
  const missing = withCounts(demands, freeFit.missing);
  const others = supply.free.filter((stretch) => !lotIds.includes(stretch.lotId));
  const here = supply.free.filter((stretch) => lotIds.includes(stretch.lotId));
  const elsewhere = fitStrips(missing, others, 'any');
  const ordered = { pieceId: 0, lotId: 0, usableWidthTicks, lengthTicks: onOrderTicks };
  const onOrder = fitStrips(missing, [ordered], 'any');
  const elsewhereTicks = lengthOf(others);
  return {
    wantedStrips: countOf(demands),
    wantedTicks: lengthToCut(demands, usableWidthTicks),
    cutStrips: countOf(demands) - countOf(uncut),
    heldStrips,
    heldFits,
    freeStrips: freeFit.madeStrips,
    freeFit,
    freeLotIds: lotIds,
    freeTicks,
    elsewhereStrips: elsewhere.madeStrips,
    elsewhereTicks,
    shortStrips: freeFit.missingStrips,
    shortOf: freeFit.missing,
    shortTicks: lengthToCut(missing, usableWidthTicks),
    oneLotTicks: lengthToCut(uncut, usableWidthTicks),
    onOrderTicks,
    onOrderStrips: onOrder.madeStrips,
    toOrderStrips: onOrder.missingStrips,
    toOrderTicks: lengthToCut(withCounts(demands, onOrder.missing), usableWidthTicks),
    reasons: reasonsOf({ missing, here, freeFit, others, elsewhere, held: supply.held, heldFits, lotIds }),
  };
}

function cutFor(demand: StripDemand, cut: readonly CutStrips[]): number {
  return Math.min(demand.count, countOf(cut.filter((strips) => strips.tierId === demand.tierId)));
}

function chooseLots(supply: Supply, uncut: readonly StripDemand[]): LotChoice {
  const cutLotIds = supply.cut.filter(({ count }) => count > 0).map(({ lotId }) => lotId);
  const shelfLotIds = [...supply.free, ...supply.held].map(({ lotId }) => lotId);
  if (supply.lots === 'any') {
    return supplyFrom(supply, uncut, distinct(shelfLotIds));
  }
  const lotIds = distinct(cutLotIds.length > 0 ? cutLotIds : shelfLotIds);
  const choices = lotIds.map((lotId) => supplyFrom(supply, uncut, [lotId]));
  return choices.reduce(betterChoice, choices[0] ?? supplyFrom(supply, uncut, []));
}

function supplyFrom(supply: Supply, uncut: readonly StripDemand[], lotIds: readonly number[]): LotChoice {
  const held = supply.held.filter(({ lotId }) => lotIds.includes(lotId));
  const free = supply.free.filter(({ lotId }) => lotIds.includes(lotId));
  const heldFits = uncut.map((demand) =>
    fitStrips(
      [demand],
      held.filter(({ tierId }) => tierId === demand.tierId),
      'any',
    ),
  );
  const left = withCounts(
    uncut,
    heldFits.flatMap((fit) => fit.missing),
  );
  const heldStrips = heldFits.reduce((sum, fit) => sum + fit.madeStrips, 0);
  return { lotIds, heldFits, heldStrips, freeFit: fitStrips(left, free, 'any'), freeTicks: lengthOf(free) };
}

function betterChoice(best: LotChoice, other: LotChoice): LotChoice {
  const gain =
    other.heldStrips + other.freeFit.madeStrips - best.heldStrips - best.freeFit.madeStrips ||
    other.heldStrips - best.heldStrips ||
    best.freeFit.usedTicks - other.freeFit.usedTicks ||
    other.freeTicks - best.freeTicks;
  return gain > 0 ? other : best;
}

function withCounts(demands: readonly StripDemand[], counts: readonly TierStrips[]): StripDemand[] {
  return demands.map((demand, i) => ({ ...demand, count: counts[i]?.count ?? 0 }));
}

function countOf(strips: readonly { readonly count: number }[]): number {
  return strips.reduce((sum, { count }) => sum + count, 0);
}

function lengthOf(stretches: readonly Stretch[]): number {
  return stretches.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
}

function distinct(lotIds: readonly number[]): readonly number[] {
  return [...new Set(lotIds)].sort((a, b) => a - b);
}
