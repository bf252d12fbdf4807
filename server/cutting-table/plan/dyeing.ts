import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { MOST_PIECES } from '../../../src/cut-plan/job.ts';
import { afterShrinkage, lengthToPrepareTicks } from '../../../src/dye/bath.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { knownPlan } from '../../cut-plans/answers.ts';
import type { Reader } from '../../database/book.ts';
import { type DyeablePiece, readDyeablePieces } from '../../dye-bench/batch/dyeable.ts';
import { address } from '../../kit/address.ts';
import { listed } from '../../kit/words.ts';
import type { ShortLine } from '../../short/queries.ts';
import { type CureContext, type CureView, sayCureEffect } from './cure-words.ts';

/** Cloth that is dyed in one batch is one lot, and none that is on the shelf; no lot of the book has this number. */
const DYED_LOT = -1;

/** The job with undyed cloth added that could be dyed in this shade, in one batch; null where there is none. */
export interface DyeableJob {
  readonly job: PlanJob;
  readonly grounds: readonly DyeablePiece[];
  readonly shrinkageBp: number;
}

/**
 * The free undyed pieces of a cloth beside what a job has. They come back shorter by as much as the recipes of the shade
 * allow for, the largest of them; where there is no recipe yet, nothing is taken off, and the words say so.
 */
export function readDyeingFor(reader: Reader, line: ShortLine, job: PlanJob): DyeableJob | null {
  if (line.shade.ground) return null;
  const grounds = readDyeablePieces(reader, {
    clothIds: [line.cloth.id],
    limit: MOST_PIECES - job.pieces.length,
  });
  if (grounds.length === 0) return null;
  const shrinkageBp = readShrinkage(reader, line.shade.id);
  const pieces = grounds.map((piece) => ({
    pieceId: piece.id,
    lotId: DYED_LOT,
    widthTicks: piece.usableWidthTicks,
    lengthTicks: afterShrinkage(piece.freeTicks, shrinkageBp),
    flaws: [],
    count: 1,
  }));
  const all = [...job.pieces, ...pieces.filter(({ lengthTicks }) => lengthTicks > 0)];
  return { job: { ...job, pieces: all }, grounds, shrinkageBp };
}

function readShrinkage(reader: Reader, shadeId: number): number {
  const row = reader.first(
    reader.db
      .selectFrom('recipe')
      .select((of) => of.fn.max<number | null>('shrinkage_bp').as('most'))
      .where('shade_id', '=', shadeId),
  );
  return row?.most ?? 0;
}

/** What dyeing would cure, and from which pieces; null where it is not known yet or cures nothing. */
export function dyeingCure(
  dyeing: DyeableJob,
  line: ShortLine,
  context: CureContext,
  units: Units,
): CureView | null {
  const plan = knownPlan(dyeing.job)?.plan;
  if (!plan || plan.missingStrips >= context.short.missingStrips) return null;
  const used = plan.pieces.flatMap(({ pieceId, usedTicks, lotId }) => {
    const ground = dyeing.grounds.find(({ id }) => id === pieceId);
    if (lotId !== DYED_LOT || !ground) return [];
    // As much goes into the pot as gives what is used after shrinking.
    const ticks = lengthToPrepareTicks(usedTicks, dyeing.shrinkageBp);
    return [`${showLength(Math.min(ticks, ground.freeTicks), units, 'up')} of ${ground.code}`];
  });
  const shrinking =
    dyeing.shrinkageBp > 0
      ? `${dyeing.shrinkageBp / 100} % is allowed for shrinking.`
      : 'Nothing is allowed for shrinking: no recipe of this shade says how much. Add what swatches take.';
  const asked = { cloth: line.cloth.id, shade: line.shade.id };
  return {
    what: `Dye ${listed(used)}`,
    effect: `${sayCureEffect(plan, context)} ${shrinking}`,
    shortStrips: plan.missingStrips,
    link: { text: 'Dye', href: address('/dye-bench/batches/new', asked) },
  };
}
