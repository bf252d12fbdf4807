import { atRate } from '../../quantity/rate.ts';
import { type Charges, type Invoice, invoiceOf } from '../invoice.ts';
import { type MinimumLine, type Minimums, missesOf, netOf } from '../minimum.ts';
import { costOfCut, isChargedRight, type PutUps } from '../offer.ts';

/** On what terms a supplier sells, in minor units of the supplier's currency. */
export interface BasketSupplier extends Charges, Minimums {
  readonly currency: string;
  readonly rateMillionths: number;
  readonly freightMinor: number;
  /** goods of so much and more, less the discount, come free of freight; null: never */
  readonly freeFromMinor: number | null;
}

/** One supplier's offer for one need; `need` and `supplier` are places in the job's lists. */
export interface BasketOffer extends PutUps {
  readonly need: number;
  readonly supplier: number;
}

/** A length of a cloth in a shade, or an amount of a supply in its measure. */
interface ToBuy {
  readonly lengthTicks: number;
  readonly isSupply?: boolean;
}

/**
 * What is to be bought: each comes from one supplier in one delivery, since what comes together is most likely one lot.
 * Every need has an offer. Cloth and supplies of one supplier are one order.
 */
export interface BasketJob {
  readonly needs: readonly ToBuy[];
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
export interface SupplierSum extends Invoice {
  readonly supplier: number;
  readonly home: {
    readonly goodsMinor: number;
    readonly cutFeesMinor: number;
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
  /** suppliers of it whose minimum is missed, who may not sell it */
  readonly refusers: number;
}

/** Length that a mix brings, in ticks. */
export function lengthOf({ bolts }: PutUps, mix: Mix): number {
  return mix.bolts.reduce((sum, count, i) => sum + count * (bolts[i]?.lengthTicks ?? 0), mix.cutTicks);
}

/** What the cloth of a mix costs at the list price in the supplier's minor units: every line is rounded once. */
export function goodsOf({ bolts, byLength }: PutUps, mix: Mix): number {
  const whole = mix.bolts.reduce((sum, count, i) => sum + count * (bolts[i]?.priceMinor ?? 0), 0);
  return whole + (byLength ? costOfCut(mix.cutTicks, byLength) : 0);
}

/** What a supplier asks for goods of so much at the list price, of which so many lengths are cut off a bolt. */
export function supplierSum(
  job: BasketJob,
  supplier: number,
  bought: { readonly listMinor: number; readonly cuts: number },
): SupplierSum {
  const terms = termsOf(job, supplier);
  const freightMinor = freightFor(terms, bought.listMinor);
  const invoice = invoiceOf({ ...bought, freightMinor }, terms);
  const inOurs = (minor: number) =>
    atRate(minor, { from: terms.currency, to: job.currency, rateMillionths: terms.rateMillionths });
  const home = {
    goodsMinor: inOurs(invoice.goodsMinor),
    cutFeesMinor: inOurs(invoice.cutFeesMinor),
    freightMinor: inOurs(freightMinor),
    totalMinor: inOurs(invoice.totalMinor),
  };
  // The total is changed once; what rounding leaves between it and its parts stands with the tax.
  const taxMinor = home.totalMinor - home.goodsMinor - home.cutFeesMinor - home.freightMinor;
  return { supplier, ...invoice, home: { ...home, taxMinor } };
}

/** Freight for goods of so much at the list price, both in the supplier's minor units. */
export function freightFor(
  terms: Pick<BasketSupplier, 'freightMinor' | 'freeFromMinor' | 'discountBp'>,
  listMinor: number,
): number {
  const isFree = terms.freeFromMinor !== null && netOf(listMinor, terms.discountBp) >= terms.freeFromMinor;
  return isFree ? 0 : terms.freightMinor;
}

/** What a mix costs with its cut fee and less the discount, by itself, before freight and tax. */
export function costOfMix(job: BasketJob, mix: Mix): number {
  const offer = job.offers[mix.offer];
  if (!offer) throw new RangeError(`There is no offer at ${mix.offer}.`);
  const terms = termsOf(job, offer.supplier);
  return netOf(goodsOf(offer, mix), terms.discountBp) + Number(mix.cutTicks > 0) * terms.cutFeeMinor;
}

function termsOf(job: BasketJob, supplier: number): BasketSupplier {
  const terms = job.suppliers[supplier];
  if (!terms) throw new RangeError(`There is no supplier at ${supplier}.`);
  return terms;
}

/** Prices a basket exactly. Throws RangeError where a mix names no offer for its need, or does not cover it. */
export function priceBasket(job: BasketJob, mixes: readonly Mix[]): Basket {
  const bought = new Map<number, { readonly line: MinimumLine; readonly isCut: boolean }[]>();
  job.needs.forEach((need, i) => {
    const mix = mixes[i];
    const offer = mix && job.offers[mix.offer];
    if (!offer || offer.need !== i) throw new RangeError(`Need ${i} is met by no offer of its own.`);
    if (!isCovered(offer, mix, need.lengthTicks)) throw new RangeError(`Need ${i} is not covered.`);
    const { isSupply = false } = need;
    const lengthTicks = isSupply ? 0 : lengthOf(offer, mix);
    const line = { listMinor: goodsOf(offer, mix), lengthTicks, isSupply };
    bought.set(offer.supplier, [...(bought.get(offer.supplier) ?? []), { line, isCut: mix.cutTicks > 0 }]);
  });
  let refusers = 0;
  const sums = [...bought]
    .sort(([a], [b]) => a - b)
    .map(([supplier, taken]) => {
      const terms = termsOf(job, supplier);
      const lines = taken.map(({ line }) => line);
      if (missesOf(terms, lines, terms.discountBp).length > 0) refusers += 1;
      const listMinor = lines.reduce((sum, line) => sum + line.listMinor, 0);
      return supplierSum(job, supplier, { listMinor, cuts: taken.filter(({ isCut }) => isCut).length });
    });
  const totalMinor = sums.reduce((sum, { home }) => sum + home.totalMinor, 0);
  return { mixes, sums, totalMinor, refusers };
}

/** Whether a mix brings the length, its bolts are charged as they are sold, and its cut is one that the shop makes. */
export function isCovered(offer: PutUps, mix: Mix, lengthTicks: number): boolean {
  if (lengthOf(offer, mix) < lengthTicks || !isChargedRight(offer.bolts, mix.bolts)) return false;
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
