import type { PlanJob } from '../cut-plan/job.ts';
import type { Cutting } from '../cut-plan/plan.ts';
import { type CuttingWays, isLotAllowed, jobOfStock, type Stock, USUAL_WAYS } from '../cut-plan/stock.ts';
import type { LotRule } from '../garment/band.ts';
import type { StripDemand } from '../garment/need.ts';
import { fitOfPlan, isExactByHand } from './fit-by-plan.ts';
import { meetingSets } from './lots.ts';
import { type Reason, reasonsOf } from './reasons.ts';
import { type Fit, fitStrips, laidOn, lengthToCut, type Stretch, type TierStrips } from './strips.ts';

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
  /** Strips that lays of a held plan will give: as good as cut. */
  readonly planned?: readonly CutStrips[];
  /** Lengths held strip by strip, beside those of a held plan. */
  readonly held: readonly HeldStretch[];
  readonly free: readonly Stretch[];
  /** Pairs of lots that may meet; none where it is not said. */
  readonly meets?: readonly (readonly [number, number])[];
  readonly ways?: CuttingWays;
}

/** How the strips short were found: by a rule that is exact here, by the planner, or by hand until the planner is done. */
export type ShortBy = 'exact' | 'planner' | 'hand rule';

export interface Short {
  readonly wantedStrips: number;
  /** Length to cut all wanted strips from fresh cloth; null where a strip is longer than its usable width. */
  readonly wantedTicks: number | null;
  readonly cutStrips: number;
  /** Strips of a held plan and those that fit into what is held for their own tier, and how these are cut from it. */
  readonly heldStrips: number;
  readonly heldFits: readonly Fit[];
  /** Strips of a held plan, an entry for each demand. */
  readonly planned: readonly TierStrips[];
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
  readonly reasons: readonly Reason[];
  /** What the planner is asked for what is neither cut nor in a held plan. */
  readonly job: PlanJob;
  readonly by: ShortBy;
}

