import type { Reader } from '../../database/book.ts';
import { supplierPath, supplyOfferPath, supplyPath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { readSupplyOffer, readSupplyOfferHistory, type SupplyOffer } from '../../supplies/offered.ts';
import { sayPutUpPrice } from '../../supplies/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';

/** One offer of a supply with all its prices over time. @throws {Refusal} unknown */
export function supplyOfferPage(reader: Reader, id: number, asker: Asker) {
  const offer = readSupplyOffer(reader, id);
  const data = {
    offer: shapeSupplyOffer(offer, asker),
    supplier: { name: offer.supplierName, href: supplierPath(offer.supplierId) },
    history: readSupplyOfferHistory(reader, offer).map((older) => shapeSupplyOffer(older, asker)),
  };
  const title = `${offer.supplyName} from ${offer.supplierName}`;
  return { view: 'orders/offer/supply-offer', data, title, room: 'orders' } satisfies Page;
}

export function shapeSupplyOffer(offer: SupplyOffer, { units }: Asker) {
  return {
    href: supplyOfferPath(offer.id),
    supply: offer.supplyName,
    supplyHref: supplyPath(offer.supplyId),
    article: offer.article,
    putUps: offer.withdrawn
      ? []
      : offer.prices.map((price) => sayPutUpPrice(price, offer.measure, offer.currency, units)),
    from: showDay(offer.fromOn),
    leadDays: offer.leadDays === null ? '' : countOf(offer.leadDays, 'day', 'days'),
    again: `${supplierPath(offer.supplierId)}/supply-offers/new?like=${offer.id}`,
    withdrawn: offer.withdrawn,
  };
}
