import type { Basket, BasketJob, Mix, SupplierSum } from '../../../src/buying/basket/job.ts';
import type { Bolt } from '../../../src/buying/offer.ts';
import { divideRounded, exactly, stored } from '../../../src/quantity/figure-show.ts';
import { WHOLE_SHARE_BP } from '../../../src/quantity/whole.ts';
import { choiceOf, type PutUpChoice } from '../../../src/supply/put-ups.ts';
import type { Reader } from '../../database/book.ts';
import { dayAfter } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { type Offer, readOffers } from '../../orders/offer/queries.ts';
import { readTerms, type Terms } from '../../orders/supplier/terms.ts';
import { readSupplyOffers, type SupplyOffer } from '../../supplies/offered.ts';
import { readSpares } from '../rules.ts';
import type { BasketForm } from './form.ts';

/** A length to buy, the spare counted in. */
export interface BasketNeed {
  readonly clothId: number;
  readonly shadeId: number;
  readonly neededTicks: number;
  readonly lengthTicks: number;
}

export interface BasketSeller {
  readonly id: number;
  readonly name: string;
  readonly terms: Terms;
}

/** An offer that does not count, and why. */
export interface LeftOut {
  readonly offer: Offer | SupplyOffer;
  readonly why: 'too late' | 'too narrow' | 'other money';
  /** the day it would come, where it is too late */
  readonly comesOn: string;
}

/** The job for the arithmetic, with what its places stand for: in needs and offers cloth stands before the supplies. */
export interface BasketCase {
  readonly job: BasketJob;
  readonly needs: readonly BasketNeed[];
  readonly supplyNeeds: readonly SupplyNeeded[];
  readonly sellers: readonly BasketSeller[];
  readonly offers: readonly Offer[];
  readonly supplyOffers: readonly SupplyOffer[];
  /** needs that nobody offers anything for in time */
  readonly unmet: readonly BasketNeed[];
  readonly unmetSupplies: readonly SupplyNeeded[];
  readonly leftOut: readonly LeftOut[];
}

/** An amount of a supply to be bought, in its measure. */
export interface SupplyNeeded {
  readonly supplyId: number;
  readonly amount: number;
}

/** A supply as a basket buys it: whole put-ups of one offer. */
export interface SupplyInBasket extends SupplyNeeded {
  readonly offer: SupplyOffer;
  readonly choice: PutUpChoice;
}

/** Puts needs and the offers in force together. An offer for the shade itself goes before one for any shade. */
export function basketCase(reader: Reader, form: BasketForm, today: string): BasketCase {
  const spares = readSpares(reader);
  const wanted = form.needs.map((row): BasketNeed => {
    const spareBp = row.spare?.value ?? spares.get(row.cloth_id) ?? 0;
    return {
      clothId: row.cloth_id,
      shadeId: row.shade_id,
      neededTicks: row.length.value,
      lengthTicks: withSpare(row.length.value, spareBp),
    };
  });
  const inForce = readOffers(reader, today, { clothIds: [...new Set(wanted.map(({ clothId }) => clothId))] });
  const ofSupplies = form.supplies.length === 0 ? [] : readSupplyOffers(reader, today);
  const terms = new Map<number, Terms>();
  for (const { supplierId } of [...inForce, ...ofSupplies]) {
    if (!terms.has(supplierId)) terms.set(supplierId, readTerms(reader, supplierId, today));
  }
  const leftOut: LeftOut[] = [];
  const inTime = (offer: Offer | SupplyOffer) => {
    const why = whyNot(offer, form.needed_by, today, terms.get(offer.supplierId));
    if (why && !leftOut.some((out) => out.offer === offer)) leftOut.push(why);
    return why === null;
  };
  const cloth = whoOffers(wanted, (need) => offersFor(need, inForce).filter(inTime));
  const supplies = whoOffers(form.supplies, (need) =>
    ofSupplies.filter(({ supplyId }) => supplyId === need.supplyId).filter(inTime),
  );
  const offers = cloth.met.flatMap((one) => one.offers);
  const supplyOffers = supplies.met.flatMap((one) => one.offers);
  const sellers = sellersOf([...offers, ...supplyOffers], terms);
  const placeOf = (supplierId: number) => sellers.findIndex(({ id }) => id === supplierId);
  return {
    job: {
      needs: [
        ...cloth.met.map(({ need }) => ({ lengthTicks: need.lengthTicks })),
        ...supplies.met.map(({ need }) => ({ lengthTicks: need.amount, isSupply: true })),
      ],
      suppliers: sellers.map(({ terms: own }) => countedTerms(own)),
      offers: [
        ...cloth.met.flatMap((one, need) =>
          one.offers.map(({ supplierId, bolts, byLength }) => {
            return { need, supplier: placeOf(supplierId), bolts, byLength };
          }),
        ),
        ...supplies.met.flatMap((one, at) =>
          one.offers.map(({ supplierId, prices }) => {
            const bolts = prices.map(({ amount: lengthTicks, ...price }) => ({ lengthTicks, ...price }));
            return { need: cloth.met.length + at, supplier: placeOf(supplierId), bolts, byLength: null };
          }),
        ),
      ],
      currency: readWorkroom(reader).currency,
    },
    needs: cloth.met.map(({ need }) => need),
    supplyNeeds: supplies.met.map(({ need }) => need),
    sellers,
    offers,
    supplyOffers,
    unmet: cloth.unmet,
    unmetSupplies: supplies.unmet,
    leftOut,
  };
}

