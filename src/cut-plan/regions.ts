import { leastAttainableArea, priceModel } from './bound.ts';
import { generateColumns, type Pattern } from './columns.ts';
import { filledOf } from './filler.ts';
import { type Fill, worthOf } from './fills.ts';
import type { Model } from './model.ts';
import { nearFillings } from './near-lays.ts';
import { type ProgramSolver, polishProgram } from './polish.ts';
import type { Random } from './random.ts';
import { partsOf, Rounded } from './rounded.ts';
import type { Search } from './search.ts';

export interface RegionOptions {
  /** How many parts of the plan are taken away: fillings of short pieces, lays of long ones. */
  readonly parts: number;
  /** Rounds of column generation for what they held. */
  readonly rounds: number;
  readonly solver: ProgramSolver;
  readonly chance: Random;
}

const MOST_STOCKS = 8;
const MOST_COLUMNS = 600;
const MOST_LAID = 1200;
const NODES = 40;

/**
 * Takes some parts of a best plan away, those that lose most rather than others, and plans what they held anew, all
 * else as it stands: by column generation and the solver, which goes to the bottom of so few (large neighbourhood
 * search; Shaw 1998).
 */
export function replanRegion(
  model: Model,
  search: Search,
  prices: Float64Array,
  options: RegionOptions,
): void {
  const { rounds, solver, chance } = options;
  const { here } = search;
  const parts = losingMost(partsOf(model, here.fills), prices, chance);
  const gone = parts.slice(0, options.parts);
  const kept = new Rounded(model);
  for (const part of parts.slice(options.parts)) kept.add(part);
  const left = kept.left();
  const isOver = () => search.isDone;
  const enough = Number.POSITIVE_INFINITY;
  const generated = generateColumns(left, { mostMissing: 0, known: gone, rounds, enough, isOver });
  if (isOver() || leastAttainableArea(model, kept.usedArea() + generated.bound) >= here.chargedArea) return;
  const before = new Rounded(left);
  for (const part of gone) before.add(part);
  const known = filledOf(left, before.fills());
  const slack = Math.max(0, known.chargedArea - generated.bound);
  const found = (ofLays: boolean) =>
    generated.patterns.flatMap(({ pattern: { fill, isLay } }) => (isLay === ofLays ? [fill] : []));
  const fills = [...found(false), ...nearPieces(left, gone, generated.prices, slack)];
  const pool = { fills, lays: found(true), most: MOST_COLUMNS, mostLaid: MOST_LAID };
  const { program, read } = polishProgram(left, known, pool, generated.prices, slack);
  const values = solver(program, NODES);
  if (!values) return;
  for (const part of partsOf(left, read(values).fills)) kept.add(part);
  search.offer(filledOf(model, kept.fills()), 'regions');
}

/** The parts of a plan in the order of what they lose, shuffled more or less. */
function losingMost(parts: readonly Pattern[], prices: Float64Array, chance: Random): Pattern[] {
  const shake = 0.3 * chance() ** 6;
  const scored = parts.map((part) => {
    const { given, chargedArea } = part.fill;
    const worth = worthOf(given, prices);
    return { part, score: worth / Math.max(1, chargedArea) + shake * chance() };
  });
  return scored.sort((a, b) => a.score - b.score).map(({ part }) => part);
}

/** Other fillings of the short pieces that were taken away, as far as they could lead to a better plan. */
function nearPieces(left: Model, gone: readonly Pattern[], prices: Float64Array, slack: number): Fill[] {
  const { fillings } = priceModel(left, prices, 0);
  const used = new Set(gone.filter(({ isLay }) => !isLay).map(({ fill }) => fill.stock.index));
  return [...used]
    .flatMap((index) => left.stocks[index] ?? [])
    .filter(({ flaws, buying }) => flaws.length === 0 && !buying)
    .slice(0, MOST_STOCKS)
    .flatMap((stock) => nearFillings(left, stock, prices, slack, fillings[stock.index]?.score ?? 0));
}
