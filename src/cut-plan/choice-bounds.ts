import { priceModel } from './bound.ts';
import { type ColumnOptions, generateColumns } from './columns.ts';
import type { PlanJob } from './job.ts';
import { areaLacking, everyLot, type LotChoice, modelFor } from './lot-choices.ts';
import type { Meter } from './meter.ts';
import type { Model } from './model.ts';
import type { Cutting } from './plan.ts';
import type { PlanBound } from './plan-bound.ts';
import { type Effort, STRIP_PRICE } from './solve.ts';

/** With so many rounds what a choice of lots needs is known well. */
export const LEAST_ROUNDS = 20;
/** Of a plan's work, what the bound of one choice of lots may take. */
const CHOICE_SHARE = 0.25;

/** No plan with these lots that leaves nothing uncut is charged less; infinite where some strips must stay uncut. */
export function leastChargedArea(job: PlanJob, choice: LotChoice, model: Model, effort: Effort): number {
  if (areaLacking(job, choice) > 0) return Number.POSITIVE_INFINITY;
  const enough = Number.POSITIVE_INFINITY;
  const { bound } = generateColumns(model, {
    mostMissing: 0,
    known: [],
    enough,
    ...effortPerChoice(model, effort),
  });
  const all = model.stocks.reduce((sum, s) => sum + s.places.length * s.lengthTicks * s.family.widthTicks, 0);
  return bound > all ? Number.POSITIVE_INFINITY : bound;
}

/** Strips that stay uncut at least; more than `mostMissing` are not told apart. */
export function leastMissing(model: Model, mostMissing: number, effort: Effort): number {
  const enough = (mostMissing + 1) * STRIP_PRICE;
  const { bound } = generateColumns(model, {
    mostMissing: 0,
    known: [],
    strip: STRIP_PRICE,
    enough,
    ...effortPerChoice(model, effort),
  });
  return Math.max(0, Math.ceil(bound / STRIP_PRICE - 1e-9));
}

/** What any choice of lots may use, all at once. */
export function relaxedBound(
  job: PlanJob,
  plan: Cutting,
  prices: Float64Array,
  effort: Effort,
  meter: Meter,
): Pick<PlanBound, 'missingStrips' | 'chargedArea'> {
  const model = modelFor(job, everyLot(job), meter);
  const options = {
    mostMissing: plan.missingStrips,
    known: [],
    enough: plan.chargedArea,
    ...effortPerChoice(model, effort),
  };
  const area = Math.max(
    priceModel(model, prices, plan.missingStrips).bound,
    generateColumns(model, options).bound,
  );
  return {
    missingStrips: plan.missingStrips === 0 ? 0 : leastMissing(model, plan.missingStrips, effort),
    chargedArea: area,
  };
}

/** As much column generation as one of many choices of lots is worth. */
export function effortPerChoice(
  { meter }: Model,
  { rounds, work, timeGone }: Effort,
): Pick<ColumnOptions, 'rounds' | 'isOver'> {
  const mostWork = meter.work + work * CHOICE_SHARE;
  const isOver = () => meter.work > mostWork || (timeGone !== undefined && timeGone() >= 1);
  return { rounds: Math.min(LEAST_ROUNDS, rounds), isOver };
}
