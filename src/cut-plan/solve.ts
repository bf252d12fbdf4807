import { areasOf, leastAttainableArea } from './bound.ts';
import { type Generated, generateColumns, type Pattern } from './columns.ts';
import { onFewerPieces } from './fewer-pieces.ts';
import { cutByHand, type HandRule } from './hand-rules.ts';
import type { Model } from './model.ts';
import { type Cutting, comparePlans } from './plan.ts';
import type { Proved } from './plan-bound.ts';
import { planOfFills } from './plan-of-fills.ts';
import { type ProgramSolver, polishProgram } from './polish.ts';
import { type Random, seededRandom } from './random.ts';
import { replanRegion } from './regions.ts';
import { partsOf } from './rounded.ts';
import { fillAfresh, fillBySize, repairBest, roundPlan, Search } from './search.ts';

/** How much may be done. The same effort on the same job gives the same plan. */
export interface Effort {
  /** Steps of the inner loops; some hundred thousand take a millisecond. */
  readonly work: number;
  /** Choices of lots that are planned, the most promising of them. */
  readonly choices: number;
  /** Rounds of column generation, for each kind of strips some more; the bound is the better the more there are. */
  readonly rounds: number;
  /** The same at every stage of rounding. */
  readonly stageRounds: number;
  /** Fresh fillings at shaken prices. */
  readonly restarts: number;
  /** Times that the fractional plan is rounded in other ways. */
  readonly dives: number;
  /** Times that a few pieces of the best plan are filled anew. */
  readonly repairs: number;
  /** Times that some parts of the best plan are planned anew by column generation and the solver. */
  readonly regions: number;
  /** Nodes of the solver that combines fillings. */
  readonly nodes: number;
  readonly solver: ProgramSolver | null;
  /** Turns in which these are tried, each with its share, and all fillings found so far combined. */
  readonly turns: number;
  /** Told every better plan as it is found. */
  readonly onBetter?: (plan: Cutting) => void;
  /** Told what is proved on the way, for whoever must end the search from outside. */
  readonly onProved?: (proved: Proved) => void;
  /** Told every plan that is tried, better or not; the search then never ends because a plan is good enough. */
  readonly onTried?: (plan: Cutting) => void;
  /** How much of a time that a person set is gone; 1 ends the search. Plans then depend on the clock. */
  readonly timeGone?: () => number;
}

/** A plan for one choice of lots, and what is proved of it. */
export interface Solved {
  readonly plan: Cutting;
  /** No plan with these lots leaves fewer strips uncut. */
  readonly missingBound: number;
  /** No plan with these lots that leaves no more strips uncut than this one is charged less, in square ticks. */
  readonly areaBound: number;
  readonly prices: Float64Array;
  /** Whether nothing better can be found: the bounds are met, or so nearly that the search ended by itself. */
  readonly isProved: boolean;
  /** Whether all the work that was allowed was done before all was tried. */
  readonly isCut: boolean;
}

const RULES: readonly HandRule[] = ['naive', 'careful', 'through flaws'];
/** What one strip counts where cloth is free and only strips matter. */
export const STRIP_PRICE = 1_000_000;
const MOST_COLUMNS = 400;
const MOST_LAID = 3200;
const LEAST_REGION = 12;
const MOST_REGION = 44;
/** Of the work and time that are left, what goes into prices at most: they are worth little without plans. */
const PRICING_SHARE = 0.4;
const GAP_TO_STOP = 0.0005;

/** The best of the hand rules. */
export function planByHand(model: Model): Cutting {
  const plans = RULES.map((rule) => planOfFills(model, cutByHand(model, rule).fills, rule));
  return plans.reduce((best, plan) => (comparePlans(plan, best) < 0 ? plan : best));
}

/** Plans one choice of lots: hand rules, filling, column generation, rounding, regions, repairs, polish. The best is kept. */
export function solveModel(model: Model, seed: number, effort: Effort): Solved {
  const search = new Search(model, effort);
  for (const rule of RULES) search.offer(cutByHand(model, rule), rule);
  fillBySize(model, search);
  let generated = columnsFor(model, search, 0, effort);
  let mostMissing = 0;
  effort.onProved?.({ mostMissing, missingStrips: 0, chargedArea: areaOf(model, generated) });
  search.enough = enoughFor(model, generated);
  const chance = seededRandom(seed);
  const plainly = { rounds: effort.stageRounds, shake: 0, chance };
  roundPlan(model, search, generated, plainly);
  fillAfresh(model, search, generated.guide, effort.restarts, chance);
  let missingBound = 0;
  if (search.best.missing > 0) {
    missingBound = seekFewestMissing(model, search, effort, chance);
    mostMissing = search.best.missing;
    generated = columnsFor(model, search, mostMissing, effort);
    effort.onProved?.({
      mostMissing,
      missingStrips: missingBound,
      chargedArea: areaOf(model, generated),
    });
    const isProved = mostMissing === missingBound;
    search.enough = isProved ? enoughFor(model, generated) : Number.NEGATIVE_INFINITY;
    search.fewest = missingBound;
    roundPlan(model, search, generated, plainly);
    fillAfresh(model, search, generated.guide, effort.restarts, chance);
  }
  improve(model, search, generated, effort, chance);
  if (search.best.missing < mostMissing) generated = columnsFor(model, search, search.best.missing, effort);
  return {
    plan: planOfFills(model, onFewerPieces(model, search.best.fills), search.how),
    missingBound,
    areaBound: areaOf(model, generated),
    prices: generated.prices,
    isProved: search.isGoodEnough,
    isCut: search.isCut,
  };
}

