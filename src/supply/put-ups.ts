import { packLengths } from '../garment/parts/trims.ts';
import { fitLengths, type WantedLength } from './lengths.ts';

/** A price of one put-up, which holds an amount of the supply, where so many or more of that put-up are bought. */
export interface PutUpPrice {
  /** what it is called: "tub", "cone", or nothing */
  readonly putUp: string;
  /** in the measure of the supply, above nought */
  readonly amount: number;
  /** 1 or more */
  readonly fromCount: number;
  /** of one put-up, in minor units of the supplier's currency */
  readonly priceMinor: number;
}

/** So many put-ups of one size, with the price that each is charged at. */
export interface PutUpsBought extends PutUpPrice {
  readonly count: number;
}

/** Put-ups that hold an amount or more, and what they cost together in minor units. */
export interface PutUpChoice {
  readonly bought: readonly PutUpsBought[];
  readonly amount: number;
  readonly costMinor: number;
}

/** Beyond so many of the greatest common part of all sizes, the bulk is bought in one size. */
const MOST_PARTS = 2000;

/**
 * The price of one put-up of a size where `count` of it are bought: all are charged at the price of the last break that the
 * number reaches. Undefined where the size is not offered from that number on.
 */
export function putUpPrice(
  prices: readonly PutUpPrice[],
  amount: number,
  count: number,
): PutUpPrice | undefined {
  const reached = prices.filter((price) => price.amount === amount && price.fromCount <= count);
  return reached.reduce<PutUpPrice | undefined>(
    (last, price) => (last === undefined || price.fromCount > last.fromCount ? price : last),
    undefined,
  );
}

/**
 * The cheapest whole put-ups that hold `needed` or more; of those that cost the same the ones that hold less. Null where
 * nothing is offered or nothing is needed. Exact for needs of up to 2000 times the greatest common part of the sizes; of a
 * larger need, what is beyond that is first bought in the size that is cheapest for its amount. Amounts are whole numbers of
 * the supply's unit.
 */
export function cheapestPutUps(prices: readonly PutUpPrice[], needed: number): PutUpChoice | null {
  const sizes = [...new Set(prices.map(({ amount }) => amount))].sort((a, b) => a - b);
  if (needed <= 0 || sizes.length === 0) return null;
  const part = sizes.reduce(greatestCommonPart);
  const parts = Math.ceil(needed / part);
  const bulk = parts > MOST_PARTS ? bulkOf(prices, sizes, (parts - MOST_PARTS) * part) : null;
  const counts = new Map<number, number>(bulk ? [[bulk.amount, bulk.count]] : []);
  const rest = Math.ceil((needed - (bulk ? bulk.amount * bulk.count : 0)) / part);
  for (const [size, count] of cheapestCounts(prices, sizes, Math.max(0, rest), part, counts))
    counts.set(size, (counts.get(size) ?? 0) + count);
  return choiceOf(prices, counts);
}

/** Ways of taking so many of each size that are tried for lengths; more are looked for in one size each. */
const MOST_WAYS = 3000;

/**
 * The cheapest whole put-ups that wanted lengths can be cut from, such as reels; of those that cost the same the ones that
 * hold less. Null where no put-up is long enough. Of very many lengths, put-ups of one size alone are tried.
 */
export function putUpsForLengths(
  prices: readonly PutUpPrice[],
  wanted: readonly WantedLength[],
): PutUpChoice | null {
  const sizes = [...new Set(prices.map(({ amount }) => amount))].sort((a, b) => b - a);
  const total = wanted.reduce((sum, { ticks }) => sum + ticks, 0);
  const counts = sizes.map((size) => {
    const lastBreak = Math.max(...prices.filter(({ amount }) => amount === size).map((at) => at.fromCount));
    const most = Math.max(lastBreak, mostOf(size, wanted));
    return Array.from({ length: most + 1 }, (_, count) => [size, count] as const);
  });
  const isMany = counts.reduce((ways, own) => ways * own.length, 1) > MOST_WAYS;
  const ways = isMany
    ? counts.flatMap((own) => own.map((of) => new Map([of])))
    : counts.reduce<Map<number, number>[]>(
        (some, own) => some.flatMap((way) => own.map(([size, count]) => new Map(way).set(size, count))),
        [new Map()],
      );
  const choices = ways
    .flatMap((way) => choiceOf(prices, way) ?? [])
    .filter(({ amount }) => amount >= total)
    .sort((a, b) => a.costMinor - b.costMinor || a.amount - b.amount);
  return (
    choices.find(({ bought }) => {
      const reels = bought.flatMap(({ amount, count }) => Array.from({ length: count }, () => amount));
      return fitLengths(wanted, reels).missing.length === 0;
    }) ?? null
  );
}