/** What is wanted and offered, with who offers it, and what nobody offers. */
function whoOffers<Need, Offered>(wanted: readonly Need[], offersOf: (need: Need) => readonly Offered[]) {
  const found = wanted.map((need) => ({ need, offers: offersOf(need) }));
  return {
    met: found.filter(({ offers }) => offers.length > 0),
    unmet: found.filter(({ offers }) => offers.length === 0).map(({ need }) => need),
  };
}

/** The terms that a basket counts with: tax that is reclaimed is no cost, and so no reason to buy elsewhere. */
export function countedTerms(terms: Terms): Terms {
  return terms.taxReclaimed ? { ...terms, taxBp: 0 } : terms;
}

/** What a mix buys: the offer that it takes of, and the need that it meets. */
export function boughtOf({ job, offers, needs }: BasketCase, mix: Mix) {
  const offer = offers[mix.offer];
  const need = needs[job.offers[mix.offer]?.need ?? -1];
  if (!offer || !need) throw new Error('a basket names an offer that its job has not');
  return { offer, need };
}

/** What of a basket is cloth, and what supplies. */
export function clothAndSupplies(basket: BasketCase, mixes: readonly Mix[]) {
  const isCloth = ({ offer }: Mix) => offer < basket.offers.length;
  return {
    cloth: mixes.filter(isCloth),
    supplies: mixes.filter((mix) => !isCloth(mix)).map((mix) => supplyBought(basket, mix)),
  };
}

function supplyBought(
  { job, needs, supplyNeeds, offers, supplyOffers }: BasketCase,
  mix: Mix,
): SupplyInBasket {
  const offer = supplyOffers[mix.offer - offers.length];
  const need = supplyNeeds[(job.offers[mix.offer]?.need ?? -1) - needs.length];
  const counts = new Map<number, number>();
  offer?.prices.forEach(({ amount }, i) => {
    counts.set(amount, (counts.get(amount) ?? 0) + (mix.bolts[i] ?? 0));
  });
  const choice = offer ? choiceOf(offer.prices, counts) : null;
  if (!offer || !need || !choice) throw new Error('a basket names an offer that its job has not');
  return { ...need, offer, choice };
}

/** The bolts of an offer that a mix takes any of. */
export function boltsOf({ bolts }: Offer, mix: Mix): (Bolt & { readonly count: number })[] {
  return bolts.map((bolt, i) => ({ ...bolt, count: mix.bolts[i] ?? 0 })).filter(({ count }) => count > 0);
}

/** The supplier of one of the basket's sums, and what is bought there. */
export function boughtFrom({ job, sellers }: BasketCase, { mixes }: Basket, { supplier }: SupplierSum) {
  const seller = sellers[supplier];
  if (!seller) throw new Error('a basket names a supplier that its job has not');
  return { seller, mixes: mixes.filter((mix) => job.offers[mix.offer]?.supplier === supplier) };
}

/** A length and so much more, rounded up to the tick. */
function withSpare(lengthTicks: number, spareBp: number): number {
  const whole = BigInt(WHOLE_SHARE_BP);
  return stored(divideRounded(exactly(lengthTicks) * (whole + exactly(spareBp)), whole, 'up'));
}

function offersFor(need: BasketNeed, offers: readonly Offer[]): Offer[] {
  const own = offers.filter(
    ({ clothId, shadeId }) => clothId === need.clothId && (shadeId === null || shadeId === need.shadeId),
  );
  return own.filter(
    (offer) =>
      offer.shadeId !== null ||
      !own.some((other) => other.supplierId === offer.supplierId && other.shadeId !== null),
  );
}

function whyNot(
  offer: Offer | SupplyOffer,
  neededBy: string | null,
  today: string,
  terms: Terms | undefined,
): LeftOut | null {
  const comesOn = offer.leadDays === null ? '' : dayAfter(today, offer.leadDays);
  if ('clothUsableTicks' in offer && offer.widthTicks !== null && offer.widthTicks < offer.clothUsableTicks)
    return { offer, why: 'too narrow', comesOn };
  if (terms && terms.currency !== offer.currency) return { offer, why: 'other money', comesOn };
  if (neededBy !== null && comesOn !== '' && comesOn > neededBy) return { offer, why: 'too late', comesOn };
  return null;
}

function sellersOf(
  offers: readonly Pick<Offer, 'supplierId' | 'supplierName'>[],
  terms: ReadonlyMap<number, Terms>,
): BasketSeller[] {
  const sellers = new Map<number, BasketSeller>();
  for (const { supplierId, supplierName } of offers) {
    const own = terms.get(supplierId);
    if (own) sellers.set(supplierId, { id: supplierId, name: supplierName, terms: own });
  }
  return [...sellers.values()].sort((a, b) => a.id - b.id);
}
