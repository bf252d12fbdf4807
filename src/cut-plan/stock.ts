import type { Stretch } from '../fit/filling.ts';
import { mayMeet } from '../fit/lots.ts';
import type { LotRule } from '../garment/band.ts';
import type { StripDemand } from '../garment/need.ts';
import { TICKS_PER } from '../quantity/length.ts';
import { type Flaw, MOST_FLAWS, MOST_PIECES, type PlanJob, type PlanPiece } from './job.ts';

/** How the workroom cuts: what is worth keeping, how long its table is, whether a lay may run past a flaw. In ticks. */
export interface CuttingWays {
  readonly usefulTicks: number;
  readonly tableTicks: number;
  readonly flaws: 'straddle' | 'skip';
}

/** Half a metre is kept and the table is three metres long: common practice where the workroom says nothing else. */
export const USUAL_WAYS: CuttingWays = {
  usefulTicks: TICKS_PER.m / 2,
  tableTicks: 3 * TICKS_PER.m,
  flaws: 'straddle',
};

/** What is to be cut of one cloth and shade, and all that it may be cut from. */
export interface Stock {
  /** strips still wanted, one demand a tier */
  readonly demands: readonly StripDemand[];
  readonly lots: LotRule;
  /** pairs of lots that may meet */
  readonly meets: readonly (readonly [number, number])[];
  /** lots that strips are cut from, or planned from, already: what follows must match them */
  readonly fixedLotIds: readonly number[];
  /** free and own held stretches; those of one piece are one */
  readonly stretches: readonly Stretch[];
  readonly ways: CuttingWays;
}

/**
 * The planner's job for a need as it stands: `kindId` is the place of the demand, pieces keep their id. Pieces of lots
 * that do not match what is cut already are left out; of more pieces than a plan takes, the longest are taken.
 */
export function jobOfStock(stock: Stock): PlanJob {
  const kinds = stock.demands.flatMap(({ lengthTicks, depthTicks, direction, count }, kindId) =>
    count > 0 ? [{ kindId, lengthTicks, depthTicks, direction, count, lots: stock.lots, group: 1 }] : [],
  );
  const pieces = piecesOf(stock);
  const lotIds = new Set(pieces.map(({ lotId }) => lotId));
  const meets = stock.lots === 'meet' ? stock.meets.filter(([a, b]) => lotIds.has(a) && lotIds.has(b)) : [];
  return { kinds, pieces, meets, ...stock.ways, stacks: true, seed: 1 };
}

/** Whether cloth of a lot may join the lots that are fixed already. */
export function isLotAllowed(stock: Pick<Stock, 'lots' | 'meets' | 'fixedLotIds'>, lotId: number): boolean {
  if (stock.lots === 'any' || stock.fixedLotIds.length === 0) return true;
  if (stock.lots === 'one') return stock.fixedLotIds.includes(lotId);
  return stock.fixedLotIds.every((fixed) => mayMeet(stock.meets, fixed, lotId));
}

function piecesOf(stock: Stock): PlanPiece[] {
  const byId = new Map<number, PlanPiece>();
  for (const { pieceId, lotId, usableWidthTicks, lengthTicks, flaws = [] } of stock.stretches) {
    if (lengthTicks === 0 || usableWidthTicks === 0 || !isLotAllowed(stock, lotId)) continue;
    const before = byId.get(pieceId);
    const whole = (before?.lengthTicks ?? 0) + lengthTicks;
    const all = before?.flaws ?? flaws;
    byId.set(pieceId, {
      pieceId,
      lotId,
      widthTicks: usableWidthTicks,
      lengthTicks: whole,
      flaws: all,
      count: 1,
    });
  }
  return [...byId.values()]
    .sort((a, b) => b.lengthTicks - a.lengthTicks || a.pieceId - b.pieceId)
    .slice(0, MOST_PIECES)
    .map(withFewFlaws)
    .sort((a, b) => a.pieceId - b.pieceId);
}

/** A piece with more flaws than a plan takes ends before the first that is too many. */
function withFewFlaws(piece: PlanPiece): PlanPiece {
  const flaws = flawsWithin(piece.flaws, piece.lengthTicks, piece.widthTicks);
  const tooMany = flaws[MOST_FLAWS];
  if (!tooMany) return { ...piece, flaws };
  const lengthTicks = tooMany.fromTicks;
  return {
    ...piece,
    lengthTicks,
    flaws: flawsWithin(flaws.slice(0, MOST_FLAWS), lengthTicks, piece.widthTicks),
  };
}

/** Flaws cut to a rectangle, the nearest to the free end first; what lies outside is dropped. */
export function flawsWithin(flaws: readonly Flaw[], lengthTicks: number, widthTicks: number): Flaw[] {
  return flaws
    .map(({ fromTicks, toTicks, leftTicks, rightTicks }) => ({
      fromTicks: Math.max(0, fromTicks),
      toTicks: Math.min(lengthTicks, toTicks),
      leftTicks: Math.max(0, leftTicks),
      rightTicks: Math.min(widthTicks, rightTicks),
    }))
    .filter((flaw) => flaw.fromTicks < flaw.toTicks && flaw.leftTicks < flaw.rightTicks)
    .sort((a, b) => a.fromTicks - b.fromTicks || a.leftTicks - b.leftTicks);
}

/** Flaws as they lie from a line further along their piece, in ticks; what lies before it is dropped. */
export function flawsBehind(flaws: readonly Flaw[], alongTicks: number): Flaw[] {
  return flawsSeenFrom(flaws, alongTicks)
    .filter(({ toTicks }) => toTicks > 0)
    .map(({ fromTicks, toTicks, leftTicks, rightTicks }) => ({
      fromTicks: Math.max(0, fromTicks),
      toTicks,
      leftTicks,
      rightTicks,
    }));
}

/** Flaws as they are seen from a line further along their piece, in ticks; what lies before it has places below 0. */
export function flawsSeenFrom<T extends Flaw>(flaws: readonly T[], alongTicks: number): T[] {
  return flaws.map((flaw) => ({
    ...flaw,
    fromTicks: flaw.fromTicks - alongTicks,
    toTicks: flaw.toTicks - alongTicks,
  }));
}
