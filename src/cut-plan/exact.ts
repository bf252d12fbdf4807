import { type EarliestEnds, earliestEnds } from './earliest-ends.ts';
import { onFewerPieces } from './fewer-pieces.ts';
import { type Fill, fillOf } from './fills.ts';
import { FullLays } from './full-lays.ts';
import type { PlanJob } from './job.ts';
import { choicesOfLots, type LotChoice, modelFor } from './lot-choices.ts';
import { Meter } from './meter.ts';
import { chargedTicks, type Model, type PieceStock, type Place } from './model.ts';
import type { Cutting } from './plan.ts';
import { planOfFills } from './plan-of-fills.ts';
import { StripSets } from './strip-sets.ts';

/** What may be spent on it; it gives up where that does not suffice. */
export interface ExactEffort {
  readonly work: number;
  readonly timeGone?: () => number;
}

const MOST_SETS = 60_000;
const MOST_STRIPS = 160;
/** So many values of sets are kept in memory. */
const MOST_VALUES = 4_000_000;

/**
 * The best plan of a small job, by trying every way: least short, from the fewest lots, with the least charged, then the
 * least used. Null where the job is too large for the effort.
 *
 * For every piece it is worked out how far it must be cut for each set of strips (`earliestEnds`); pieces and then lots
 * are put together set by set. Nothing is estimated, so that the plan is the optimum of its style of cutting.
 */
export function planExactly(job: PlanJob, effort: ExactEffort): Cutting | null {
  const counts = job.kinds.map(({ count }) => count);
  const { choices, isAll } = choicesOfLots(job);
  const isSmall = isAll && counts.reduce((sum, count) => sum + count, 0) <= MOST_STRIPS;
  const sets = isSmall ? StripSets.of(counts, MOST_SETS) : null;
  return sets && new ExactSearch(job, sets, effort).run(choices);
}

/** What sets of strips are charged and use at least, in square ticks. */
interface Costs {
  readonly charged: Float64Array;
  readonly used: Float64Array;
}

/** Costs where one more source may be used: what it gives of each set, 0 where it is left out. */
interface Layer<Source> extends Costs {
  readonly source: Source;
  readonly given: Int32Array;
  /** what the other sources come to where this one is used, and where it is not */
  readonly beside: Layer<Source> | null;
  readonly without: Layer<Source> | null;
}

interface OpenPiece extends Costs {
  readonly place: Place;
  readonly ends: EarliestEnds;
}

type Lot = Layer<OpenPiece | null>;

interface Found {
  readonly choice: LotChoice;
  readonly lots: Layer<Lot | null>;
  readonly set: number;
  /** strips missing, lots, charged, used */
  readonly order: readonly number[];
}

class ExactSearch {
  readonly #job: PlanJob;
  readonly #sets: StripSets;
  readonly #effort: ExactEffort;
  readonly #meter = new Meter();
  readonly #ends = new Map<string, EarliestEnds>();
  readonly #lots = new Map<string, Lot>();
  readonly #wanted: number;
  #values = 0;

  constructor(job: PlanJob, sets: StripSets, effort: ExactEffort) {
    this.#job = job;
    this.#sets = sets;
    this.#effort = effort;
    this.#wanted = sets.countOf(sets.size - 1);
  }

  run(choices: readonly LotChoice[]): Cutting | null {
    let best: Found | null = null;
    for (const choice of choices) {
      const found = this.#bestOf(choice);
      if (found === null) return null;
      if (best === null || isBefore(found.order, best.order)) best = found;
    }
    return best && this.#planOf(best);
  }