/** Strips of the need's demand at that place that are held: what fits into lengths held for it, and what a held plan gives. */
export function heldStripsAt({ heldFits, planned }: Short, place: number): number {
  return (heldFits[place]?.madeStrips ?? 0) + (planned[place]?.count ?? 0);
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
 * Strips are counted by what fits into pieces, never by adding up lengths: first what is cut or in a held plan, then
 * what fits into the lengths held for each tier, then what fits into free pieces. Under the rule 'one' the lot is chosen
 * that makes most strips from held and free cloth together (then most from held cloth, then the least length), under
 * 'meet' such a set of lots; strips that are cut already fix the lot. `planOf` gives the planner's plan of a job where it
 * is known; it counts where it makes as many strips as the hand rule or more. Fresh cloth is another lot: `oneLotTicks`
 * says what to get where it must match throughout.
 *
 * Throws RangeError for sizes and counts that are not whole numbers of their range.
 */
export function shortOf(supply: Supply, planOf: (job: PlanJob) => Cutting | null = () => null): Short {
  const { demands, usableWidthTicks } = supply;
  if (new Set(demands.map(({ tierId }) => tierId)).size !== demands.length) {
    throw new RangeError('a need has one demand for each tier');
  }
  const cut = demands.map((demand) => countFor(demand, demand.count, supply.cut));
  const planned = demands.map((demand, i) =>
    countFor(demand, demand.count - (cut[i] ?? 0), supply.planned ?? []),
  );
  const uncut = demands.map((demand, i) => ({
    ...demand,
    count: demand.count - (cut[i] ?? 0) - (planned[i] ?? 0),
  }));
  const stock = stockOf(supply, uncut);
  const job = jobOfStock(stock);
  const hand = chooseLots(supply, stock);
  // Lengths held tier by tier are kept apart by hand; the planner takes them together.
  const isExactRule = supply.held.length === 0 && isExactByHand(job);
  const plan = isExactRule ? null : planOf(job);
  const isPlanned = plan !== null && plan.missingStrips <= hand.freeFit.missingStrips;
  const choice = isPlanned ? byPlan(plan, job, supply, hand) : hand;
  const isClean = job.pieces.every(({ flaws }) => flaws.length === 0);
  const isMet = hand.freeFit.missingStrips === 0 && isClean;
  const isExact = countOf(uncut) === 0 || isMet || isExactRule;
  const { lotIds, heldFits, heldStrips, freeFit, freeTicks } = choice;
  const missing = withCounts(demands, freeFit.missing);
  const chosen = new Set(lotIds);
  const others = supply.free.filter((stretch) => !chosen.has(stretch.lotId));
  const here = supply.free.filter((stretch) => chosen.has(stretch.lotId));
  const elsewhere = fitStrips(missing, others, 'any');
  const widestTicks = Math.max(0, ...here.map((stretch) => stretch.usableWidthTicks));
  const laid = missing.map((demand) => laidOn(demand, widestTicks));
  const findings = { here, freeFit, others, elsewhere, held: supply.held, heldFits, lotIds };
  return {
    wantedStrips: countOf(demands),
    wantedTicks: lengthToCut(demands, usableWidthTicks),
    cutStrips: sum(cut),
    heldStrips: heldStrips + sum(planned),
    heldFits,
    planned: demands.map(({ tierId }, i) => ({ tierId, count: planned[i] ?? 0 })),
    freeStrips: freeFit.madeStrips,
    freeFit,
    freeLotIds: lotIds,
    freeTicks,
    elsewhereStrips: elsewhere.madeStrips,
    elsewhereTicks: lengthOf(others),
    shortStrips: freeFit.missingStrips,
    shortOf: freeFit.missing,
    shortTicks: lengthToCut(missing, usableWidthTicks),
    oneLotTicks: lengthToCut(withPlanned(uncut, planned), usableWidthTicks),
    reasons: reasonsOf({ missing: laid, ...findings }),
    job,
    by: isExact ? 'exact' : isPlanned ? 'planner' : 'hand rule',
  };
}

function countFor({ tierId }: StripDemand, most: number, strips: readonly CutStrips[]): number {
  return Math.min(most, countOf(strips.filter((of) => of.tierId === tierId)));
}

function stockOf(supply: Supply, uncut: readonly StripDemand[]): Stock {
  const done = [...supply.cut, ...(supply.planned ?? [])].filter(({ count }) => count > 0);
  return {
    demands: uncut,
    lots: supply.lots,
    meets: supply.meets ?? [],
    fixedLotIds: distinct(done.map(({ lotId }) => lotId)),
    stretches: [...supply.held, ...supply.free],
    ways: supply.ways ?? USUAL_WAYS,
  };
}

function chooseLots(supply: Supply, stock: Stock): LotChoice {
  const { demands } = stock;
  const [free, held] = [byLot(supply.free), byLot(supply.held)];
  const shelfLotIds = [...free.keys(), ...held.keys()];
  if (supply.lots === 'any') return supplyFrom(supply, demands, distinct(shelfLotIds));
  const { fixedLotIds } = stock;
  const allowed = distinct([...fixedLotIds, ...shelfLotIds]).filter((lotId) => isLotAllowed(stock, lotId));
  const sets =
    supply.lots === 'one'
      ? (fixedLotIds.length > 0 ? fixedLotIds : allowed).map((lotId) => [lotId])
      : meetingSets(allowed, stock.meets);
  const choices = sets.map((lotIds) => {
    const ofLots = <T>(of: ReadonlyMap<number, readonly T[]>) => lotIds.flatMap((id) => of.get(id) ?? []);
    return supplyFrom({ free: ofLots(free), held: ofLots(held) }, demands, lotIds);
  });
  return choices.reduce(betterChoice, choices[0] ?? supplyFrom({ free: [], held: [] }, demands, []));
}

/** What some lots give: `free` and `held` are of these lots alone, in any order. */
function supplyFrom(
  { free, held }: Pick<Supply, 'free' | 'held'>,
  uncut: readonly StripDemand[],
  lotIds: readonly number[],
): LotChoice {
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
  const heldStrips = heldFits.reduce((total, fit) => total + fit.madeStrips, 0);
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

/** What the planner makes of held and free cloth together; what it needs no free cloth for counts as held. */
function byPlan(plan: Cutting, job: PlanJob, supply: Supply, hand: LotChoice): LotChoice {
  const fixed = [...supply.cut, ...(supply.planned ?? [])].filter(({ count }) => count > 0);
  const used = distinct([...fixed.map(({ lotId }) => lotId), ...plan.lotIds]);
  const lotIds = supply.lots === 'any' || used.length === 0 ? hand.lotIds : used;
  const { heldFits, freeFit } = fitOfPlan(plan, job, hand.heldFits, supply.held);
  const free = supply.free.filter(({ lotId }) => lotIds.includes(lotId));
  const heldStrips = heldFits.reduce((total, fit) => total + fit.madeStrips, 0);
  return { lotIds, heldFits, heldStrips, freeFit, freeTicks: lengthOf(free) };
}

function byLot<T extends Stretch>(stretches: readonly T[]): Map<number, T[]> {
  const lots = new Map<number, T[]>();
  for (const stretch of stretches) {
    const lot = lots.get(stretch.lotId);
    if (lot) lot.push(stretch);
    else lots.set(stretch.lotId, [stretch]);
  }
  return lots;
}

function withCounts(demands: readonly StripDemand[], counts: readonly TierStrips[]): StripDemand[] {
  return demands.map((demand, i) => ({ ...demand, count: counts[i]?.count ?? 0 }));
}

function withPlanned(uncut: readonly StripDemand[], planned: readonly number[]): StripDemand[] {
  return uncut.map((demand, i) => ({ ...demand, count: demand.count + (planned[i] ?? 0) }));
}

function countOf(strips: readonly { readonly count: number }[]): number {
  return sum(strips.map(({ count }) => count));
}

function lengthOf(stretches: readonly Stretch[]): number {
  return sum(stretches.map(({ lengthTicks }) => lengthTicks));
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, n) => total + n, 0);
}

function distinct(lotIds: readonly number[]): readonly number[] {
  return [...new Set(lotIds)].sort((a, b) => a - b);
}
