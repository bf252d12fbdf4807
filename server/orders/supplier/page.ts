import { showSize } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { supplierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showDay } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import { count } from '../../shelf/piece/list.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showPutUps } from '../offer/put-up-words.ts';
import { type Offer, readOffer, readOfferHistory, readOffers, readOffersAside } from '../offer/queries.ts';
import { readOtherTerms, readTerms, sayTerms, typedTerms } from '../offer/terms.ts';

export interface SupplierData {
  readonly requestKey: string;
  readonly id: number;
  readonly offers: readonly OfferView[];
  /** offered before or only later, with the prices of that time behind the link */
  readonly aside: readonly OfferView[];
  readonly terms: readonly string[];
  readonly otherTerms: readonly { readonly from: string; readonly said: readonly string[] }[];
  readonly typed: { readonly name: string; readonly lead_days: string; readonly note: string };
  readonly typedTerms: Readonly<Record<string, string>>;
  /** which form is open, since it was refused */
  readonly open: '' | 'terms' | 'supplier';
  readonly home: string;
  readonly newOffer: string;
}

export interface OfferView {
  readonly href: string;
  readonly cloth: string;
  readonly clothHref: string;
  /** null: any shade */
  readonly chip: Chip | null;
  readonly article: string;
  /** '' where it is as wide as the cloth */
  readonly width: string;
  readonly putUps: readonly string[];
  readonly from: string;
  readonly leadDays: string;
  readonly again: string;
  readonly withdrawn: boolean;
}

export interface OfferData {
  readonly offer: OfferView;
  readonly supplier: { readonly name: string; readonly href: string };
  readonly history: readonly OfferView[];
}

/** A supplier: what is offered, on what terms, and who it is. */
export function supplierPage(
  reader: Reader,
  id: number,
  asker: Asker,
  today: string,
  refused: { readonly terms?: Typed; readonly supplier?: Typed } = {},
): Page {
  const row = reader.first(reader.db.selectFrom('supplier').selectAll().where('id', '=', id));
  if (!row) throw unknown('such supplier');
  const { supplier: typed } = refused;
  const terms = readTerms(reader, id, today);
  const data: SupplierData = {
    requestKey: mintKey(),
    id,
    offers: readOffers(reader, today, { supplierId: id }).map((offer) => shapeOffer(offer, asker)),
    aside: readOffersAside(reader, today, id).map((offer) => shapeOffer(offer, asker)),
    terms: sayTerms(terms, asker.currency),
    otherTerms: readOtherTerms(reader, id, today).map((other) => ({
      from: showDay(other.fromOn),
      said: sayTerms(other, asker.currency),
    })),
    typed: {
      name: typed?.name ?? row.name,
      lead_days: typed?.lead_days ?? (row.lead_days === null ? '' : String(row.lead_days)),
      note: typed?.note ?? row.note,
    },
    typedTerms: typedTerms(terms, asker.currency, refused.terms),
    open: refused.terms ? 'terms' : typed ? 'supplier' : '',
    home: asker.currency,
    newOffer: `${supplierPath(id)}/offers/new`,
  };
  return { view: 'orders/supplier/supplier', data, title: row.name, room: 'orders' };
}

/** One offer with all its prices over time. @throws {Refusal} unknown */
export function offerPage(reader: Reader, id: number, asker: Asker): Page {
  const offer = readOffer(reader, id);
  const data: OfferData = {
    offer: shapeOffer(offer, asker),
    supplier: { name: offer.supplierName, href: supplierPath(offer.supplierId) },
    history: readOfferHistory(reader, offer).map((older) => shapeOffer(older, asker)),
  };
  return {
    view: 'orders/offer/offer',
    data,
    title: `${offer.clothName} from ${offer.supplierName}`,
    room: 'orders',
  };
}

function shapeOffer(offer: Offer, asker: Asker): OfferView {
  return {
    href: `/orders/offers/${offer.id}`,
    cloth: offer.clothName,
    clothHref: `/shelf/cloths/${offer.clothId}`,
    chip: offer.shade ? shadeChip(offer.shade, { href: `/shelf/shades/${offer.shadeId}` }) : null,
    article: offer.article,
    width: offer.widthTicks === null ? '' : showSize(offer.widthTicks, asker.units, 'down'),
    putUps: offer.withdrawn ? [] : showPutUps(offer, offer.currency, asker.units),
    from: showDay(offer.fromOn),
    leadDays: offer.leadDays === null ? '' : count(offer.leadDays, 'day'),
    again: `${supplierPath(offer.supplierId)}/offers/new?like=${offer.id}`,
    withdrawn: offer.withdrawn,
  };
}
