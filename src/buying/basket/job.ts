import { taxOn } from '../../quantity/money.ts';
import { atRate } from '../../quantity/rate.ts';
import { costOfCut, type PutUps } from '../offer.ts';

/** What a supplier adds to the goods, in minor units of the supplier's currency. */
export interface BasketSupplier {
  readonly currency: string;
  readonly rateMillionths: number;
  readonly freightMinor: number;
  /** goods of so much and more come free of freight; null: never */
  readonly freeFromMinor: number | null;
  readonly taxBp: number;
}

/** One supplier's offer for one need; `need` and `supplier` are places in the job's lists. */
export interface BasketOffer extends PutUps {
  readonly need: number;
  readonly supplier: number;
}

/**
 * What is to be bought: lengths of cloth in a shade, each of which comes from one supplier in one delivery, since what
 * comes together is most likely one lot. Every need has an offer.
 */
export interface BasketJob {
  readonly needs: readonly { readonly lengthTicks: number }[];
  readonly suppliers: readonly BasketSupplier[];
  readonly offers: readonly BasketOffer[];
  /** the currency that totals are in */
  readonly currency: string;
}

/** How one need is met: so many of each of the offer's bolts, and a length off the bolt, 0 for none. */
export interface Mix {
  readonly offer: number;
  readonly bolts: readonly number[];
  readonly cutTicks: number;
}

/** What one supplier is paid, in minor units of its own currency and of the job's. */
export interface SupplierSum {
  readonly supplier: number;
  readonly goodsMinor: number;
  readonly freightMinor: number;
  readonly taxMinor: number;
  readonly home: {
    readonly goodsMinor: number;
    readonly freightMinor: number;
    readonly taxMinor: number;
    readonly totalMinor: number;
  };
}

/** A basket, priced. `mixes` are in the order of the needs. */
export interface Basket {
  readonly mixes: readonly Mix[];
  readonly sums: readonly SupplierSum[];
  readonly totalMinor: number;
}

/** Length that a mix brings, in ticks. */
export function lengthOf({ bolts }: PutUps, mix: Mix): number {
  return mix.bolts.reduce((sum, count, i) => sum + count * (bolts[i]?.lengthTicks ?? 0), mix.cutTicks);
}

/** What the cloth of a mix costs in the supplier's minor units: every line is rounded once. */
export function goodsOf({ bolts, byLength }: PutUps, mix: Mix): number {
  const whole = mix.bolts.reduce((sum, count, i) => sum + count * (bolts[i]?.priceMinor ?? 0), 0);
  return whole + (byLength ? costOfCut(mix.cutTicks, byLength) : 0);
}

/** What a supplier asks for goods of so much: freight, and tax on both, rounded once. */
export function supplierSum(job: BasketJob, supplier: number, goodsMinor: number): SupplierSum {
  const terms = job.suppliers[supplier];
  if (!terms) throw new RangeError(`There is no supplier at ${supplier}.`);
  const freightMinor = freightFor(terms, goodsMinor);
  const taxMinor = taxOn(goodsMinor + freightMinor, terms.taxBp);
  const exchange = { from: terms.currency, to: job.currency, rateMillionths: terms.rateMillionths };
  const home = {
    goodsMinor: atRate(goodsMinor, exchange),
    freightMinor: atRate(freightMinor, exchange),
    totalMinor: atRate(goodsMinor + freightMinor + taxMinor, exchange),
  };
  // The total is changed once; what rounding leaves between it and its parts stands with the tax.
  const rest = home.totalMinor - home.goodsMinor - home.freightMinor;
  return { supplier, goodsMinor, freightMinor, taxMinor, home: { ...home, taxMinor: rest } };
}

/** Freight for goods of so much, both in the supplier's minor units. */
export function freightFor(
  { freightMinor, freeFromMinor }: Pick<BasketSupplier, 'freightMinor' | 'freeFromMinor'>,
  goodsMinor: number,
): number {
  return freeFromMinor !== null && goodsMinor >= freeFromMinor ? 0 : freightMinor;
}

/** Prices a basket exactly. Throws RangeError where a mix names no offer for its need, or does not cover it. */
export function priceBasket(job: BasketJob, mixes: readonly Mix[]): Basket {
  const goods = new Map<number, number>();
  job.needs.forEach((need, i) => {
    const mix = mixes[i];
    const offer = mix && job.offers[mix.offer];
    if (!offer || offer.need !== i) throw new RangeError(`Need ${i} is met by no offer of its own.`);
    if (!isCovered(offer, mix, need.lengthTicks)) throw new RangeError(`Need ${i} is not covered.`);
    goods.set(offer.supplier, (goods.get(offer.supplier) ?? 0) + goodsOf(offer, mix));
  });
  const sums = [...goods]
    .sort(([a], [b]) => a - b)
    .map(([supplier, minor]) => supplierSum(job, supplier, minor));
  return { mixes, sums, totalMinor: sums.reduce((sum, { home }) => sum + home.totalMinor, 0) };
}

/** Whether a mix brings the length, and its cut is one that the shop makes. */
export function isCovered(offer: PutUps, mix: Mix, lengthTicks: number): boolean {
  if (lengthOf(offer, mix) < lengthTicks) return false;
  if (mix.cutTicks === 0) return true;
  const { byLength } = offer;
  return byLength !== null && mix.cutTicks % byLength.stepTicks === 0 && mix.cutTicks >= byLength.leastTicks;
}

/** The put-ups that a basket uses: each an offer with the place of its bolt, or with its cut. */
export function putUpsOf(mixes: readonly Mix[]): string[] {
  return mixes.flatMap(({ offer, bolts, cutTicks }) => [
    ...bolts.flatMap((count, i) => (count > 0 ? [`${offer} bolt ${i}`] : [])),
    ...(cutTicks > 0 ? [`${offer} cut`] : []),
  ]);
}

/** Whether a basket uses not all put-ups of another: what only adds to it is no other choice. */
export function doesWithout(mixes: readonly Mix[], other: readonly Mix[]): boolean {
  const used = new Set(putUpsOf(mixes));
  return putUpsOf(other).some((putUp) => !used.has(putUp));
}
