import { boundByArea, priceModel } from './bound.ts';
import {
  effortPerChoice,
  LEAST_ROUNDS,
  leastChargedArea,
  leastMissing,
  relaxedBound,
} from './choice-bounds.ts';
import { generateColumns } from './columns.ts';
import { planExactly } from './exact.ts';
import { assertJob, type PlanJob } from './job.ts';
import {
  areaLacking,
  choicesOfLots,
  type LotChoice,
  modelFor,
  subsetsOf,
  withinLots,
} from './lot-choices.ts';
import { Meter } from './meter.ts';
import type { Model } from './model.ts';
import { cutOneKind } from './one-kind.ts';
import { type Cutting, comparePlans } from './plan.ts';
import { boundOfPlan, type PlanBound } from './plan-bound.ts';
import { planOfFills } from './plan-of-fills.ts';
import { type Effort, planByHand, type Solved, solveModel } from './solve.ts';
import { verifyPlan } from './verify.ts';

export interface CutPlan extends Cutting {
  readonly bound: PlanBound;
}

/** Of the work that is allowed, what trying every way may take. */
const EXACT_SHARE = 0.3;
/** So many times the work that is allowed, all loops counted, is done at most for all choices of lots together. */
const MOST_TIMES_OVER = 10;
const MOST_SUBSETS = 40;
const MOST_LOOKED = 2000;
const ENOUGH_SUBSETS = 3;

/**
 * Plans how strips are cut from pieces: least short, then from the fewest lots, then with the least length charged
 * (by area where widths differ). The same job and effort give the same plan, unless `timeGone` ends it by the clock.
 *
 * Every plan is verified before it is given back; what fails is dropped for the hand rules' plan. The bound is for
 * this style of cutting: full-width lays from the free end, slit into columns of equal strips, beside flaws or not.
 * Throws RangeError where the job is out of range.
 */
export function planCuts(
  job: PlanJob,
  effort: Effort,
  meter = new Meter(effort.work * MOST_TIMES_OVER),
): CutPlan {
  assertJob(job);
  const listed = choicesOfLots(job);
  let fewest = Number.POSITIVE_INFINITY;
  const hands: Choice[] = [];
  for (const choice of listed.choices) {
    if (hands.length > 0 && meter.isSpent) break;
    const model = modelFor(job, choice, meter);
    // Lots that have not the cloth for as many strips as others are known to give are not tried.
    const isHopeless = areaLacking(job, choice) > fewest * largestStrip(job);
    const plan = isHopeless ? planOfFills(model, [], 'naive') : planByHand(model);
    fewest = Math.min(fewest, plan.missingStrips);
    effort.onBetter?.(plan);
    hands.push({ choice, model, plan, least: null });
  }
  const isAll = listed.isAll && hands.length === listed.choices.length;
  hands.sort((a, b) => comparePlans(a.plan, b.plan));
  const first = hands[0];
  if (!first) throw new RangeError('a job has one choice of lots at least');
  const { onProved, ...others } = effort;
  const mostMissing = first.plan.missingStrips;
  onProved?.({ mostMissing, missingStrips: 0, chargedArea: boundByArea(first.model, mostMissing) });
  const exact = exactPlan(job, hands, effort);
  if (exact) return exact;
  const bounded = hands.length > 1 ? withLeast(job, hands, effort) : hands;
  const least = Math.min(...bounded.map((one) => one.least ?? 0));
  if (isAll && Number.isFinite(least)) onProved?.({ mostMissing: 0, missingStrips: 0, chargedArea: least });
  // What is proved of one choice of lots among several is not proved of all.
  const solved = solveBest(job, bounded, isAll && hands.length === 1 ? effort : others);
  let best = solved[0] as Tried;
  const fewer = fewerLots(job, best, others);
  if (fewer) best = fewer;
  const verified = verifyPlan(job, best.solved.plan).length === 0 ? best.solved.plan : first.plan;
  return {
    ...verified,
    bound: boundOver(job, { hands: bounded, solved, best, isAll, isFewer: fewer !== null }, effort),
  };
}

