import type { PricePerLength } from '../../quantity/money.ts';
import { WHOLE_SHARE_BP } from '../../quantity/whole.ts';
import { hasMinimum } from '../minimum.ts';
import { type ByLength, countsCharged, isChargedRight, lengthSold } from '../offer.ts';
import {
  type Basket,
  type BasketJob,
  type BasketOffer,
  doesWithout,
  goodsOf,
  lengthOf,
  type Mix,
  priceBasket,
  putUpsOf,
} from './job.ts';

/** More bolts of one length than this are no small basket. */
const MOST_BOLTS = 1000;

/** How much of each put-up a basket may take of an offer: so many bolts of each length, and so long a cut in ticks. */
export interface MixBounds {
  readonly bolts: readonly number[];
  readonly cutTicks: number;
}

/**
 * No more of one put-up than would cover the need by itself, or than its last price break asks for. Buying more than is
 * needed can pay, where a price break or free freight is worth more: so a cut may be as long as the highest break, or as
 * reaches the sum from which freight is free or the supplier's minimum, up to twice the need; and of bolts one more may be
 * taken where freight can become free or a sum must be reached, or as many as reach the minimum, up to twice the need.
 */
export function boundsOf(job: BasketJob, offer: BasketOffer): MixBounds {
  const { lengthTicks: needTicks, isSupply = false } = at(job.needs, offer.need);
  const terms = at(job.suppliers, offer.supplier);
  const { freightMinor, freeFromMinor } = terms;
  const relief = freightMinor > 0 && freeFromMinor !== null && freeFromMinor > 0;
  const { byLength } = offer;
  const least = {
    minor: Math.max(terms.leastOrderMinor ?? 0, isSupply ? 0 : (terms.leastLineMinor ?? 0)),
    ticks: isSupply ? 0 : Math.max(terms.leastOrderTicks ?? 0, terms.leastLineTicks ?? 0),
  };
  const upTo = (reach: number) => Math.max(needTicks, Math.min(2 * needTicks, reach));
  const lengthFor = (minor: number, prices: readonly PricePerLength[]) =>
    minor === 0 ? 0 : longestForPrice(minor, prices, terms.discountBp);
  return {
    bolts: offer.bolts.map((bolt) => {
      const { lengthTicks, priceMinor } = bolt;
      const reach = Math.max(
        least.ticks,
        lengthFor(least.minor, [{ minor: priceMinor, perTicks: lengthTicks }]),
      );
      const charged = countsCharged(offer.bolts, bolt);
      const most = Math.ceil(upTo(reach) / lengthTicks) + (relief || least.minor > 0 ? 1 : 0);
      return Math.min(MOST_BOLTS, charged.most, Math.max(charged.least > 1 ? charged.least : 0, most));
    }),
    cutTicks: byLength ? lengthSold(longestCut(byLength), byLength) : 0,
  };

  function longestCut({ prices }: NonNullable<BasketOffer['byLength']>): number {
    const asked = prices.map(({ price }) => price);
    const reach = Math.max(least.ticks, lengthFor(Math.max(least.minor, relief ? freeFromMinor : 0), asked));
    return Math.max(prices.at(-1)?.fromTicks ?? 0, upTo(reach));
  }
}

/** The length that costs so much, less the discount, at its lowest price. */
function longestForPrice(minor: number, prices: readonly PricePerLength[], discountBp: number): number {
  const list = (minor * WHOLE_SHARE_BP) / Math.max(1, WHOLE_SHARE_BP - discountBp);
  return Math.max(
    ...prices.map((price) => (price.minor === 0 ? 0 : Math.ceil((list * price.perTicks) / price.minor))),
  );
}

/** Every mix of an offer that covers the need within these bounds; null where there are more than `most`. */
function mixesOf(job: BasketJob, offer: number, most: number): Mix[] | null {
  const putUps = at(job.offers, offer);
  const { byLength } = putUps;
  const needTicks = at(job.needs, putUps.need).lengthTicks;
  const bounds = boundsOf(job, putUps);
  const terms = at(job.suppliers, putUps.supplier);
  const isAny = hasMinimum(terms) || (terms.freightMinor > 0 && terms.freeFromMinor !== null);
  let counts: number[][] = [[]];
  for (const [i, mostBolts] of bounds.bolts.entries()) {
    const { fromCount = 1 } = at(putUps.bolts, i);
    const some = Array.from(
      { length: Math.max(0, mostBolts + 1 - fromCount) },
      (_, more) => fromCount + more,
    );
    if (counts.length * (1 + some.length) > most) return null;
    counts = counts
      .flatMap((start) => [0, ...some].map((count) => [...start, count]))
      .filter((started) => isChargedRight(putUps.bolts, started));
  }
  const mixes: Mix[] = [];
  for (const count of counts) {
    const whole: Mix = { offer, bolts: count, cutTicks: 0 };
    const missing = needTicks - lengthOf(putUps, whole);
    if (missing <= 0) mixes.push(whole);
    if (!byLength) continue;
    for (const cutTicks of cutsOf(byLength, missing, { most: bounds.cutTicks, isAny })) {
      if (mixes.length >= most) return null;
      mixes.push({ ...whole, cutTicks });
    }
  }
  return mixes.length > most ? null : mixes;
}

