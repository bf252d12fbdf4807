import type { Mix } from '../../../src/buying/basket/job.ts';
import type { BasketPlan } from '../../../src/buying/basket/plan.ts';
import { priceAt } from '../../../src/buying/offer.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import { writeSupplyAmount } from '../../../src/supply/amount.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { withUnit } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { dayOf } from '../../kit/when.ts';
import { listCodes, wordFor } from '../../kit/words.ts';
import { type DraftLine, putOrder } from '../../orders/order/draft.ts';
import type { DraftSupply } from '../../orders/order/supply-lines.ts';
import { conflict } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { type BasketCase, boltsOf, boughtOf, type SupplyInBasket } from './job.ts';
import { expectedOn, shopsOf } from './shops.ts';

/** Drafts the orders of a basket, one a supplier. `shownMinor` is the total that the person saw. */
export function draftBasket(
  tx: Tx,
  basket: BasketCase,
  { best }: BasketPlan,
  shownMinor: number,
  asker: Asker,
): Answer {
  const shops = shopsOf(basket, best);
  const { totalMinor } = best;
  if (totalMinor !== shownMinor) {
    throw conflict(
      `The basket is not what it was: it comes to ${showMoney(totalMinor, basket.job.currency)} now. Look it over and draft it again.`,
    );
  }
  const today = dayOf(tx.at);
  const codes = shops.map((shop) => {
    const { seller, mixes, supplies, sum } = shop;
    return putOrder(tx, {
      supplierId: seller.id,
      note: '',
      expectedOn: expectedOn(basket, shop, today),
      terms: { ...seller.terms, freightMinor: sum.freightMinor },
      lines: mixes.flatMap((mix) => linesOf(basket, mix, asker)),
      supplies: supplies.flatMap((one) => supplyLinesOf(one, asker)),
    });
  });
  const [only] = codes;
  return {
    location: codes.length === 1 ? `/orders/${only}` : '/orders',
    said: `${wordFor(codes.length, 'Order', 'Orders')} ${listCodes(codes)} ${wordFor(codes.length, 'is', 'are')} drafted from the basket. Nothing is sent yet.`,
  };
}

function supplyLinesOf({ supplyId, offer, choice }: SupplyInBasket, { units }: Asker): DraftSupply[] {
  return choice.bought.map(({ count, putUp, amount, priceMinor }) => {
    const written = writeSupplyAmount(amount, offer.measure, units);
    return {
      supplyId,
      offerId: offer.id,
      putUps: count,
      putUp,
      amount,
      priceMinor,
      typed: {
        amount: offer.measure === 'length' ? withUnit(written, lengthUnit(units)) : written,
        price: writeMoney(priceMinor, offer.currency),
      },
    };
  });
}

function linesOf(basket: BasketCase, mix: Mix, asker: Asker): DraftLine[] {
  const { offer, need } = boughtOf(basket, mix);
  const line = { clothId: need.clothId, shadeId: need.shadeId, offerId: offer.id };
  const typed = (lengthTicks: number, minor: number) => ({
    length: `${writeLength(lengthTicks, asker.units)}${asker.units.system === 'metric' ? ' m' : ''}`,
    price: writeMoney(minor, offer.currency),
  });
  const bolts = boltsOf(offer, mix).map(
    ({ count, lengthTicks, priceMinor }): DraftLine => ({
      ...line,
      lengthTicks: count * lengthTicks,
      price: { minor: priceMinor, perTicks: lengthTicks },
      bolts: count,
      typed: typed(lengthTicks, priceMinor),
    }),
  );
  if (mix.cutTicks === 0 || !offer.byLength) return bolts;
  const price = priceAt(mix.cutTicks, offer.byLength);
  return [
    ...bolts,
    { ...line, lengthTicks: mix.cutTicks, price, bolts: null, typed: typed(mix.cutTicks, price.minor) },
  ];
}