/** The optimum of a small job that no formula gives; none where many plans are asked for. */
function exactPlan(job: PlanJob, hands: readonly Choice[], effort: Effort): CutPlan | null {
  const isFormula = hands.length === 1 && hands[0] !== undefined && cutOneKind(hands[0].model) !== null;
  if (isFormula || effort.onTried) return null;
  const plan = planExactly(job, { ...effort, work: effort.work * EXACT_SHARE });
  if (plan === null || verifyPlan(job, plan).length > 0) return null;
  effort.onBetter?.(plan);
  return { ...plan, bound: boundOfPlan(plan, plan.missingStrips, plan.chargedArea, 'all lots') };
}

function largestStrip({ kinds }: PlanJob): number {
  return Math.max(0, ...kinds.map(({ lengthTicks, depthTicks }) => lengthTicks * depthTicks));
}

/** A choice of lots with what the pencil gives for it. */
interface Choice {
  readonly choice: LotChoice;
  readonly model: Model;
  readonly plan: Cutting;
  /**
   * No plan with these lots that leaves nothing uncut is charged less; infinite where some strips must stay uncut, null
   * where it was not worked out.
   */
  readonly least: number | null;
}

interface Tried extends Choice {
  readonly solved: Solved;
}

/** The most promising choices of lots planned, the best first; all but the best one with less effort. */
function solveBest(job: PlanJob, hands: readonly Choice[], effort: Effort): Tried[] {
  const [byHand] = hands;
  if (hands.length === 1 && byHand) return [{ ...byHand, solved: solveOne(job, byHand.model, effort) }];
  const known = hands.filter(({ least }) => least !== null && Number.isFinite(least));
  const promising = known.sort(
    (a, b) =>
      lotsOf(a.choice) - lotsOf(b.choice) || (a.least ?? 0) - (b.least ?? 0) || comparePlans(a.plan, b.plan),
  );
  const order = [
    ...new Set([
      ...promising.slice(0, effort.choices - 1),
      ...hands.slice(0, known.length > 0 ? 1 : effort.choices),
    ]),
  ];
  const work = Math.ceil(effort.work / (2 * order.length));
  const little = {
    ...effort,
    work,
    repairs: Math.min(4, effort.repairs),
    dives: Math.min(1, effort.dives),
    solver: null,
  };
  const solved: Tried[] = [];
  for (const one of order) {
    const isWorse = ({ solved: { plan } }: Tried) =>
      plan.missingStrips === 0 &&
      lotsOf(one.choice) >= plan.lotIds.length &&
      (one.least ?? 0) >= plan.chargedArea;
    if (!solved.some(isWorse)) solved.push({ ...one, solved: solveOne(job, one.model, little) });
  }
  solved.sort((a, b) => comparePlans(a.solved.plan, b.solved.plan));
  const [first, ...others] = solved;
  if (!first || (first.solved.isProved && !effort.onTried)) return solved;
  // A little effort that was not cut short is all that a first plan gets.
  const isAll = effort.dives === 0 && effort.repairs === 0 && effort.solver === null;
  if (isAll && !first.solved.isCut) return solved;
  const again = solveOne(job, first.model, { ...effort, work: Math.ceil(effort.work / 2) });
  return [comparePlans(again.plan, first.solved.plan) < 0 ? { ...first, solved: again } : first, ...others];
}

/** Works out what choices need at least, as far as a tenth of the work goes. */
function withLeast(job: PlanJob, hands: readonly Choice[], effort: Effort): Choice[] {
  let left = effort.work / 10;
  return hands.map((one) => {
    if (left <= 0 || one.model.meter.isSpent) return one;
    const before = one.model.meter.work;
    const least = leastChargedArea(job, one.choice, one.model, effort);
    left -= one.model.meter.work - before;
    return { ...one, least };
  });
}

function solveOne(job: PlanJob, model: Model, effort: Effort): Solved {
  const plan = cutOneKind(model);
  if (!plan) return solveModel(model, job.seed, effort);
  const prices = Float64Array.from(model.counts, () => 0);
  return {
    plan,
    missingBound: plan.missingStrips,
    areaBound: plan.chargedArea,
    prices,
    isProved: true,
    isCut: false,
  };
}

