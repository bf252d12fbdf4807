import type { PlanJob } from '../cut-plan/job.ts';
import type { Cutting } from '../cut-plan/plan.ts';
import { type CuttingWays, flawsBehind } from '../cut-plan/stock.ts';
import type { Need, StripDemand } from '../garment/need.ts';
import { type CutStrips, type HeldStretch, heldStripsAt, type Short, shortOf } from './short.ts';
import { type Fit, fitStrips, lengthToCut, type Stretch } from './strips.ts';

/** What one garment asks for of a cloth and shade, and what is done and held for it. */
export interface Claim<G> {
  readonly garment: G;
  readonly need: Need;
  readonly cut: readonly CutStrips[];
  /** Strips of lays that a held plan has still to give. */
  readonly planned?: readonly CutStrips[];
  readonly held: readonly HeldStretch[];
  /** Whether its lays may straddle a flaw, where that is not as for all. */
  readonly flaws?: CuttingWays['flaws'];
  /** Pairs of lots that may meet in this garment. */
  readonly meets?: readonly (readonly [number, number])[];
}

/** What there is of that cloth and shade. */
export interface ShadeSupply {
  readonly free: readonly Stretch[];
  readonly usableWidthTicks: number;
  readonly onOrderTicks: number;
  /** Lengths that are being dyed or planned to be, as long as they are expected back. */
  readonly inDye?: readonly Stretch[];
  readonly ways?: CuttingWays;
}

/** A plan of a job, where one is known. */
export type PlanOf = (job: PlanJob) => Cutting | null;

/** One garment's part: `free` is what the garments before it left. */
export interface Share<G> {
  readonly garment: G;
  readonly need: Need;
  readonly short: Short;
  readonly free: readonly Stretch[];
  /** Length that garments before this one take of what is free, in ticks. */
  readonly takenTicks: number;
}

/** A need of all garments together. Lengths in ticks; null where a strip is longer than the usable width. */
export interface ShortFigures {
  readonly wantedStrips: number;
  readonly wantedTicks: number | null;
  readonly cutStrips: number;
  readonly heldStrips: number;
  /** Strips that fit into free pieces of the lots that count, and all that is free of these lots. */
  readonly freeStrips: number;
  readonly freeTicks: number;
  readonly freeLotIds: readonly number[];
  /** Of the strips short, those that other lots could give, and what is free of these lots. */
  readonly elsewhereStrips: number;
  readonly elsewhereTicks: number;
  readonly shortStrips: number;
  readonly shortTicks: number | null;
  /** Of the strips short, those that what is being dyed or planned to be will give, and its length. */
  readonly inDyeTicks: number;
  readonly inDyeStrips: number;
  /** Of the others, those that what is on order will give. */
  readonly onOrderTicks: number;
  readonly onOrderStrips: number;
  /** What is short even when all that is being dyed and on order has come. */
  readonly toOrderStrips: number;
  readonly toOrderTicks: number | null;
  /** What to get instead where fresh cloth must match throughout; null where shortTicks says it all. */
  readonly oneLotTicks: number | null;
}

/** What is shared out: each garment's part, all of them together, and what they leave of what is free. */
export interface Shared<G> {
  readonly shares: readonly Share<G>[];
  readonly figures: ShortFigures;
  readonly left: readonly Stretch[];
}

/**
 * Shares what is free of one cloth and shade out among garments, in their order: the first takes what it can cut,
 * the next sees what is left, so that no length is counted twice. What is missing of all of them is got together,
 * and so is counted together: garments share the last drop of fresh cloth.
 */
export function shareOut<G>(
  claims: readonly Claim<G>[],
  offer: ShadeSupply,
  planOf: PlanOf = () => null,
): Shared<G> {
  const shares: Share<G>[] = [];
  let free = offer.free;
  for (const { garment, need, cut, planned = [], held, flaws, meets = [] } of claims) {
    const { demands, lots } = need;
    const { usableWidthTicks } = offer;
    const ways = offer.ways && flaws ? { ...offer.ways, flaws } : offer.ways;
    const supply = { demands, lots, usableWidthTicks, cut, planned, held, free, meets };
    const short = shortOf(ways ? { ...supply, ways } : supply, planOf);
    shares.push({ garment, need, short, free, takenTicks: lengthOf(offer.free) - lengthOf(free) });
    free = behindCuts(free, short);
  }
  return { shares, figures: figuresOf(shares, offer, free), left: free };
}

/** What is left of each stretch behind the last cut into it; its flaws come so much nearer to the free end. */
function behindCuts(free: readonly Stretch[], short: Short): Stretch[] {
  const ends = new Map(short.freeFit.ends.map(({ pieceId, endTicks }) => [pieceId, endTicks]));
  return free.flatMap((stretch) => {
    const endTicks = ends.get(stretch.pieceId) ?? 0;
    if (endTicks === 0) return [stretch];
    const lengthTicks = stretch.lengthTicks - endTicks;
    if (lengthTicks <= 0) return [];
    const flaws = flawsBehind(stretch.flaws ?? [], endTicks);
    return [
      flaws.length > 0 ? { ...stretch, lengthTicks, flaws } : { ...withoutFlaws(stretch), lengthTicks },
    ];
  });
}

