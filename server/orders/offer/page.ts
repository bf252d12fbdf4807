import { showSize } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { clothPath, shadePath, supplierPath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { count } from '../../shelf/piece/list.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showPutUps } from './put-up-words.ts';
import { type Offer, readOffer, readOfferHistory } from './queries.ts';

/** One offer with all its prices over time. @throws {Refusal} unknown */
export function offerPage(reader: Reader, id: number, asker: Asker) {
  const offer = readOffer(reader, id);
  const data = {
    offer: shapeOffer(offer, asker),
    supplier: { name: offer.supplierName, href: supplierPath(offer.supplierId) },
    history: readOfferHistory(reader, offer).map((older) => shapeOffer(older, asker)),
  };
  const title = `${offer.clothName} from ${offer.supplierName}`;
  return { view: 'orders/offer/offer', data, title, room: 'orders' } satisfies Page;
}

export function shapeOffer(offer: Offer, asker: Asker) {
  return {
    href: `/orders/offers/${offer.id}`,
    cloth: offer.clothName,
    clothHref: clothPath(offer.clothId),
    /** null: any shade */
    chip: offer.shade && shadeChip(offer.shade, { href: shadePath(offer.shadeId ?? 0) }),
    article: offer.article,
    /** '' where it is as wide as the cloth */
    width: offer.widthTicks === null ? '' : showSize(offer.widthTicks, asker.units, 'down'),
    putUps: offer.withdrawn ? [] : showPutUps(offer, offer.currency, asker.units),
    from: showDay(offer.fromOn),
    leadDays: offer.leadDays === null ? '' : count(offer.leadDays, 'day'),
    again: `${supplierPath(offer.supplierId)}/offers/new?like=${offer.id}`,
    withdrawn: offer.withdrawn,
  };
}