/**
 * Cuts of what is missing and more. Where no sum and no length of an order has to be reached, a longer cut pays only at the
 * beginning of a price break.
 */
function* cutsOf(
  byLength: ByLength,
  missing: number,
  { most, isAny }: { readonly most: number; readonly isAny: boolean },
): Generator<number> {
  const first = lengthSold(missing, byLength);
  if (isAny) for (let cut = first; cut <= most; cut += byLength.stepTicks) yield cut;
  else {
    const begun = byLength.prices.map(({ fromTicks }) => lengthSold(Math.max(missing, fromTicks), byLength));
    for (const cut of new Set([first, ...begun])) if (cut <= most) yield cut;
  }
}

export interface TwoBest {
  readonly best: Basket;
  /** the cheapest that does without some put-up of the best; null where there is none */
  readonly second: Basket | null;
}

/**
 * The best basket and the best without some put-up of it, by trying all; null where that would be more than `most`
 * combinations. Of two that cost the same the one with less left over comes first.
 */
export function bestOfAll(job: BasketJob, most: number): TwoBest | null {
  const choices: Mix[][] = [];
  let combinations = 1;
  for (let need = 0; need < job.needs.length; need += 1) {
    const own: Mix[] = [];
    for (const [offer, { need: of }] of job.offers.entries()) {
      if (of !== need) continue;
      const mixes = mixesOf(job, offer, most);
      if (!mixes) return null;
      own.push(...worthTrying(job, offer, mixes));
    }
    combinations *= own.length;
    if (combinations > most) return null;
    choices.push(own);
  }
  return twoBest(job, () => combined(job, choices, []));
}

function* combined(job: BasketJob, choices: readonly (readonly Mix[])[], start: Mix[]): Generator<Basket> {
  const options = choices[start.length];
  if (!options) {
    yield priceBasket(job, start);
    return;
  }
  for (const mix of options) yield* combined(job, choices, [...start, mix]);
}

/** The best of some baskets, and the best without some put-up of it. They are gone through twice. */
export function twoBest(job: BasketJob, baskets: () => Iterable<Basket>): TwoBest | null {
  const best = cheapest(job, baskets(), () => true);
  if (!best) return null;
  return { best, second: cheapest(job, baskets(), ({ mixes }) => doesWithout(mixes, best.mixes)) };
}

function cheapest(job: BasketJob, baskets: Iterable<Basket>, counts: (basket: Basket) => boolean) {
  let best: Basket | null = null;
  for (const basket of baskets) {
    if (counts(basket) && (!best || compareBaskets(basket, best, job) < 0)) best = basket;
  }
  return best;
}

/**
 * Of mixes that use the same put-ups for the same money, only the one with least left over; all of them where a length must
 * be reached.
 */
function worthTrying(job: BasketJob, offer: number, mixes: readonly Mix[]): readonly Mix[] {
  const putUps = at(job.offers, offer);
  const { leastOrderTicks, leastLineTicks } = at(job.suppliers, putUps.supplier);
  if (leastOrderTicks !== null || leastLineTicks !== null) return mixes;
  const kept = new Map<string, Mix>();
  for (const mix of mixes) {
    const key = `${putUpsOf([mix]).join()} ${goodsOf(putUps, mix)}`;
    const other = kept.get(key);
    if (!other || lengthOf(putUps, mix) < lengthOf(putUps, other)) kept.set(key, mix);
  }
  return [...kept.values()];
}

/** What everybody sells before what misses somebody's minimum; then cheaper first, then what leaves less over. */
function compareBaskets(a: Basket, b: Basket, job: BasketJob): number {
  const sold = Number(a.refusers > 0) - Number(b.refusers > 0);
  if (sold !== 0) return sold;
  return a.totalMinor - b.totalMinor || boughtTicks(a, job) - boughtTicks(b, job);
}

function boughtTicks({ mixes }: Basket, job: BasketJob): number {
  return mixes.reduce((sum, mix) => sum + lengthOf(at(job.offers, mix.offer), mix), 0);
}

function at<T>(list: readonly T[], place: number): T {
  const found = list[place];
  if (found === undefined) throw new RangeError(`There is nothing at ${place}.`);
  return found;
}