  /** The best that the lots of a choice give; null where it is too much work. */
  #bestOf(choice: LotChoice): Found | null {
    const model = modelFor(this.#job, choice);
    const lotIds = new Set(model.stocks.flatMap(({ places }) => places.map(({ piece }) => piece.lotId)));
    const none = this.#nothing<Lot | null>();
    let byCount = [none];
    for (const lotId of lotIds) {
      const lot = this.#lotOf(model, choice, lotId);
      if (lot === null) return null;
      const next = [none];
      for (const [n, beside] of byCount.entries()) {
        const joined = this.#join(lot, lot, beside, byCount[n + 1] ?? null);
        if (joined === null) return null;
        next.push(joined);
      }
      byCount = next;
    }
    let best: Found = { choice, lots: none, set: 0, order: [this.#wanted, 0, 0, 0] };
    for (const [count, lots] of byCount.entries())
      for (let set = 0; set < this.#sets.size; set += 1) {
        const charged = lots.charged[set] as number;
        if (charged === Number.POSITIVE_INFINITY) continue;
        const missing = this.#wanted - this.#sets.countOf(set);
        const order = [missing, count, charged, lots.used[set] as number];
        if (isBefore(order, best.order)) best = { choice, lots, set, order };
      }
    return best;
  }

  /** What the pieces of one lot come to for every set of strips that they may give. */
  #lotOf(model: Model, choice: LotChoice, lotId: number): Lot | null {
    const groups = [...choice].flatMap(([group, lots]) => (lots.has(lotId) ? [group] : []));
    const key = `${lotId} ${groups.join()}`;
    const known = this.#lots.get(key);
    if (known) return known;
    let lot: Lot = this.#nothing<OpenPiece | null>();
    for (const stock of model.stocks)
      for (const place of stock.places.filter(({ piece }) => piece.lotId === lotId).slice(0, this.#wanted)) {
        const ends = this.#endsOf(model, stock);
        const piece = ends && { place, ends, ...costsOf(stock, ends) };
        const joined = piece && this.#join(piece, piece, lot, lot);
        if (joined === null) return null;
        lot = joined;
      }
    this.#lots.set(key, lot);
    return lot;
  }

  /** Pieces of one width without flaws are cut alike, however long they are. */
  #endsOf(model: Model, { family, flaws, lengthTicks }: PieceStock): EarliestEnds | null {
    const kinds = family.shapes.map(({ kind }) => kind);
    const flawed = flaws.length > 0 ? JSON.stringify([lengthTicks, flaws]) : '';
    const key = `${family.widthTicks} ${kinds.join()} ${flawed}`;
    const known = this.#ends.get(key);
    if (known) return known;
    const longest = Math.max(...this.#job.pieces.map((piece) => piece.lengthTicks));
    const ends = earliestEnds({
      family,
      flaws,
      lengthTicks: flaws.length > 0 ? lengthTicks : longest,
      sets: this.#sets,
      lays: new FullLays(model, family, this.#sets, this.#meter, this.#effort.work),
      meter: this.#meter,
    });
    if (ends) this.#ends.set(key, ends);
    return ends;
  }

  #nothing<Source>(): Layer<Source | null> {
    const charged = new Float64Array(this.#sets.size).fill(Number.POSITIVE_INFINITY);
    charged[0] = 0;
    const given = new Int32Array(this.#sets.size);
    return { charged, used: charged, source: null, given, beside: null, without: null };
  }

  /** What comes of a source beside others, where `without` it comes to less or cannot be had; null where it is too much work. */
  #join<Source>(
    source: Source,
    costs: Costs,
    beside: Layer<Source>,
    without: Layer<Source> | null,
  ): Layer<Source> | null {
    const { size, pairs } = this.#sets;
    this.#meter.work += pairs;
    this.#values += size;
    const { work, timeGone } = this.#effort;
    const isOver = this.#meter.work > work || this.#values > MOST_VALUES || (timeGone?.() ?? 0) >= 1;
    if (isOver) return null;
    const charged = without?.charged.slice() ?? new Float64Array(size).fill(Number.POSITIVE_INFINITY);
    const used = without?.used.slice() ?? charged.slice();
    const given = new Int32Array(size);
    for (let part = 1; part < size; part += 1) {
      const [more, moreUsed] = [costs.charged[part] as number, costs.used[part] as number];
      if (more === Number.POSITIVE_INFINITY) continue;
      this.#sets.eachBeside(part, (other) => {
        const both = other + part;
        const sum = (beside.charged[other] as number) + more;
        if (sum > (charged[both] as number) || sum === Number.POSITIVE_INFINITY) return;
        const sumUsed = (beside.used[other] as number) + moreUsed;
        if (sum === charged[both] && sumUsed >= (used[both] as number)) return;
        charged[both] = sum;
        used[both] = sumUsed;
        given[both] = part;
      });
    }
    return { charged, used, source, given, beside, without };
  }

  #planOf({ choice, lots, set }: Found): Cutting {
    const open = takenOf(lots, set).flatMap(({ source, part }) => (source ? takenOf(source, part) : []));
    const taken = open.flatMap(({ source, part }) => (source ? [{ ...source, part }] : []));
    const lotIds = new Set(taken.map(({ place }) => place.piece.lotId));
    const within = [...choice].map(
      ([group, allowed]) => [group, new Set([...allowed].filter((lot) => lotIds.has(lot)))] as const,
    );
    // Pieces of lots that are not used would pass for alike ones.
    const model = modelFor(this.#job, new Map(within));
    const fills = taken.flatMap(({ place, ends, part }): Fill[] => {
      const stock = model.stocks.find(({ places }) => places.some((one) => isSame(one, place)));
      return stock ? [fillOf(model, stock, ends.laysFor(part))] : [];
    });
    return planOfFills(model, onFewerPieces(model, fills), 'exact');
  }
}

function costsOf(stock: PieceStock, { ends }: EarliestEnds): Costs {
  const { lengthTicks, family } = stock;
  const areas = (of: (end: number) => number) =>
    ends.map((end) => (end > lengthTicks ? Number.POSITIVE_INFINITY : of(end) * family.widthTicks));
  return { charged: areas((end) => chargedTicks(stock, end)), used: areas((end) => end) };
}

/** Which sources give a set, and what each gives of it. */
function takenOf<Source>(last: Layer<Source>, set: number): { source: Source; part: number }[] {
  const taken: { source: Source; part: number }[] = [];
  let left = set;
  for (let layer: Layer<Source> | null = last; layer !== null; ) {
    const part = layer.given[left] as number;
    if (part > 0) taken.push({ source: layer.source, part });
    left -= part;
    layer = part > 0 ? layer.beside : layer.without;
  }
  return taken;
}

function isBefore(a: readonly number[], b: readonly number[]): boolean {
  const place = a.findIndex((n, i) => n !== b[i]);
  return place >= 0 && (a[place] as number) < (b[place] as number);
}

function isSame(a: Place, b: Place): boolean {
  return a.piece === b.piece && a.copy === b.copy;
}
