import type { Mix } from '../../src/basket/job.ts';
import type { BasketPlan } from '../../src/basket/plan.ts';
import { showMoney } from '../../src/money.ts';
import { priceAt } from '../../src/offer.ts';
import { writeLength } from '../../src/written-length.ts';
import { writeMoney } from '../../src/written-money.ts';
import type { Answer, Tx } from '../database/book.ts';
import { conflict } from '../refusal.ts';
import { listOf } from '../shelf/receive-page.ts';
import type { Asker } from '../web/house.ts';
import { dayOf } from '../when.ts';
import type { BasketCase } from './basket-job.ts';
import { expectedOn } from './basket-sellers.ts';
import { type DraftLine, putOrder } from './order-draft.ts';

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
  const codes = best.sums.map(({ supplier, freightMinor }) => {
    const seller = basket.sellers[supplier];
    if (!seller) throw new Error('a basket names a supplier that its job has not');
    const mixes = best.mixes.filter((mix) => basket.job.offers[mix.offer]?.supplier === supplier);
    return putOrder(tx, {
      supplierId: seller.id,
      note: '',
      expectedOn: expectedOn(basket, mixes, today),
      terms: { ...seller.terms, freightMinor },
      lines: mixes.flatMap((mix) => linesOf(basket, mix, asker)),
    });
  });
  const [only] = codes;
  return {
    location: codes.length === 1 ? `/orders/${only}` : '/orders',
    said: `${codes.length === 1 ? 'Order' : 'Orders'} ${listOf(codes)} ${codes.length === 1 ? 'is' : 'are'} drafted from the basket. Nothing is sent yet.`,
  };
}

function linesOf({ offers, needs, job }: BasketCase, mix: Mix, asker: Asker): DraftLine[] {
  const offer = offers[mix.offer];
  const need = needs[job.offers[mix.offer]?.need ?? -1];
  if (!offer || !need) throw new Error('a basket names an offer that its job has not');
  const { byLength } = offer;
  const line = { clothId: need.clothId, shadeId: need.shadeId, offerId: offer.id };
  const typed = (lengthTicks: number, minor: number) => ({
    length: `${writeLength(lengthTicks, asker.units)}${asker.units.system === 'metric' ? ' m' : ''}`,
    price: writeMoney(minor, offer.currency),
  });
  const bolts = offer.bolts.flatMap(({ lengthTicks, priceMinor }, i): DraftLine[] => {
    const count = mix.bolts[i] ?? 0;
    if (count === 0) return [];
    const price = { minor: priceMinor, perTicks: lengthTicks };
    return [
      {
        ...line,
        lengthTicks: count * lengthTicks,
        price,
        bolts: count,
        typed: typed(lengthTicks, priceMinor),
      },
    ];
  });
  if (mix.cutTicks === 0 || !byLength) return bolts;
  const price = priceAt(mix.cutTicks, byLength);
  return [
    ...bolts,
    { ...line, lengthTicks: mix.cutTicks, price, bolts: null, typed: typed(mix.cutTicks, price.minor) },
  ];
}