function areaOf(model: Model, { bound }: Generated): number {
  return leastAttainableArea(model, Math.max(0, bound));
}

function enoughFor(model: Model, { bound }: Generated): number {
  return Math.max(leastAttainableArea(model, bound), bound * (1 + GAP_TO_STOP));
}

function columnsFor(model: Model, search: Search, mostMissing: number, effort: Effort): Generated {
  const known = knownOf(model, search);
  const rounds = roundsFor(model, effort);
  const enough = Number.POSITIVE_INFINITY;
  return generateColumns(model, { mostMissing, known, rounds, enough, isOver: search.after(PRICING_SHARE) });
}

/** The best plan to start from: its fillings, and the lays of its long pieces. */
function knownOf(model: Model, { best }: Search): Pattern[] {
  return [...best.fills.map((fill) => ({ fill, isLay: false })), ...partsOf(model, best.fills)];
}

/** Many kinds on few pieces need many rounds, as each brings few columns. */
function roundsFor(model: Model, { rounds }: Effort): number {
  return rounds + Math.floor((rounds * model.counts.filter((count) => count > 0).length) / 10);
}

/** Looks for plans that leave fewer strips uncut, and gives the least that any must leave. */
function seekFewestMissing(model: Model, search: Search, effort: Effort, chance: Random): number {
  const known = knownOf(model, search);
  const most = generateColumns(model, {
    mostMissing: 0,
    known,
    rounds: roundsFor(model, effort),
    enough: Number.POSITIVE_INFINITY,
    strip: STRIP_PRICE,
    isOver: search.after(PRICING_SHARE),
  });
  const bound = Math.max(0, Math.ceil(most.bound / STRIP_PRICE - 1e-9));
  search.fewest = bound;
  const areas = areasOf(model);
  const mean = areas.reduce((sum, area) => sum + area, 0) / Math.max(1, areas.length);
  // Prices in strips become prices in cloth, so that a strip is worth its piece wherever it can be cut.
  const guide = most.guide.map((price) => Math.ceil((1.2 * mean * price) / STRIP_PRICE));
  const alike = Float64Array.from(model.counts, () => Math.ceil(mean));
  for (const prices of [guide, alike]) {
    fillAfresh(model, search, prices, effort.restarts, chance);
    repairBest(model, search, prices, effort.repairs, chance);
  }
  roundPlan(model, search, most, { rounds: effort.stageRounds, shake: 0, chance });
  return bound;
}

/** Other roundings, regions planned anew, repairs, and all that was found combined; turn by turn where there is time. */
function improve(model: Model, search: Search, generated: Generated, effort: Effort, chance: Random): void {
  const { solver, stageRounds: rounds, turns } = effort;
  const { guide, prices } = generated;
  for (let turn = 0; turn < turns && !search.isDone; turn += 1) {
    const share = (all: number) => Math.floor(((turn + 1) * all) / turns) - Math.floor((turn * all) / turns);
    for (let n = share(effort.dives); n > 0 && !search.isDone; n -= 1)
      roundPlan(model, search, generated, { rounds, shake: 0.1 + 0.4 * chance(), chance });
    for (let n = share(effort.regions); n > 0 && !search.isDone; n -= 1) {
      if (solver === null || search.best.missing > 0) break;
      const parts = LEAST_REGION + Math.floor((MOST_REGION - LEAST_REGION) * chance());
      replanRegion(model, search, prices, { parts, rounds, solver, chance });
    }
    repairBest(model, search, guide, share(effort.repairs), chance);
    polish(model, search, generated, effort);
  }
}

function polish(model: Model, search: Search, generated: Generated, effort: Effort): void {
  if (effort.solver === null || search.isDone) return;
  search.note(generated);
  const slack = Math.max(0, search.best.chargedArea - generated.bound);
  const pool = {
    fills: search.pool.values(),
    lays: search.lays.values(),
    most: MOST_COLUMNS,
    mostLaid: MOST_LAID,
  };
  const { program, read } = polishProgram(model, search.best, pool, generated.prices, slack);
  const values = effort.solver(program, effort.nodes);
  if (values) search.offer(read(values), 'polish');
}
