import type { PlanJob, PlanPiece } from './job.ts';
import { chargedTicks } from './model.ts';
import type { Cutting, PieceUse } from './plan.ts';
import { gapAbove, type PlanBound } from './plan-bound.ts';
import { verifyPlan } from './verify.ts';

/**
 * The same lays on shorter pieces that are not cut yet: a remnant rather than a bolt where no more is charged, and a piece
 * that they finish where less than a useful length more is. Nobody likes a bolt begun beside a piece that was enough.
 */
export function onShorterPieces<P extends Cutting & { readonly bound: PlanBound }>(job: PlanJob, plan: P): P {
  let kept = plan;
  // The piece of which most is left whole by it moves first.
  for (const use of [...plan.pieces].sort((a, b) => b.lengthTicks - a.lengthTicks)) {
    for (const piece of [...job.pieces].sort((a, b) => a.lengthTicks - b.lengthTicks)) {
      const moved = movedTo(job, kept, use, piece);
      if (!moved) continue;
      kept = moved;
      break;
    }
  }
  return kept;
}

function movedTo<P extends Cutting & { readonly bound: PlanBound }>(
  job: PlanJob,
  plan: P,
  use: PieceUse,
  piece: PlanPiece,
): P | null {
  const { pieceId, lotId, widthTicks, lengthTicks } = piece;
  const isPlain = piece.flaws.length === 0 && piece.buying === undefined && widthTicks === use.widthTicks;
  if (!isPlain || lengthTicks >= use.lengthTicks || lengthTicks < use.usedTicks) return null;
  const copy = freeCopy(plan, piece);
  if (copy === null) return null;
  const charged = chargedTicks({ ...piece, buying: undefined, usefulTicks: job.usefulTicks }, use.usedTicks);
  const moreTicks = charged - use.chargedTicks;
  const isFinished = charged === lengthTicks;
  if (moreTicks > 0 && !(isFinished && moreTicks < job.usefulTicks)) return null;
  const moved = { ...use, pieceId, copy, lotId, lengthTicks, chargedTicks: charged };
  const pieces = plan.pieces.map((one) =>
    isSame(one, use) ? { ...moved, leftTicks: lengthTicks - charged } : one,
  );
  const lays = plan.lays.map((lay) => (isSame(lay, use) ? { ...lay, pieceId, copy } : lay));
  const lotIds = [...new Set(pieces.map((one) => one.lotId))].sort((a, b) => a - b);
  const chargedArea = plan.chargedArea + moreTicks * widthTicks;
  const bound = { ...plan.bound, gapBp: gapAbove(chargedArea, plan.bound.chargedArea) };
  const found = {
    ...plan,
    lays,
    pieces,
    lotIds,
    bound,
    chargedArea,
    chargedTicks: plan.chargedTicks + moreTicks,
  };
  return lotIds.length <= plan.lotIds.length && verifyPlan(job, found).length === 0 ? found : null;
}

function freeCopy(plan: Cutting, { pieceId, count }: PlanPiece): number | null {
  const cut = new Set(plan.pieces.filter((one) => one.pieceId === pieceId).map(({ copy }) => copy));
  for (let copy = 0; copy < count; copy += 1) if (!cut.has(copy)) return copy;
  return null;
}

interface Place {
  readonly pieceId: number;
  readonly copy: number;
}

function isSame(a: Place, b: Place): boolean {
  return a.pieceId === b.pieceId && a.copy === b.copy;
}
