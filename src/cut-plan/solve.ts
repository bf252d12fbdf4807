import { attainable } from './attainable.ts';
import { chanceFrom } from './chance.ts';
import { type Generated, generateColumns } from './columns.ts';
import { cutByHand, type HandRule } from './hand-rules.ts';
import type { Model } from './model.ts';
import { type Cutting, comparePlans } from './plan.ts';
import { type ProgramSolver, polishProgram } from './polish.ts';
import { roundPlan, Search, searchPlans } from './search.ts';
import { settle } from './settle.ts';

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
  /** Nodes of the solver that combines fillings. */
  readonly nodes: number;
  readonly solver: ProgramSolver | null;
  /** Whether fillings are combined before they are repaired, and again after. */
  readonly isPatient?: boolean;
  /** Told every better plan as it is found. */
  readonly onBetter?: (plan: Cutting) => void;
  /** Told every plan that is tried, better or not; the search then never ends because a plan is good enough. */
  readonly onTried?: (plan: Cutting) => void;
  /** Ends the search early; for a time that a person set, as plans then depend on the clock. */
  readonly isOver?: () => boolean;
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
export const STRIP = 1_000_000;
const GAP_TO_STOP = 0.0005;

/** The best of the hand rules. */
export function planByHand(model: Model): Cutting {
  const plans = RULES.map((rule) => settle(model, cutByHand(model, rule).fills, rule));
  return plans.reduce((best, plan) => (comparePlans(plan, best) < 0 ? plan : best));
}

/** Plans one choice of lots: hand rules, column generation, filling, rounding, repairs, polish. The best is kept. */
export function solveModel(model: Model, seed: number, effort: Effort): Solved {
  const search = new Search(model, effort);
  for (const rule of RULES) search.offer(cutByHand(model, rule), rule);
  let generated = columnsFor(model, search, 0, effort);
  let mostMissing = 0;
  search.enough = enoughFor(model, generated);
  const { restarts, repairs } = effort;
  const chance = chanceFrom(seed);
  const plainly = { rounds: effort.stageRounds, shake: 0, chance };
  roundPlan(model, search, generated, plainly);
  searchPlans(model, search, generated.guide, { seed, restarts, repairs: 0 });
  let missingBound = 0;
  if (search.best.missing > 0) {
    missingBound = seekFewestMissing(model, search, seed, effort);
    mostMissing = search.best.missing;
    generated = columnsFor(model, search, mostMissing, effort);
    const isProved = mostMissing === missingBound;
    search.enough = isProved ? enoughFor(model, generated) : Number.NEGATIVE_INFINITY;
    search.fewest = missingBound;
    roundPlan(model, search, generated, plainly);
    searchPlans(model, search, generated.guide, { seed, restarts, repairs: 0 });
  }
  for (let n = 0; n < effort.dives && !search.isDone; n += 1)
    roundPlan(model, search, generated, { rounds: effort.stageRounds, shake: 0.1 + 0.4 * chance(), chance });
  if (effort.isPatient) polish(model, search, generated, effort);
  searchPlans(model, search, generated.guide, { seed, restarts: 0, repairs });
  polish(model, search, generated, effort);
  if (search.best.missing < mostMissing) generated = columnsFor(model, search, search.best.missing, effort);
  return {
    plan: settle(model, search.best.fills, search.how),
    missingBound,
    areaBound: attainable(model, Math.max(0, generated.bound)),
    prices: generated.prices,
    isProved: search.isGoodEnough,
    isCut: search.isCut,
  };
}

function enoughFor(model: Model, { bound }: Generated): number {
  return Math.max(attainable(model, bound), bound * (1 + GAP_TO_STOP));
}

function columnsFor(model: Model, search: Search, mostMissing: number, effort: Effort): Generated {
  const known = search.best.fills.map((fill) => ({ fill, isLay: false }));
  const rounds = roundsFor(model, effort);
  return generateColumns(model, { mostMissing, known, rounds, enough: Number.POSITIVE_INFINITY });
}

/** Many kinds on few pieces need many rounds, as each brings few columns. */
function roundsFor(model: Model, { rounds }: Effort): number {
  return rounds + Math.floor((rounds * model.counts.filter((count) => count > 0).length) / 10);
}

/** Looks for plans that leave fewer strips uncut, and gives the least that any must leave. */
function seekFewestMissing(model: Model, search: Search, seed: number, effort: Effort): number {
  const known = search.best.fills.map((fill) => ({ fill, isLay: false }));
  const options = { mostMissing: 0, known, rounds: roundsFor(model, effort), strip: STRIP };
  const most = generateColumns(model, { ...options, enough: Number.POSITIVE_INFINITY });
  const bound = Math.max(0, Math.ceil(most.bound / STRIP - 1e-9));
  search.fewest = bound;
  const areas = model.job.kinds.map(({ lengthTicks, depthTicks }) => lengthTicks * depthTicks);
  const mean = areas.reduce((sum, area) => sum + area, 0) / Math.max(1, areas.length);
  // Prices in strips become prices in cloth, so that a strip is worth its piece wherever it can be cut.
  const guide = most.guide.map((price) => Math.ceil((1.2 * mean * price) / STRIP));
  const alike = Float64Array.from(model.counts, () => Math.ceil(mean));
  const { restarts, repairs } = effort;
  for (const prices of [guide, alike]) searchPlans(model, search, prices, { seed, restarts, repairs });
  roundPlan(model, search, most, { rounds: effort.stageRounds, shake: 0, chance: chanceFrom(seed) });
  return bound;
}

function polish(model: Model, search: Search, generated: Generated, effort: Effort): void {
  if (effort.solver === null || search.isDone) return;
  search.note(generated);
  const slack = Math.max(0, search.best.chargedArea - generated.bound);
  const pool = { fills: search.pool.values(), lays: search.lays.values() };
  const { program, read } = polishProgram(model, search.best, pool, generated.prices, slack);
  const values = effort.solver(program, effort.nodes);
  if (values) search.offer(read(values), 'polish');
}
