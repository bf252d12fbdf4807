import type { PlanJob } from '../cut-plan/job.ts';
import type { Cutting } from '../cut-plan/plan.ts';
import type { Fit, FitLay, PieceEnd, Stretch, TierStrips } from './strips.ts';

/**
 * Whether the hand rule of `fitStrips` makes as many strips as any plan can: strips of one size that lie one way round,
 * no flaw, and lots that are either one or any. Then cut lengths of equal strips are all there is to choose.
 */
export function isExactByHand({ kinds, pieces }: PlanJob): boolean {
  const [first] = kinds;
  return (
    first === undefined ||
    (first.direction !== 'either' &&
      first.lots !== 'meet' &&
      kinds.every(
        ({ lengthTicks, depthTicks, direction }) =>
          lengthTicks === first.lengthTicks &&
          depthTicks === first.depthTicks &&
          direction === first.direction,
      ) &&
      pieces.every(({ flaws }) => flaws.length === 0))
  );
}

/**
 * A plan as a fit of free cloth beside the fits of held cloth. Held fits stay as the hand rule has them, less the strips
 * that the plan does not make; all other strips of the plan count as cut from free cloth. What a piece gives is its held
 * part first, so that the end of a cut in the free part is the plan's end less what is held of the piece.
 */
export function fitOfPlan(
  plan: Cutting,
  job: PlanJob,
  heldFits: readonly Fit[],
  held: readonly Stretch[],
): { readonly heldFits: readonly Fit[]; readonly freeFit: Fit } {
  const missingOf = (place: number) =>
    plan.missing[job.kinds.findIndex(({ kindId }) => kindId === place)] ?? 0;
  const fits = heldFits.map((fit, place) => {
    const tierId = fit.missing[0]?.tierId ?? 0;
    const wanted = fit.madeStrips + fit.missingStrips;
    const count = Math.min(fit.madeStrips, wanted - missingOf(place));
    return {
      ...fit,
      made: [{ tierId, count }],
      missing: [{ tierId, count: wanted - count }],
      madeStrips: count,
      missingStrips: wanted - count,
    };
  });
  const missing = fits.map(
    (fit, place): TierStrips => ({
      tierId: fit.missing[0]?.tierId ?? 0,
      count: missingOf(place),
    }),
  );
  const made = fits.map(
    (fit, place): TierStrips => ({
      tierId: fit.missing[0]?.tierId ?? 0,
      count: fit.missingStrips - missingOf(place),
    }),
  );
  const ends = endsIn(plan, held);
  const lays = ends.flatMap(({ pieceId }) => laysOn(plan, pieceId, fits));
  return {
    heldFits: fits,
    freeFit: {
      lotIds: [...new Set(lays.map(({ lotId }) => lotId))].sort((a, b) => a - b),
      lays,
      made,
      missing,
      madeStrips: total(made),
      missingStrips: total(missing),
      usedTicks: ends.reduce((sum, { endTicks }) => sum + endTicks, 0),
      ends,
    },
  };
}

function endsIn(plan: Cutting, held: readonly Stretch[]): PieceEnd[] {
  return plan.pieces.flatMap(({ pieceId }) => {
    const heldTicks = held.reduce((sum, one) => sum + (one.pieceId === pieceId ? one.lengthTicks : 0), 0);
    const lays = plan.lays.filter((lay) => lay.pieceId === pieceId);
    const endTicks = Math.max(0, ...lays.map((lay) => lay.fromTicks + lay.heightTicks)) - heldTicks;
    return endTicks > 0 ? [{ pieceId, endTicks }] : [];
  });
}

/** The plan's lays on a piece in the shape of cut lengths: one cut length each, with all its strips. */
function laysOn(plan: Cutting, pieceId: number, fits: readonly Fit[]): FitLay[] {
  const lotId = plan.pieces.find((use) => use.pieceId === pieceId)?.lotId ?? 0;
  return plan.lays
    .filter((lay) => lay.pieceId === pieceId)
    .map((lay) => ({
      pieceId,
      lotId,
      depthTicks: lay.heightTicks,
      stripLengthTicks: lay.columns[0]?.acrossTicks ?? 0,
      columns: lay.columns.reduce((sum, { columns }) => sum + columns, 0),
      cutLengths: 1,
      strips: lay.columns.map(({ kindId, strips }) => ({
        tierId: fits[kindId]?.missing[0]?.tierId ?? 0,
        count: strips,
      })),
    }));
}

function total(strips: readonly TierStrips[]): number {
  return strips.reduce((sum, { count }) => sum + count, 0);
}
