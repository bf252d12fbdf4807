import type { Mix } from '../../../src/buying/basket/job.ts';
import type { BasketPlan } from '../../../src/buying/basket/plan.ts';
import { priceAt } from '../../../src/buying/offer.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { dayOf } from '../../kit/when.ts';
import { listCodes, wordFor } from '../../kit/words.ts';
import { type DraftLine, putOrder } from '../../orders/order/draft.ts';
import { conflict } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { type BasketCase, boltsOf, boughtFrom, boughtOf } from './job.ts';
import { expectedOn } from './sellers.ts';

/** Drafts the orders of a basket, one a supplier. `shownMinor` is the total that the person saw. */
export function draftBasket(
  tx: Tx,
  basket: BasketCase,
  { best }: BasketPlan,
  shownMinor: number,
  asker: Asker,
): Answer {
  if (best.totalMinor !== shownMinor) {
    throw conflict(
      `The basket is not what it was: it comes to ${showMoney(best.totalMinor, basket.job.currency)} now. Look it over and draft it again.`,
    );
  }
  const today = dayOf(tx.at);
  const codes = best.sums.map((sum) => {
    const { seller, mixes } = boughtFrom(basket, best, sum);
    return putOrder(tx, {
      supplierId: seller.id,
      note: '',
      expectedOn: expectedOn(basket, mixes, today),
      terms: { ...seller.terms, freightMinor: sum.freightMinor },
      lines: mixes.flatMap((mix) => linesOf(basket, mix, asker)),
      supplies: [],
    });
  });
  const [only] = codes;
  return {
    location: codes.length === 1 ? `/orders/${only}` : '/orders',
    said: `${wordFor(codes.length, 'Order', 'Orders')} ${listCodes(codes)} ${wordFor(codes.length, 'is', 'are')} drafted from the basket. Nothing is sent yet.`,
  };
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
