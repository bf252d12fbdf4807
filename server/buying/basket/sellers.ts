import {
  type Basket,
  type BasketJob,
  costOfMix,
  goodsOf,
  isCovered,
  lengthOf,
  type Mix,
  type SupplierSum,
} from '../../../src/buying/basket/job.ts';
import { boltProposal, boughtBeyond, cutInstead } from '../../../src/buying/basket/notes.ts';
import { type MoreOf, missesOf } from '../../../src/buying/minimum.ts';
import { costOfCut, priceAt } from '../../../src/buying/offer.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { showRate } from '../../../src/quantity/rate.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { showSupplyAmount } from '../../../src/supply/amount.ts';
import { showUnitPrice } from '../../../src/supply/unit-price.ts';
import type { Reader } from '../../database/book.ts';
import { supplierPath, supplyPath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { type MissLine, missLineOfSupply, moreCloth, sayMisses } from '../../orders/offer/minimum-words.ts';
import { showBolts, showPerLength, showSold } from '../../orders/offer/put-up-words.ts';
import type { Offer } from '../../orders/offer/queries.ts';
import type { Terms } from '../../orders/supplier/terms.ts';
import { chipOf, readShade } from '../../shelf/shade/store.ts';
import { sayPutUps } from '../../supplies/words.ts';
import type { Asker } from '../../web/house.ts';
import { type BasketCase, boltsOf, boughtOf, type SupplyInBasket } from './job.ts';
import { expectedOn, type Shop, shopsOf } from './shops.ts';

/** What is bought of one supplier. */
export type SellerView = ReturnType<typeof shapeSellers>[number];

/** A basket by suppliers, each as an order to it would be. */
export function shapeSellers(
  reader: Reader,
  basket: BasketCase,
  bought: Basket,
  asker: Asker,
  today: string,
) {
  return shopsOf(basket, bought).map((shop) => {
    const { seller, mixes, supplies, sum } = shop;
    const comesOn = expectedOn(basket, shop, today);
    return {
      name: seller.name,
      href: supplierPath(seller.id),
      /** the day it would come, as it is kept and as it is read; '' where the days are not known */
      comesOn: comesOn ?? '',
      comes: comesOn === null ? '' : showDay(comesOn),
      supplies: supplies.map((one) => shapeSupply(one, asker)),
      lines: mixes.map((mix) => shapeLine(reader, basket, mix, isRaised(basket, shop, mix), asker)),
      /** by how much a minimum is missed, and what it would take */
      misses: sayMisses(seller.terms, missLinesOf(basket, shop), { terms: seller.terms, units: asker.units }),
      ...shapeSum(sum, seller.terms, asker),
    };
  });
}

function shapeSupply({ amount, offer, choice }: SupplyInBasket, { units }: Asker) {
  const { measure, currency } = offer;
  const left = choice.amount - amount;
  return {
    name: offer.supplyName,
    href: supplyPath(offer.supplyId),
    needed: showSupplyAmount(amount, measure, units, 'up'),
    buys: choice.bought.map(
      (each) =>
        `${sayPutUps(each.count, each, measure, units)} ${showMoney(each.count * each.priceMinor, currency)}`,
    ),
    left: left === 0 ? 'nothing' : showSupplyAmount(left, measure, units, 'down'),
    cost: showMoney(choice.costMinor, currency),
    perUnit: showUnitPrice(choice.costMinor, choice.amount, measure, currency, units),
  };
}

function shapeSum(sum: SupplierSum, terms: Terms, asker: Asker) {
  const money = (minor: number) => showMoney(minor, terms.currency);
  const some = (minor: number) => (minor > 0 ? money(minor) : '');
  const abroad = terms.currency !== asker.currency;
  const free = terms.freightMinor > 0 && sum.freightMinor === 0;
  return {
    /** at the list price */
    goods: money(sum.listMinor),
    discount: sum.discountMinor > 0 ? money(-sum.discountMinor) : '',
    discountRate: showPercent(terms.discountBp),
    cutFees: some(sum.cutFeesMinor),
    freight: free ? 'free' : some(sum.freightMinor),
    tax: some(sum.taxMinor),
    taxRate: showPercent(terms.taxBp),
    total: money(sum.totalMinor),
    /** tax that is asked for and reclaimed, and so counted nowhere; '' where there is none */
    reclaimed: terms.taxReclaimed && terms.taxBp > 0 ? showPercent(terms.taxBp) : '',
    /** the same in the workroom's money, '' where it is that already */
    home: abroad
      ? `${showMoney(sum.home.totalMinor, asker.currency)} at ${showRate(terms.rateMillionths)}`
      : '',
  };
}

/** What is bought of a supplier as far as minimums go. */
function missLinesOf(basket: BasketCase, { mixes, supplies }: Pick<Shop, 'mixes' | 'supplies'>): MissLine[] {
  return [
    ...mixes.map((mix) => missLineOf(basket, mix)),
    ...supplies.flatMap(({ offer, choice }) => {
      const [first] = choice.bought;
      return first ? [missLineOfSupply({ ...offer, name: offer.supplyName }, first, choice.costMinor)] : [];
    }),
  ];
}

/** What a mix is as far as minimums go: more of it is another bolt, or another step of the cut. */
function missLineOf(basket: BasketCase, mix: Mix): MissLine {
  const { offer } = boughtOf(basket, mix);
  const { byLength } = offer;
  const [bolt] = boltsOf(offer, mix);
  const more: MoreOf | null =
    mix.cutTicks > 0 && byLength
      ? { price: priceAt(mix.cutTicks, byLength), unitTicks: byLength.stepTicks }
      : bolt
        ? { price: { minor: bolt.priceMinor, perTicks: bolt.lengthTicks }, unitTicks: bolt.lengthTicks }
        : null;
  return {
    name: offer.clothName,
    listMinor: goodsOf(offer, mix),
    lengthTicks: lengthOf(offer, mix),
    more: more && moreCloth(more, mix.cutTicks === 0),
  };
}

/** Whether a length off the bolt is as long as it is because a step less would miss a minimum of its supplier. */
function isRaised(basket: BasketCase, { mixes, supplies }: Shop, mix: Mix): boolean {
  const { offer, need } = boughtOf(basket, mix);
  const shorter = { ...mix, cutTicks: mix.cutTicks - (offer.byLength?.stepTicks ?? 0) };
  if (mix.cutTicks === 0 || !isCovered(offer, shorter, need.lengthTicks)) return false;
  const terms = basket.job.suppliers[basket.job.offers[mix.offer]?.supplier ?? -1];
  const misses = (bought: readonly Mix[]) =>
    terms ? missesOf(terms, missLinesOf(basket, { mixes: bought, supplies }), terms.discountBp).length : 0;
  return misses(mixes) === 0 && misses(mixes.map((one) => (one === mix ? shorter : one))) > 0;
}

function shapeLine(reader: Reader, basket: BasketCase, mix: Mix, raised: boolean, asker: Asker) {
  const { offer, need } = boughtOf(basket, mix);
  const { units } = asker;
  const costMinor = goodsOf(offer, mix);
  const left = boughtBeyond(basket.job, mix);
  return {
    cloth: offer.clothName,
    chip: chipOf(readShade(reader, need.shadeId)),
    needed: showLength(need.lengthTicks, units, 'up'),
    /** true where a spare is counted in */
    spare: need.lengthTicks > need.neededTicks,
    buys: buysOf(offer, mix, units),
    cost: showMoney(costMinor, offer.currency),
    perUse: showPerLength(costMinor, lengthOf(offer, mix), offer.currency, units),
    left: left < units.stepTicks ? 'nothing' : showLength(left, units, 'down'),
    notes: [
      ...(raised ? [`A shorter length would not reach the least that ${offer.supplierName} sells.`] : []),
      ...notesOf(basket.job, offer, mix, units),
    ],
  };
}

/** "1 bolt of 50 m €180.00", "3.4 m cut €17.00". */
function buysOf(offer: Offer, mix: Mix, units: Units): string[] {
  const bolts = boltsOf(offer, mix).map(
    ({ count, lengthTicks, priceMinor }) =>
      `${showBolts(count, lengthTicks, units)} ${showMoney(count * priceMinor, offer.currency)}`,
  );
  if (mix.cutTicks === 0 || !offer.byLength) return bolts;
  const cost = showMoney(costOfCut(mix.cutTicks, offer.byLength), offer.currency);
  return [...bolts, `${showSold(mix.cutTicks, units)} cut ${cost}`];
}

function notesOf(job: BasketJob, offer: Offer, mix: Mix, units: Units): string[] {
  const money = (minor: number) => showMoney(minor, offer.currency);
  const notes: string[] = [];
  const cut = cutInstead(job, mix);
  if (cut && cut.costMinor > costOfMix(job, mix)) {
    const length = showSold(cut.cutTicks, units);
    notes.push(
      `${mix.cutTicks > 0 ? 'Whole bolts and the rest' : 'Whole bolts'} cost less than ${length} off the bolt, which is ${money(cut.costMinor)}.`,
    );
  }
  const proposal = boltProposal(job, mix);
  const bolt = proposal && offer.bolts[proposal.bolt];
  if (proposal && bolt) {
    const each = showPerLength(proposal.costMinor, proposal.count * bolt.lengthTicks, offer.currency, units);
    notes.push(
      `For ${money(proposal.moreMinor)} more it would be ${showBolts(proposal.count, bolt.lengthTicks, units)} at ${each}, with ${showLength(proposal.leftTicks, units, 'down')} spare.`,
    );
  }
  return notes;
}
