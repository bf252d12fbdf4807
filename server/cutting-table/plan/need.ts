import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { type CuttingWays, USUAL_WAYS } from '../../../src/cut-plan/stock.ts';
import type { Share } from '../../../src/fit/sharing.ts';
import type { StoredPlan } from '../../cut-plans/store.ts';
import type { Reader } from '../../database/book.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { conflict, unknown } from '../../refusal.ts';
import { readNeeds, type ShortLine } from '../../short/queries.ts';

/** One cloth and shade of a garment as it comes to the planner. */
export interface PlanNeed {
  readonly line: ShortLine;
  readonly share: Share<Garment>;
  /** the plan that is held for it; null where none is */
  readonly held: StoredPlan | null;
  /** what the planner is asked; with `afresh` as if the held plan were given up */
  readonly job: PlanJob;
}

/**
 * The needs of a garment; the ones in `afresh` (all, or none) are looked at as if their plans were given up. `flaws` says
 * whether lays of this garment may straddle a flaw.
 */
export function readPlanNeeds(
  reader: Reader,
  garment: Garment,
  afresh: boolean,
  flaws: CuttingWays['flaws'] = 'straddle',
): PlanNeed[] {
  const { lines, plans } = readNeeds(reader, {
    garmentCode: garment.code,
    afresh: afresh ? garment.code : null,
    // The usual way is what is kept.
    ...(flaws === USUAL_WAYS.flaws ? {} : { flaws }),
  });
  return lines.flatMap((line): PlanNeed[] => {
    const share = line.shares.find((one) => one.garment.id === garment.id);
    if (!share) return [];
    const held = plans.find(
      ({ garmentId, clothId, shadeId }) =>
        garmentId === garment.id && clothId === line.cloth.id && shadeId === line.shade.id,
    );
    return [{ line, share, held: held ?? null, job: share.short.job }];
  });
}

/** The need of one cloth and shade. @throws {Refusal} unknown; conflict where the garment is finished */
export function readPlanNeed(
  reader: Reader,
  garment: Garment,
  asked: {
    readonly clothId: number;
    readonly shadeId: number;
    readonly afresh: boolean;
    readonly flaws: CuttingWays['flaws'];
  },
): PlanNeed {
  if (garment.finishedAt !== null) {
    throw conflict(`${garment.code} is finished: reopen it before anything is held for it.`);
  }
  const need = readPlanNeeds(reader, garment, asked.afresh, asked.flaws).find(
    ({ line }) => line.cloth.id === asked.clothId && line.shade.id === asked.shadeId,
  );
  if (!need) throw unknown(`such cloth and shade in ${garment.code}`);
  return need;
}