function withoutFlaws({ flaws: _, ...stretch }: Stretch): Stretch {
  return stretch;
}

function figuresOf<G>(
  shares: readonly Share<G>[],
  offer: ShadeSupply,
  left: readonly Stretch[],
): ShortFigures {
  const { usableWidthTicks, onOrderTicks, inDye = [] } = offer;
  const sum = (of: (short: Short) => number) => shares.reduce((total, { short }) => total + of(short), 0);
  const wanted = shares.flatMap(({ need }) => need.demands);
  const missing = shares.flatMap(missingDemands);
  const lotIds = [...new Set(shares.flatMap(({ short }) => short.freeLotIds))].sort((a, b) => a - b);
  const here = offer.free.filter(({ lotId }) => lotIds.includes(lotId));
  const elsewhere = offer.free.filter(({ lotId }) => !lotIds.includes(lotId));
  const coming = beyondComing(missing, { ...offer, inDye });
  return {
    wantedStrips: sum((short) => short.wantedStrips),
    wantedTicks: lengthToCut(wanted, usableWidthTicks),
    cutStrips: sum((short) => short.cutStrips),
    heldStrips: sum((short) => short.heldStrips),
    freeStrips: sum((short) => short.freeStrips),
    freeTicks: lengthOf(here),
    freeLotIds: lotIds,
    elsewhereStrips: fitStrips(missing, left, 'any').madeStrips,
    elsewhereTicks: lengthOf(elsewhere),
    shortStrips: sum((short) => short.shortStrips),
    shortTicks: lengthToCut(missing, usableWidthTicks),
    inDyeTicks: lengthOf(inDye),
    inDyeStrips: coming.inDyeStrips,
    onOrderTicks,
    onOrderStrips: coming.onOrderStrips,
    toOrderStrips: coming.toOrderStrips,
    toOrderTicks: lengthToCut(coming.toOrder, usableWidthTicks),
    oneLotTicks: oneLotLength(shares, usableWidthTicks),
  };
}

/**
 * The strips that are short even when all that is coming is there: first what is being dyed, length by length, then what
 * is on order, in one piece of the full width.
 */
export function beyondComing(
  missing: readonly StripDemand[],
  {
    inDye = [],
    onOrderTicks,
    usableWidthTicks,
  }: Pick<ShadeSupply, 'inDye' | 'onOrderTicks' | 'usableWidthTicks'>,
) {
  const dyed = fitStrips(missing, inDye, 'any');
  const ordered = { pieceId: 0, lotId: 0, usableWidthTicks, lengthTicks: onOrderTicks };
  const onOrder = fitStrips(stillMissing(missing, dyed), [ordered], 'any');
  return {
    toOrder: stillMissing(missing, onOrder),
    inDyeStrips: dyed.madeStrips,
    onOrderStrips: onOrder.madeStrips,
    toOrderStrips: onOrder.missingStrips,
  };
}

function stillMissing(demands: readonly StripDemand[], { missing }: Fit): StripDemand[] {
  return demands.map((demand, i) => ({ ...demand, count: missing[i]?.count ?? 0 }));
}

/** The strips that a garment is short of, one demand a tier. */
export function missingDemands<G>({ need, short }: Share<G>): StripDemand[] {
  return need.demands.map((demand, i) => ({ ...demand, count: short.shortOf[i]?.count ?? 0 }));
}

/** Fresh cloth is a lot of its own: what is there already does not match it where one lot is wanted. */
function oneLotLength<G>(shares: readonly Share<G>[], usableWidthTicks: number): number | null {
  const apart = shares.filter(
    ({ need, short }) =>
      need.lots !== 'any' &&
      short.shortStrips > 0 &&
      short.shortStrips < short.wantedStrips - short.cutStrips,
  );
  if (apart.length === 0) return null;
  const demands = shares.flatMap((share) => {
    if (!apart.includes(share)) return missingDemands(share);
    return share.need.demands.map((demand, i) => ({ ...demand, count: uncutOf(share.short, i) }));
  });
  return lengthToCut(demands, usableWidthTicks);
}

/** Strips of a demand that are not cut: those that held cloth gives, those that free cloth gives, those short. */
function uncutOf(short: Short, place: number): number {
  const held = heldStripsAt(short, place);
  return held + (short.freeFit.made[place]?.count ?? 0) + (short.freeFit.missing[place]?.count ?? 0);
}

function lengthOf(stretches: readonly Stretch[]): number {
  return stretches.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
}
