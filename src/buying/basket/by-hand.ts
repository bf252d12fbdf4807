import { WHOLE_SHARE_BP } from '../../quantity/whole.ts';
import { cheapestPutUps } from '../../supply/put-ups.ts';
import { costOfCut, lengthSold, type PutUps } from '../offer.ts';
import { type Basket, type BasketJob, costOfMix, isCovered, lengthOf, type Mix, priceBasket } from './job.ts';
import { type TwoBest, twoBest } from './mixes.ts';

/** More suppliers than this are not tried in all their sets. */
const MOST_IN_SETS = 6;

/**
 * The two best baskets that somebody would find with a pencil: for every set of suppliers, each need by itself from the
 * cheapest of them, in bolts, by the length, or bolts and the rest by the length. Never dearer than going to one
 * supplier for all. Throws where a need has no offer.
 */
export function byHand(job: BasketJob): TwoBest {
  const baskets = setsOf(job.suppliers.length).flatMap((set) => basketFrom(job, set) ?? []);
  const two = twoBest(job, () => baskets);
  if (!two) throw new RangeError('A need has no offer.');
  return two;
}

function setsOf(suppliers: number): Set<number>[] {
  const all = Array.from({ length: suppliers }, (_, i) => i);
  if (suppliers > MOST_IN_SETS) return [new Set(all), ...all.map((one) => new Set([one]))];
  return Array.from(
    { length: 2 ** suppliers - 1 },
    (_, bits) => new Set(all.filter((one) => ((bits + 1) >> one) & 1)),
  );
}

function basketFrom(job: BasketJob, suppliers: ReadonlySet<number>): Basket | null {
  const mixes: Mix[] = [];
  for (const [need, { lengthTicks }] of job.needs.entries()) {
    const options = job.offers.flatMap((offer, i) =>
      offer.need === need && suppliers.has(offer.supplier) ? simpleMixes(job, i, lengthTicks) : [],
    );
    const alone = (mix: Mix) => {
      const offer = job.offers[mix.offer];
      if (!offer) return Number.POSITIVE_INFINITY;
      const terms = job.suppliers[offer.supplier];
      return costOfMix(job, mix) * (terms?.rateMillionths ?? 0) * (WHOLE_SHARE_BP + (terms?.taxBp ?? 0));
    };
    const [best] = options.sort((a, b) => alone(a) - alone(b));
    if (!best) return null;
    mixes.push(best);
  }
  return priceBasket(job, mixes);
}

function simpleMixes(job: BasketJob, offer: number, needTicks: number): Mix[] {
  const putUps = job.offers[offer];
  if (!putUps) return [];
  const { bolts, byLength } = putUps;
  const only = (place: number, count: number) => bolts.map((_, i) => (i === place ? count : 0));
  const whole = wholeBolts(putUps, needTicks).map((counts): Mix => ({ offer, bolts: counts, cutTicks: 0 }));
  if (!byLength) return whole;
  const cut: Mix = { offer, bolts: only(-1, 0), cutTicks: cheapestCut(needTicks, byLength) };
  const both = bolts.flatMap(({ lengthTicks }, i): Mix[] => {
    const mix: Mix = { offer, bolts: only(i, Math.floor(needTicks / lengthTicks)), cutTicks: 0 };
    const missing = needTicks - lengthOf(putUps, mix);
    return missing > 0 ? [{ ...mix, cutTicks: cheapestCut(missing, byLength) }] : [mix];
  });
  return [...whole, cut, ...both].filter((mix) => isCovered(putUps, mix, needTicks));
}

/** The cheapest whole bolts, of one length or of several, one way each. */
function wholeBolts({ bolts }: PutUps, needTicks: number): number[][] {
  const prices = bolts.map(({ lengthTicks, priceMinor, fromCount = 1 }) => {
    return { putUp: '', amount: lengthTicks, fromCount, priceMinor };
  });
  const of = (some: typeof prices) => {
    const { bought } = cheapestPutUps(some, needTicks) ?? { bought: [] };
    return prices.map(
      ({ amount, fromCount }) =>
        bought.find((each) => each.amount === amount && each.fromCount === fromCount)?.count ?? 0,
    );
  };
  const lengths = [...new Set(prices.map(({ amount }) => amount))];
  const each = lengths.map((length) => of(prices.filter(({ amount }) => amount === length)));
  return [...each, of(prices)].filter((counts) => counts.some((count) => count > 0));
}

/** The length to have cut: a longer one where its price break makes it cheaper. */
function cheapestCut(neededTicks: number, byLength: Parameters<typeof lengthSold>[1]): number {
  const options = [0, ...byLength.prices.map(({ fromTicks }) => fromTicks)].map((from) =>
    lengthSold(Math.max(neededTicks, from), byLength),
  );
  const [best = 0] = options.sort((a, b) => costOfCut(a, byLength) - costOfCut(b, byLength) || a - b);
  return best;
}
