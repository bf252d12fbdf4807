import { costOf, type PricePerLength, taxOn } from '../quantity/money.ts';
import { WHOLE_SHARE_BP } from '../quantity/whole.ts';

/**
 * The least that a supplier sells: of an order, and of one cloth in one shade ("a line"). Amounts are minor units of the
 * supplier's currency, less the discount and before fees, freight and tax; lengths are ticks of cloth. Null: no such minimum.
 */
export interface Minimums {
  readonly leastOrderMinor: number | null;
  readonly leastOrderTicks: number | null;
  readonly leastLineMinor: number | null;
  readonly leastLineTicks: number | null;
}

export function hasMinimum(minimums: Minimums): boolean {
  const { leastOrderMinor, leastOrderTicks, leastLineMinor, leastLineTicks } = minimums;
  return [leastOrderMinor, leastOrderTicks, leastLineMinor, leastLineTicks].some((least) => least !== null);
}

/** One cloth in one shade of an order, or one supply: its goods at the list price, and its length. */
export interface MinimumLine {
  readonly listMinor: number;
  /** nothing of a supply */
  readonly lengthTicks: number;
  /** a supply counts to the least sum of an order; what is sold at least of a line is said of cloth */
  readonly isSupply?: boolean;
}

/** A minimum that is not reached, and by how much. */
export interface Miss {
  /** the place of the line, null where it is the order's */
  readonly line: number | null;
  readonly what: 'amount' | 'length';
  readonly least: number;
  readonly missing: number;
}

/** The minimums that an order misses: its own first, then by line. An order of nothing misses none, nor one without cloth a length. */
export function missesOf(minimums: Minimums, lines: readonly MinimumLine[], discountBp: number): Miss[] {
  if (lines.length === 0) return [];
  const sum = (of: (line: MinimumLine) => number) => lines.reduce((total, line) => total + of(line), 0);
  const missed = (line: number | null, what: Miss['what'], least: number | null, has: number): Miss[] =>
    least === null || has >= least ? [] : [{ line, what, least, missing: least - has }];
  const goodsMinor = netOf(
    sum(({ listMinor }) => listMinor),
    discountBp,
  );
  const ticks = sum(({ lengthTicks }) => lengthTicks);
  return [
    ...missed(null, 'amount', minimums.leastOrderMinor, goodsMinor),
    ...(lines.some(isCloth) ? missed(null, 'length', minimums.leastOrderTicks, ticks) : []),
    ...lines.flatMap((each, line) =>
      isCloth(each)
        ? [
            ...missed(line, 'amount', minimums.leastLineMinor, netOf(each.listMinor, discountBp)),
            ...missed(line, 'length', minimums.leastLineTicks, each.lengthTicks),
          ]
        : [],
    ),
  ];
}

function isCloth({ isSupply = false }: MinimumLine): boolean {
  return !isSupply;
}

/** Goods less the discount, rounded once. */
export function netOf(listMinor: number, discountBp: number): number {
  return listMinor - taxOn(listMinor, discountBp);
}

/** What more of a line is sold in: whole bolts, or steps off the bolt. */
export interface MoreOf {
  readonly price: PricePerLength;
  readonly unitTicks: number;
}

/**
 * The fewest bolts or steps that make up what is missing, with their length and what they cost less the discount; null where
 * they cost nothing and an amount is missing. Throws RangeError where nothing is missing or no length is sold.
 */
export function moreToReach(
  { what, missing }: Pick<Miss, 'what' | 'missing'>,
  { price, unitTicks }: MoreOf,
  discountBp: number,
): { readonly units: number; readonly lengthTicks: number; readonly netMinor: number } | null {
  if (missing <= 0 || unitTicks <= 0) throw new RangeError('Something is missing, and its length is sold.');
  const netMinor = (units: number) => netOf(costOf(units * unitTicks, price), discountBp);
  const of = (units: number) => ({ units, lengthTicks: units * unitTicks, netMinor: netMinor(units) });
  if (what === 'length') return of(Math.ceil(missing / unitTicks));
  const each = (price.minor * unitTicks * (WHOLE_SHARE_BP - discountBp)) / price.perTicks / WHOLE_SHARE_BP;
  if (each <= 0) return null;
  // Rounding moves the guess by less than a unit or two of money either way.
  let units = Math.max(1, Math.ceil((missing - 2) / each));
  while (netMinor(units) < missing) units += 1;
  return of(units);
}
