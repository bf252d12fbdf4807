import { exactly } from '../../quantity/figure-show.ts';
import { lengthSold } from '../offer.ts';
import { type Basket, type BasketJob, costOfMix, lengthOf, type Mix } from './job.ts';

/** Money beside what is chosen: proposing a whole bolt for more than half as much again would be no advice. */
const MOST_MORE = { num: 3n, den: 2n };

/** What is bought beyond the need, in ticks. */
export function boughtBeyond(job: BasketJob, mix: Mix): number {
  const offer = job.offers[mix.offer];
  return offer ? lengthOf(offer, mix) - (job.needs[offer.need]?.lengthTicks ?? 0) : 0;
}

/**
 * Where whole bolts bring more than is needed: what the need alone would cost off the bolt from the same supplier, in
 * the supplier's minor units, with the cut fee and less the discount. Null where no more is bought than a step, or nothing is cut there.
 */
export function cutInstead(job: BasketJob, mix: Mix): { cutTicks: number; costMinor: number } | null {
  const offer = job.offers[mix.offer];
  if (!offer?.byLength || mix.bolts.every((count) => count === 0)) return null;
  const needTicks = job.needs[offer.need]?.lengthTicks ?? 0;
  const cutTicks = lengthSold(needTicks, offer.byLength);
  if (lengthOf(offer, mix) <= cutTicks) return null;
  return { cutTicks, costMinor: costOfMix(job, { offer: mix.offer, bolts: [], cutTicks }) };
}

/** Whole bolts in the place of a mix: `moreMinor` dearer, but cheaper for each length. */
export interface BoltProposal {
  readonly bolt: number;
  readonly count: number;
  readonly costMinor: number;
  readonly moreMinor: number;
  readonly leftTicks: number;
}

/**
 * Whole bolts of one length that cost more than the mix and yet less for each length that comes, and no more than half
 * as much again: worth a thought where the rest will be used. The one with least more to pay, or null.
 */
export function boltProposal(job: BasketJob, mix: Mix): BoltProposal | null {
  const offer = job.offers[mix.offer];
  if (!offer || mix.cutTicks === 0) return null;
  const needTicks = job.needs[offer.need]?.lengthTicks ?? 0;
  const [cost, length] = [costOfMix(job, mix), lengthOf(offer, mix)];
  const proposals = offer.bolts.flatMap(({ lengthTicks }, bolt): BoltProposal[] => {
    const count = Math.ceil(needTicks / lengthTicks);
    const whole = {
      offer: mix.offer,
      bolts: offer.bolts.map((_, at) => (at === bolt ? count : 0)),
      cutTicks: 0,
    };
    const [costMinor, broughtTicks] = [costOfMix(job, whole), count * lengthTicks];
    const cheaperEach = exactly(costMinor) * exactly(length) < exactly(cost) * exactly(broughtTicks);
    const tooDear = exactly(costMinor) * MOST_MORE.den > exactly(cost) * MOST_MORE.num;
    if (!cheaperEach || tooDear || costMinor <= cost) return [];
    return [{ bolt, count, costMinor, moreMinor: costMinor - cost, leftTicks: broughtTicks - needTicks }];
  });
  return proposals.sort((a, b) => a.moreMinor - b.moreMinor)[0] ?? null;
}

/** By what one basket costs more than another: minor units of the job's currency, which add up to all of it. */
export interface BasketDifference {
  readonly goodsMinor: number;
  readonly cutFeesMinor: number;
  readonly freightMinor: number;
  readonly taxMinor: number;
}

export function differenceOf(basket: Basket, from: Basket): BasketDifference {
  const sum = ({ sums }: Basket, part: keyof BasketDifference) =>
    sums.reduce((total, { home }) => total + home[part], 0);
  return {
    goodsMinor: sum(basket, 'goodsMinor') - sum(from, 'goodsMinor'),
    cutFeesMinor: sum(basket, 'cutFeesMinor') - sum(from, 'cutFeesMinor'),
    freightMinor: sum(basket, 'freightMinor') - sum(from, 'freightMinor'),
    taxMinor: sum(basket, 'taxMinor') - sum(from, 'taxMinor'),
  };
}