/** As many of one size as all wanted lengths take that it is long enough for, each a new one where it does not fit. */
function mostOf(size: number, wanted: readonly WantedLength[]): number {
  const isUnjoined = ({ pieces, ticks }: WantedLength) => pieces === 1 && ticks <= size;
  const { packs } = packLengths(
    wanted.filter(isUnjoined).map(({ ticks }) => ticks),
    size,
  );
  const others = wanted.filter((one) => one.pieces !== 1);
  return packs + others.reduce((sum, { ticks }) => sum + Math.ceil(ticks / size), 0);
}

/** What so many put-ups of each size come to; null where one is not offered in that number. */
export function choiceOf(
  prices: readonly PutUpPrice[],
  counts: ReadonlyMap<number, number>,
): PutUpChoice | null {
  const bought: PutUpsBought[] = [];
  for (const [size, count] of [...counts].sort(([a], [b]) => b - a)) {
    if (count === 0) continue;
    const price = putUpPrice(prices, size, count);
    if (!price) return null;
    bought.push({ ...price, count });
  }
  return {
    bought,
    amount: bought.reduce((sum, { amount, count }) => sum + amount * count, 0),
    costMinor: bought.reduce((sum, { priceMinor, count }) => sum + priceMinor * count, 0),
  };
}

/** A bulk of one size, the cheapest for its amount at the number that is bought. */
function bulkOf(prices: readonly PutUpPrice[], sizes: readonly number[], amount: number) {
  const bulks = sizes.flatMap((size) => {
    const count = Math.floor(amount / size);
    const price = putUpPrice(prices, size, count);
    return price ? [{ amount: size, count, perAmount: price.priceMinor / size }] : [];
  });
  return bulks.sort((a, b) => a.perAmount - b.perAmount || b.amount - a.amount)[0] ?? null;
}

interface Reached {
  readonly costMinor: number;
  /** of each size, beside those bought in bulk */
  readonly counts: readonly (readonly [size: number, count: number])[];
  readonly parts: number;
}

/** The cheapest counts that reach so many parts, size by size: a number of one size is charged as one. */
function cheapestCounts(
  prices: readonly PutUpPrice[],
  sizes: readonly number[],
  parts: number,
  part: number,
  before: ReadonlyMap<number, number>,
) {
  let best: (Reached | undefined)[] = [{ costMinor: 0, counts: [], parts: 0 }];
  for (const size of sizes) {
    const each = size / part;
    const had = before.get(size) ?? 0;
    const first = putUpPrice(prices, size, had)?.priceMinor ?? 0;
    const next: (Reached | undefined)[] = [...best];
    // No more than reach it alone, or than the last break asks for, which may cost less.
    const lastBreak = Math.max(...prices.filter(({ amount }) => amount === size).map((at) => at.fromCount));
    const most = Math.max(Math.ceil(parts / each), lastBreak - had);
    for (let count = 1; count <= most; count += 1) {
      const price = putUpPrice(prices, size, had + count);
      if (!price) continue;
      const costMinor = price.priceMinor * (had + count) - first * had;
      for (const [at, from] of best.entries()) {
        if (!from) continue;
        const reached = {
          costMinor: from.costMinor + costMinor,
          counts: [...from.counts, [size, count] as const],
          parts: from.parts + count * each,
        };
        const place = Math.min(parts, at + count * each);
        const other = next[place];
        if (!other || isBetter(reached, other)) next[place] = reached;
      }
    }
    best = next;
  }
  return best[parts]?.counts ?? [];
}

function isBetter(one: Reached, other: Reached): boolean {
  return one.costMinor < other.costMinor || (one.costMinor === other.costMinor && one.parts < other.parts);
}

function greatestCommonPart(a: number, b: number): number {
  return b === 0 ? a : greatestCommonPart(b, a % b);
}
