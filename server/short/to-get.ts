import type { Buying, PlanJob } from '../../src/cut-plan/job.ts';
import { USUAL_WAYS } from '../../src/cut-plan/stock.ts';
import { beyondComing, missingDemands, type Share } from '../../src/fit/sharing.ts';
import { lengthToCut } from '../../src/fit/strips.ts';
import type { StripDemand } from '../../src/garment/need.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import { knownPlan } from '../cut-plans/answers.ts';
import type { Reader } from '../database/book.ts';
import type { Garment } from '../garments/garment/records.ts';
import { address } from '../kit/address.ts';
import type { WayOn } from '../refusal.ts';
import { readShort, type ShortLine } from './queries.ts';
import { readSelling, type Selling, type SellingOf, soldLength } from './selling.ts';
import { stretchesInDye } from './supply.ts';

/** Fresh cloth for some strips: what is needed, and what is got, which is as much or more. In ticks. */
export interface Fresh {
  /** null where a strip is longer than the usable width */
  readonly ticks: number | null;
  readonly neededTicks: number | null;
  readonly isPlanned: boolean;
  /** what the planner is asked for it; null where nothing need be asked */
  readonly job: PlanJob | null;
  readonly selling: Selling;
}

/**
 * What to get of a cloth and shade: fresh cloth for the strips short that nothing on order, in the pot or planned to be
 * dyed gives; of all its garments together, or of some. Short, Today, the order form, the shopping list and the basket all ask here.
 *
 * `ticks` is what to get: rounded up once, to the cuts of the offer that cuts least off, or without an offer by the
 * length to the step that shops cut to, because nobody sells less. `neededTicks` is what the strips need, not rounded:
 * the basket compares offers, each of which cuts in its own steps.
 */
export function toGetOf(line: ShortLine, shares: readonly Share<Garment>[], sellingOf: SellingOf): Fresh {
  const { cloth, shade } = line;
  return freshLength(demandsToGet(line, shares), cloth.usableWidthTicks, (neededTicks) =>
    sellingOf({ clothId: cloth.id, shadeId: shade.id }, neededTicks),
  );
}

/** The strips short of some garments that nothing on its way gives. */
export function demandsToGet(
  { cloth: { usableWidthTicks }, onOrderTicks, dyeing }: ShortLine,
  shares: readonly Share<Garment>[],
): StripDemand[] {
  const coming = { inDye: stretchesInDye(dyeing), onOrderTicks, usableWidthTicks };
  return beyondComing(shares.flatMap(missingDemands), coming).toOrder;
}

/** A line of what is short, and what to get for all its garments. */
export interface ToGet {
  readonly line: ShortLine;
  readonly toGet: Fresh;
}

/** What to get for all open garments, the most pressing first. */
export function readToGet(reader: Reader, { units }: { readonly units: Units }, today: string): ToGet[] {
  const lines = readShort(reader).filter(({ toOrderStrips }) => toOrderStrips > 0);
  const clothIds = lines.map(({ cloth }) => cloth.id);
  const sellingOf = readSelling(reader, today, clothIds, units);
  return lines.map((line) => ({ line, toGet: toGetOf(line, line.shares, sellingOf) }));
}

/** "1.3 m"; or why there is no length. */
export function sayToGet(lengthTicks: number | null, units: Units): string {
  if (lengthTicks === null) return 'a wider cloth';
  return lengthTicks === 0 ? 'nothing more' : showLength(lengthTicks, units, 'up');
}

/**
 * What can be done about strips that are short: dye where undyed cloth is free, order what no order brings, look at lots
 * that do not match.
 */
export function waysToGet(
  { cloth, shade, groundTicks }: Pick<ShortLine, 'cloth' | 'shade' | 'groundTicks'>,
  missing: {
    readonly neededTicks: number | null;
    readonly toOrderStrips: number;
    readonly elsewhereStrips: number;
  },
  units: Units,
): WayOn[] {
  const { neededTicks, toOrderStrips, elsewhereStrips } = missing;
  const asked = { cloth: cloth.id, shade: shade.id };
  // The dye bench is told what is wanted as somebody would type it.
  const wanted = neededTicks === null ? '' : showLength(neededTicks, units, 'up').replace(/^≈ /, '');
  const ways: WayOn[] = [];
  if (groundTicks > 0 && toOrderStrips > 0)
    ways.push({ text: 'Dye', href: address('/dye-bench/batches/new', { ...asked, wanted }) });
  if (toOrderStrips > 0) {
    ways.push({ text: 'Order', href: '/orders/new?from=short' });
    if (!shade.ground) ways.push({ text: 'Dye or buy', href: address('/orders/dye-or-buy', asked) });
  }
  if (elsewhereStrips > 0) ways.push({ text: 'Other lots', href: address('/shelf', asked) });
  return ways;
}

/** The length of fresh cloth for some strips: as planned where that is known and less, else cut length by cut length. */
function freshLength(
  missing: readonly StripDemand[],
  widthTicks: number,
  sellingFor: (neededTicks: number | null) => Selling,
): Fresh {
  const handTicks = lengthToCut(missing, widthTicks);
  const selling = sellingFor(handTicks);
  const job = freshJob(missing, widthTicks, selling);
  const plan = job ? knownPlan(job)?.plan : null;
  const soldTicks = handTicks === null ? null : soldLength(handTicks, selling);
  if (soldTicks !== null && plan && plan.missingStrips === 0 && plan.chargedTicks <= soldTicks) {
    return { ticks: plan.chargedTicks, neededTicks: plan.usedTicks, isPlanned: true, job, selling };
  }
  return { ticks: soldTicks, neededTicks: handTicks, isPlanned: false, job, selling };
}

/**
 * What the planner is asked to learn how little fresh cloth gives some strips, as it is sold; null where the sum of
 * cut lengths is exact, as for strips of one size, or where no length would do.
 */
function freshJob(
  missing: readonly StripDemand[],
  widthTicks: number,
  { stepTicks, leastTicks }: Buying,
): PlanJob | null {
  const wanted = missing.filter(({ count }) => count > 0);
  const sizes = new Set(wanted.map(({ lengthTicks, depthTicks }) => `${lengthTicks} ${depthTicks}`));
  const handTicks = lengthToCut(wanted, widthTicks);
  if (sizes.size < 2 || handTicks === null) return null;
  const kinds = wanted.map(({ lengthTicks, depthTicks, direction, count }, kindId) => ({
    kindId,
    lengthTicks,
    depthTicks,
    direction,
    count,
    lots: 'any' as const,
    group: 1,
  }));
  const lengthTicks = Math.ceil(Math.max(handTicks, leastTicks) / stepTicks) * stepTicks;
  const bolt = { pieceId: 0, lotId: 0, widthTicks, lengthTicks, flaws: [], count: 1 };
  const pieces = [{ ...bolt, buying: { stepTicks, leastTicks } }];
  return { kinds, pieces, meets: [], ...USUAL_WAYS, usefulTicks: 0, stacks: true, seed: 1 };
}
