import type { WholeProgram } from '../../cut-plan/polish.ts';
import { minorDigits } from '../../quantity/money.ts';
import { WHOLE_SHARE_BP } from '../../quantity/whole.ts';
import { type BasketJob, type BasketOffer, isCovered, type Mix } from './job.ts';
import { boundsOf } from './mixes.ts';

/** A basket as a mixed-integer program, and how its answer is read. */
export interface BasketProgram {
  readonly program: WholeProgram;
  /** the mixes of an answer, null where one does not cover its need; nothing of the answer is trusted further */
  read(values: readonly number[]): Mix[] | null;
}

interface OfferColumns {
  readonly chosen: number;
  readonly bolts: readonly number[];
  /** for each price break: whether the cut is charged at it, and its steps */
  readonly breaks: readonly { readonly used: number; readonly steps: number }[];
  /** for each put-up, the bolts in order and then the cut: whether any of it is taken */
  readonly used: readonly number[];
}

/**
 * The cheapest basket as a program: one offer a need, whole bolts, a cut in whole steps within one price break, and
 * freight unless the goods reach the supplier's sum, and nothing from who sells no less than more. Every whole column has
 * finite bounds. With `unlike` it must do without at least one of its put-ups; without `minimums` these are not asked for.
 */
export function basketProgram(
  job: BasketJob,
  { unlike = null, minimums = true }: { unlike?: readonly Mix[] | null; minimums?: boolean } = {},
): BasketProgram {
  const building = new Building();
  const offers = job.offers.map((offer) => putOffer(building, job, offer));
  job.needs.forEach((_, need) => {
    const own = offers.filter((__, i) => job.offers[i]?.need === need);
    building.rows.push({ terms: own.map(({ chosen }) => [chosen, 1]), least: 1, most: 1 });
  });
  job.suppliers.forEach((_, supplier) => {
    putFreight(building, job, supplier, offers);
    if (minimums) putMinimums(building, job, supplier, offers);
  });
  if (unlike) putUnlike(building, offers, unlike);
  return {
    program: { columns: building.columns, rows: building.rows },
    read: (values) => readMixes(job, offers, values),
  };
}

type Term = readonly [column: number, amount: number];

class Building {
  readonly columns: WholeProgram['columns'][number][] = [];
  readonly rows: { terms: readonly Term[]; least?: number; most?: number }[] = [];
  /** goods of each column less the discount, in the supplier's minor units, and its length: for what must be reached */
  readonly goods = new Map<number, { readonly minor: number; readonly ticks: number }>();

  column(cost: number, most: number): number {
    this.columns.push({ cost, most, whole: true });
    return this.columns.length - 1;
  }
}

function putOffer(building: Building, job: BasketJob, offer: BasketOffer): OfferColumns {
  const { lengthTicks: needTicks = 0, isSupply = false } = job.needs[offer.need] ?? {};
  const worth = homeWorth(job, offer.supplier);
  const bounds = boundsOf(job, offer);
  const terms = job.suppliers[offer.supplier];
  const net = 1 - (terms?.discountBp ?? 0) / WHOLE_SHARE_BP;
  const priced = (minor: number, ticks: number, most: number) => {
    const column = building.column(minor * net * worth, most);
    building.goods.set(column, { minor: minor * net, ticks });
    return column;
  };
  const chosen = building.column(0, 1);
  // Lengths are counted in needs, so that the program's numbers are near one.
  const covers: Term[] = [[chosen, -1]];
  const used: number[] = [];
  const ofLength = new Map<number, Term[]>();
  const bolts = offer.bolts.map(({ lengthTicks, priceMinor, fromCount = 1 }, i) => {
    const most = Math.max(0, bounds.bolts[i] ?? 0);
    const column = priced(priceMinor, isSupply ? 0 : lengthTicks, most);
    covers.push([column, lengthTicks / needTicks]);
    const taken = putUsed(building, chosen, column, { least: fromCount, most });
    used.push(taken);
    ofLength.set(lengthTicks, [...(ofLength.get(lengthTicks) ?? []), [taken, 1]]);
    return column;
  });
  // One length is charged at one price.
  for (const terms of ofLength.values()) if (terms.length > 1) building.rows.push({ terms, most: 1 });
  const breaks = putBreaks(building, offer, bounds.cutTicks, priced);
  const { byLength } = offer;
  if (byLength) {
    for (const { steps } of breaks) covers.push([steps, byLength.stepTicks / needTicks]);
    const cut = building.column((terms?.cutFeeMinor ?? 0) * worth, 1);
    building.rows.push({
      terms: [...breaks.map(({ used: one }): Term => [one, 1]), [cut, -1]],
      least: 0,
      most: 0,
    });
    building.rows.push({
      terms: [
        [cut, 1],
        [chosen, -1],
      ],
      most: 0,
    });
    used.push(cut);
  }
  building.rows.push({ terms: covers, least: 0 });
  return { chosen, bolts, breaks, used };
}

/** A column that is 1 exactly where some of a bolt is taken, in a number within bounds, which only a chosen offer may be. */
function putUsed(
  building: Building,
  chosen: number,
  bolt: number,
  { least, most }: { readonly least: number; readonly most: number },
): number {
  const used = building.column(0, 1);
  const beyond = (count: number): Term[] => [
    [bolt, 1],
    [used, -count],
  ];
  building.rows.push({ terms: beyond(most), most: 0 });
  building.rows.push({ terms: beyond(least), least: 0 });
  building.rows.push({
    terms: [
      [used, 1],
      [chosen, -1],
    ],
    most: 0,
  });
  return used;
}