/** The same strips from fewer lots, where groups may take several: of the smallest sets of lots, what is charged least. */
function fewerLots(job: PlanJob, best: Tried, effort: Effort): Tried | null {
  const { plan } = best.solved;
  const allowed = new Set([...best.choice.values()].flatMap((set) => [...set]));
  const lots = [...allowed].sort((a, b) => a - b);
  const little = {
    ...effort,
    work: Math.ceil(effort.work / 8),
    solver: null,
    repairs: 4,
    dives: 0,
  };
  let [left, looked] = [MOST_SUBSETS, 0];
  for (let size = 1; size < plan.lotIds.length && left > 0; size += 1) {
    const possible: Choice[] = [];
    for (const some of subsetsOf(lots, size)) {
      looked += 1;
      if (looked > MOST_LOOKED || possible.length === left || best.model.meter.isSpent) break;
      const choice = withinLots(best.choice, new Set(some));
      if (!choice || (plan.missingStrips === 0 && areaLacking(job, choice) > 0)) continue;
      const model = modelFor(job, choice, best.model.meter);
      possible.push({ choice, model, plan: planByHand(model), least: null });
    }
    possible.sort((a, b) => comparePlans(a.plan, b.plan));
    left -= possible.length;
    const found: Tried[] = [];
    for (const one of possible) {
      if (found.length === ENOUGH_SUBSETS) break;
      const solved = solveOne(job, one.model, little);
      if (solved.plan.missingStrips <= plan.missingStrips) found.push({ ...one, solved });
    }
    found.sort((a, b) => comparePlans(a.solved.plan, b.solved.plan));
    const [first] = found;
    if (!first) continue;
    const solved = solveOne(job, first.model, effort);
    const isBetter = comparePlans(solved.plan, first.solved.plan) <= 0;
    return isBetter ? { ...first, least: solved.areaBound, solved } : first;
  }
  return null;
}

interface Outcome {
  readonly hands: readonly Choice[];
  readonly solved: readonly Tried[];
  readonly best: Tried;
  readonly isAll: boolean;
  readonly isFewer: boolean;
}

/** The least bound over every choice of lots that could do as well; one choice is left out where it is proved worse. */
function boundOver(
  job: PlanJob,
  { hands, solved, best, isAll, isFewer }: Outcome,
  effort: Effort,
): PlanBound {
  const { plan, missingBound, areaBound, prices } = best.solved;
  const lotCount = plan.lotIds.length;
  if (isFewer || !isAll) {
    const over = isAll ? 'these lots' : 'all lots';
    const relaxed = isAll
      ? { missingStrips: missingBound, chargedArea: areaBound }
      : relaxedBound(job, plan, prices, effort, best.model.meter);
    return boundOfPlan(plan, relaxed.missingStrips, relaxed.chargedArea, over);
  }
  const largest = largestStrip(job);
  let [missing, area] = [missingBound, areaBound];
  for (const { choice, model, least: proved } of hands) {
    if (choice === best.choice || (plan.missingStrips === 0 && (proved ?? 0) >= area)) continue;
    const known = solved.find((one) => one.choice === choice)?.solved;
    const most = plan.missingStrips;
    if (areaLacking(job, choice) > most * largest) continue;
    if (Math.min(...[...choice.values()].map((set) => set.size)) === 1 && lotsOf(choice) > lotCount) continue;
    if (known && known.missingBound > most) continue;
    if (known && known.plan.missingStrips <= most) {
      missing = Math.min(missing, known.missingBound);
      area = Math.min(area, known.areaBound);
      continue;
    }
    // With nothing uncut the least area says all; strips are counted only where some may stay uncut.
    const fewest = known?.missingBound ?? (most === 0 ? 0 : leastMissing(model, most, effort));
    if (fewest > most) continue;
    missing = Math.min(missing, fewest);
    const quick = priceModel(model, prices, most).bound;
    if (quick >= area) continue;
    const options = { mostMissing: most, known: [], enough: area, ...effortPerChoice(model, effort) };
    const least = Math.max(quick, generateColumns(model, options).bound);
    const isThorough = effort.rounds >= LEAST_ROUNDS;
    if (isThorough && least < area && most === 0 && leastMissing(model, 0, effort) > 0) continue;
    area = Math.min(area, least);
  }
  return boundOfPlan(plan, missing, area, 'all lots');
}

/** Lots that a choice of single lots needs. */
function lotsOf(choice: LotChoice): number {
  const singles = [...choice.values()].filter((set) => set.size === 1);
  return new Set(singles.flatMap((set) => [...set])).size;
}
