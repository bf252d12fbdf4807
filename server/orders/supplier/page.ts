import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { supplierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showDay } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import { readSupplyOffers, readSupplyOffersAside } from '../../supplies/offered.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { shapeOffer } from '../offer/page.ts';
import { readOffers, readOffersAside } from '../offer/queries.ts';
import { shapeSupplyOffer } from '../offer/supply-page.ts';
import { SUPPLIER_FIELDS } from './form.ts';
import { readOtherTerms, readTerms, sayTerms } from './terms.ts';
import { drawTerms } from './terms-form.ts';

/** A supplier: what is offered, on what terms, and who it is. */
export function supplierPage(
  reader: Reader,
  id: number,
  asker: Asker,
  today: string,
  refused: { readonly terms?: Typed; readonly supplier?: Typed } = {},
) {
  const row = reader.first(reader.db.selectFrom('supplier').selectAll().where('id', '=', id));
  if (!row) throw unknown('such supplier');
  const terms = readTerms(reader, id, today);
  const asTyped = { name: row.name, lead_days: String(row.lead_days ?? ''), note: row.note };
  const data = {
    requestKey: mintKey(),
    id,
    offers: readOffers(reader, today, { supplierId: id }).map((offer) => shapeOffer(offer, asker)),
    /** offered before or only later, with the prices of that time behind the link */
    aside: readOffersAside(reader, today, id).map((offer) => shapeOffer(offer, asker)),
    supplies: {
      offers: readSupplyOffers(reader, today)
        .filter(({ supplierId }) => supplierId === id)
        .map((offer) => shapeSupplyOffer(offer, asker)),
      aside: readSupplyOffersAside(reader, today, id).map((offer) => shapeSupplyOffer(offer, asker)),
      newOffer: `${supplierPath(id)}/supply-offers/new`,
    },
    terms: sayTerms(terms, asker),
    otherTerms: readOtherTerms(reader, id, today).map((other) => ({
      from: showDay(other.fromOn),
      said: sayTerms(other, asker),
    })),
    fields: drawFields(SUPPLIER_FIELDS, { ...asTyped, ...refused.supplier }),
    termsFields: drawTerms(terms, asker, refused.terms),
    /** which form is open, since it was refused */
    open: refused.terms ? 'terms' : refused.supplier ? 'supplier' : '',
    newOffer: `${supplierPath(id)}/offers/new`,
  };
  return { view: 'orders/supplier/supplier', data, title: row.name, room: 'orders' } satisfies Page;
}