function putBreaks(
  building: Building,
  { byLength }: BasketOffer,
  longestTicks: number,
  priced: (minor: number, ticks: number, most: number) => number,
): OfferColumns['breaks'] {
  if (!byLength) return [];
  const { stepTicks, leastTicks, prices } = byLength;
  return prices.flatMap(({ fromTicks, price }, i) => {
    const next = prices[i + 1]?.fromTicks ?? Number.POSITIVE_INFINITY;
    const least = Math.ceil(Math.max(fromTicks, leastTicks, stepTicks) / stepTicks);
    const most = Math.floor(Math.min(longestTicks, next - 1) / stepTicks);
    if (least > most) return [];
    const used = building.column(0, 1);
    const steps = priced((price.minor * stepTicks) / price.perTicks, stepTicks, most);
    building.rows.push({
      terms: [
        [steps, 1],
        [used, -least],
      ],
      least: 0,
    });
    building.rows.push({
      terms: [
        [steps, 1],
        [used, -most],
      ],
      most: 0,
    });
    return [{ used, steps }];
  });
}

function putFreight(
  building: Building,
  job: BasketJob,
  supplier: number,
  offers: readonly OfferColumns[],
): void {
  const terms = job.suppliers[supplier];
  if (!terms || terms.freightMinor === 0) return;
  const own = offers.filter((_, i) => job.offers[i]?.supplier === supplier);
  if (own.length === 0) return;
  const paid = building.column(terms.freightMinor * homeWorth(job, supplier), 1);
  const free = terms.freeFromMinor === null ? null : building.column(0, 1);
  const relief: Term[] = free === null ? [] : [[free, 1]];
  for (const { chosen } of own) building.rows.push({ terms: [[paid, 1], ...relief, [chosen, -1]], least: 0 });
  if (free === null || terms.freeFromMinor === null || terms.freeFromMinor === 0) return;
  const scale = terms.freeFromMinor;
  building.rows.push({ terms: [...goodsTerms(building, own, 'minor', scale), [free, -1]], least: 0 });
}

/** The goods of some offers in parts of `scale`. */
function goodsTerms(
  { goods }: Building,
  offers: readonly OfferColumns[],
  of: 'minor' | 'ticks',
  scale: number,
): Term[] {
  return offers
    .flatMap(({ bolts, breaks }) => [...bolts, ...breaks.map(({ steps }) => steps)])
    .map((column) => [column, (goods.get(column)?.[of] ?? 0) / scale]);
}

/** Whoever is bought from sells so much of an order at least, and so much of each line. */
function putMinimums(
  building: Building,
  job: BasketJob,
  supplier: number,
  offers: readonly OfferColumns[],
): void {
  const terms = job.suppliers[supplier];
  const own = offers.filter((_, i) => job.offers[i]?.supplier === supplier);
  if (!terms || own.length === 0) return;
  const reach = (some: readonly OfferColumns[], of: 'minor' | 'ticks', least: number | null) => {
    if (least === null) return;
    const goods = goodsTerms(building, some, of, least);
    for (const { chosen } of some) building.rows.push({ terms: [...goods, [chosen, -1]], least: 0 });
  };
  reach(own, 'minor', terms.leastOrderMinor);
  // Lengths and lines are of cloth.
  const cloth = offers.filter((_, i) => {
    const offer = job.offers[i];
    return offer?.supplier === supplier && !(job.needs[offer.need]?.isSupply ?? false);
  });
  reach(cloth, 'ticks', terms.leastOrderTicks);
  for (const one of cloth) {
    reach([one], 'minor', terms.leastLineMinor);
    reach([one], 'ticks', terms.leastLineTicks);
  }
}

function putUnlike(building: Building, offers: readonly OfferColumns[], unlike: readonly Mix[]): void {
  const inUse = new Set<number>();
  for (const { offer, bolts, cutTicks } of unlike) {
    const { used = [] } = offers[offer] ?? {};
    used.forEach((column, i) => {
      if (i < bolts.length ? (bolts[i] ?? 0) > 0 : cutTicks > 0) inUse.add(column);
    });
  }
  building.rows.push({ terms: [...inUse].map((column): Term => [column, 1]), most: inUse.size - 1 });
}

/** Minor units of the job's currency, tax included, for one of the supplier's. */
function homeWorth(job: BasketJob, supplier: number): number {
  const terms = job.suppliers[supplier];
  if (!terms) throw new RangeError(`There is no supplier at ${supplier}.`);
  const digits = 10 ** (minorDigits(job.currency) - minorDigits(terms.currency));
  return (terms.rateMillionths / 1_000_000) * digits * (1 + terms.taxBp / WHOLE_SHARE_BP);
}

function readMixes(job: BasketJob, offers: readonly OfferColumns[], values: readonly number[]): Mix[] | null {
  const count = (column: number) => Math.max(0, Math.round(values[column] ?? 0));
  const mixes: Mix[] = [];
  for (const [need, { lengthTicks }] of job.needs.entries()) {
    const offer = offers.findIndex(({ chosen }, i) => job.offers[i]?.need === need && count(chosen) === 1);
    const [columns, putUps] = [offers[offer], job.offers[offer]];
    if (!columns || !putUps) return null;
    const steps = columns.breaks.reduce((sum, one) => sum + count(one.steps), 0);
    const cutTicks = steps * (putUps.byLength?.stepTicks ?? 0);
    const mix = { offer, bolts: columns.bolts.map(count), cutTicks };
    if (!isCovered(putUps, mix, lengthTicks)) return null;
    mixes.push(mix);
  }
  return mixes;
}
