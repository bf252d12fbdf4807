import type { Mix, SupplierSum } from '../../../src/buying/basket/job.ts';
import { bestOfAll } from '../../../src/buying/basket/mixes.ts';
import type { ClothShade } from '../../../src/garment/need.ts';
import type { Reader } from '../../database/book.ts';
import { dayAfter } from '../../kit/when.ts';
import type { Offer } from '../../orders/offer/queries.ts';
import { type BasketCase, basketCase } from '../basket/job.ts';

/** Offers that are priced one by one, the cheapest first. */
const MOST_OFFERS = 5;
/** Ways of putting one offer together that are tried. */
const MOST_TRIED = 4000;

/** A length bought of one offer, with freight and tax. */
export interface BoughtLength {
  readonly offer: Offer;
  readonly sum: SupplierSum;
  /** how it is put together, and the job that this is of */
  readonly mix: Mix;
  readonly basket: BasketCase;
  /** true where it comes in one length off the bolt */
  readonly isOneLength: boolean;
  readonly arrivesOn: string | null;
}

/** What a length of a cloth in a shade costs by each offer in force, the cheapest first. */
export function priceOffers(
  reader: Reader,
  of: ClothShade,
  lengthTicks: number,
  today: string,
): BoughtLength[] {
  const need = {
    cloth_id: of.clothId,
    shade_id: of.shadeId,
    length: { value: lengthTicks, typed: '' },
    spare: null,
  };
  const all = basketCase(reader, { needed_by: null, total_minor: null, needs: [need], supplies: [] }, today);
  const found = all.offers.flatMap((offer, place): BoughtLength[] => {
    const priced = all.job.offers[place];
    if (!priced) return [];
    const basket = { ...all, offers: [offer], job: { ...all.job, offers: [priced] } };
    const best = bestOfAll(basket.job, MOST_TRIED)?.best;
    const [sum] = best?.sums ?? [];
    const [mix] = best?.mixes ?? [];
    if (!sum || !mix) return [];
    const bolts = mix.bolts.reduce((count, each) => count + each, 0);
    return [
      {
        offer,
        sum,
        mix,
        basket,
        isOneLength: bolts + Number(mix.cutTicks > 0) === 1,
        arrivesOn: offer.leadDays === null ? null : dayAfter(today, offer.leadDays),
      },
    ];
  });
  return found.sort((a, b) => a.sum.home.totalMinor - b.sum.home.totalMinor).slice(0, MOST_OFFERS);
}
