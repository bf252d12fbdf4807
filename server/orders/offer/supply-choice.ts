import { invoiceOf } from '../../../src/buying/invoice.ts';
import { atRate } from '../../../src/quantity/rate.ts';
import type { WantedLength } from '../../../src/supply/lengths.ts';
import { cheapestPutUps, type PutUpChoice, putUpsForLengths } from '../../../src/supply/put-ups.ts';
import type { Reader } from '../../database/book.ts';
import { dayAfter } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { readSupplyOffers, type SupplyOffer } from '../../supplies/offered.ts';
import { readTerms, type Terms } from '../supplier/terms.ts';

/** What a supplier would be asked for of a supply: whole put-ups, and what they come to in the workroom's money. */
export interface SupplyBuy {
  readonly offer: SupplyOffer;
  readonly terms: Terms;
  readonly choice: PutUpChoice;
  /** less the discount and with the tax that stays a cost, before freight, in the workroom's minor units */
  readonly homeMinor: number;
}

/**
 * Finds the cheapest put-ups for amounts of supplies, by the offers in force on a day that come by another, where one is
 * named: freight aside, since it is of the whole order. Offers in money that their supplier sells in no longer do not count.
 */
export function supplyBuyer(reader: Reader, today: string, neededBy: string | null = null) {
  const home = readWorkroom(reader).currency;
  const offers = readSupplyOffers(reader, today).map((offer) => ({
    offer,
    terms: readTerms(reader, offer.supplierId, today),
  }));
  return (
    supplyId: number,
    amount: number,
    /** the single lengths that come to the amount, where it is wanted so */
    lengths: readonly WantedLength[] = [],
  ): SupplyBuy | null => {
    const buys = offers.flatMap(({ offer, terms }): SupplyBuy[] => {
      if (offer.supplyId !== supplyId || offer.currency !== terms.currency) return [];
      const isLate =
        neededBy !== null && offer.leadDays !== null && dayAfter(today, offer.leadDays) > neededBy;
      const inLengths = lengths.some(({ pieces }) => pieces !== null);
      const choice = isLate
        ? null
        : inLengths
          ? putUpsForLengths(offer.prices, lengths)
          : cheapestPutUps(offer.prices, amount);
      if (choice === null) return [];
      const taxBp = terms.taxReclaimed ? 0 : terms.taxBp;
      const bought = { listMinor: choice.costMinor, cuts: 0, freightMinor: 0 };
      const { totalMinor } = invoiceOf(bought, { ...terms, taxBp });
      const exchange = { from: terms.currency, to: home, rateMillionths: terms.rateMillionths };
      return [{ offer, terms, choice, homeMinor: atRate(totalMinor, exchange) }];
    });
    return buys.sort((a, b) => a.homeMinor - b.homeMinor || a.choice.amount - b.choice.amount)[0] ?? null;
  };
}
