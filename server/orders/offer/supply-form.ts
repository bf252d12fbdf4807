import { z } from 'zod';
import type { Units } from '../../../src/quantity/length-show.ts';
import { MOST_OF_SUPPLY, readSupplyAmount } from '../../../src/supply/amount.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { chosenField } from '../../kit/choices.ts';
import {
  MOST_PRICE_MINOR,
  moneyField,
  optionalDay,
  optionalText,
  optionalWhole,
  placeField,
  rowsField,
  textField,
  tickField,
  withPlaces,
} from '../../kit/fields.ts';
import { askedAs, drawFields } from '../../kit/form-drawing.ts';
import { supplierPath, supplyOfferPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { storeTyped, type Typed, withUnit } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { dayOf } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import { supplyChoices } from '../../supplies/choices.ts';
import { readSupplyOffer } from '../../supplies/offered.ts';
import { readSupplies } from '../../supplies/store.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readTerms } from '../supplier/terms.ts';

const FIRST_ROWS = 5;
const MOST_ROWS = 20;
export const MOST_PUT_UPS = 10_000;
/** What shops call a put-up of a supply (common practice). */
export const PUT_UP_NAMES = ['tub', 'bottle', 'bag', 'cone', 'reel', 'card', 'box', 'pack'];

/** What a supplier asks for a supply. Prices are in the supplier's currency of today. */
function supplyOfferFields(reader: Reader, currency: string, { units }: Asker) {
  const priceRow = {
    put_up: optionalText({ max: 40, label: 'Put-up', size: 'short', suggest: PUT_UP_NAMES }),
    amount: textField({ max: 64, label: 'Holds', what: 'What it holds', size: 'short' }),
    price: moneyField(currency, { max: MOST_PRICE_MINOR, label: 'Price of one' }),
    from: optionalWhole({ min: 1, max: MOST_PUT_UPS, label: 'From how many' }),
  };
  const row = z.strictObject({ ...priceRow, place: placeField() });
  const list = rowsField(row, { min: 0, max: MOST_ROWS, what: 'prices', prepare: withPlaces });
  return {
    supply_id: chosenField(supplyChoices(reader, units), 'a supply', {
      label: 'Supply',
      blank: 'choose a supply',
    }),
    article: optionalText({ max: 120, label: 'Article' }),
    lead_days: optionalWhole({ min: 0, max: 730, label: 'Delivers in', unit: 'days' }),
    from_on: optionalDay({ label: 'Prices valid from' }),
    withdrawn: tickField({ label: 'No longer offered' }),
    prices: askedAs(list, { rowFields: priceRow, rows: FIRST_ROWS, spare: 1, mostRows: MOST_ROWS }),
  };
}

/** Amounts are read in the unit of the supply that the same form names. */
export function supplyOfferForm(reader: Reader, supplierId: number, today: string, asker: Asker) {
  const { currency } = readTerms(reader, supplierId, today);
  const measures = new Map(readSupplies(reader).map(({ id, measure }) => [id, measure]));
  return z.strictObject(supplyOfferFields(reader, currency, asker)).transform((form, context) => {
    const problem = (path: (string | number)[], message: string) => {
      context.issues.push({ code: 'custom', path, message, input: form });
    };
    if (!form.withdrawn && form.prices.length === 0)
      problem(['prices'], 'Give a price: what the put-up holds and what one costs.');
    const measure = measures.get(form.supply_id) ?? 'count';
    const prices = form.prices.map(({ place, put_up: putUp, amount, price, from }) => {
      const read = readSupplyAmount(amount, measure, asker.units);
      const holds = read.ok ? read.value : 0;
      if (!read.ok) problem(['prices', place, 'amount'], `Holds: ${read.reason}`);
      else if (holds < 1 || holds > MOST_OF_SUPPLY)
        problem(['prices', place, 'amount'], 'Holds: enter more than nothing.');
      return { place, putUp, amount: holds, priceMinor: price.value, fromCount: from?.value ?? 1 };
    });
    prices.forEach(({ place, amount, fromCount }, at) => {
      const before = prices.slice(0, at);
      if (amount > 0 && before.some((other) => other.amount === amount && other.fromCount === fromCount))
        problem(['prices', place, 'amount'], 'There is a price for this put-up from this number already.');
    });
    return { ...form, prices, currency };
  });
}

type SupplyOfferForm = z.output<ReturnType<typeof supplyOfferForm>>;

export function supplyOfferFormPage(
  reader: Reader,
  supplierId: number,
  today: string,
  asker: Asker,
  typed: Typed = {},
) {
  const supplier = reader.first(reader.db.selectFrom('supplier').select('name').where('id', '=', supplierId));
  if (!supplier) throw unknown('such supplier');
  const { currency } = readTerms(reader, supplierId, today);
  const data = {
    requestKey: mintKey(),
    action: `${supplierPath(supplierId)}/supply-offers/new`,
    supplier: { name: supplier.name, href: supplierPath(supplierId) },
    fields: drawFields(supplyOfferFields(reader, currency, asker), typed),
    /** false where nothing is described yet */
    any: supplyChoices(reader, asker.units).length > 0,
  };
  return {
    view: 'orders/offer/supply-form',
    data,
    title: `Supplies that ${supplier.name} offers`,
    room: 'orders',
  } satisfies Page;
}

/** The form as an older offer was typed: only what changed is typed anew. */
export function typedSupplyOffer(reader: Reader, supplierId: number, offerId: number): Typed {
  const offer = readSupplyOffer(reader, offerId);
  if (offer.supplierId !== supplierId) throw unknown('such offer');
  const { from_on: _from, withdrawn: _gone, ...typed } = offer.typed;
  return { ...typed, supply_id: String(offer.supplyId) };
}

/** Writes the prices beside the older ones of the same supply. */
export function addSupplyOffer(
  tx: Tx,
  supplierId: number,
  form: SupplyOfferForm,
  typed: Typed,
  { units }: Asker,
): Answer {
  const { lastId } = tx.run(
    tx.db.insertInto('supply_offer').values({
      supplier_id: supplierId,
      supply_id: form.supply_id,
      article: form.article,
      lead_days: form.lead_days?.value ?? null,
      from_on: form.from_on ?? dayOf(tx.at),
      currency: form.currency,
      withdrawn: form.withdrawn ? 1 : 0,
      typed: storeTyped(keptTexts(typed, units)),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  for (const { amount, fromCount, putUp, priceMinor } of form.prices) {
    tx.run(
      tx.db.insertInto('supply_offer_price').values({
        offer_id: lastId,
        amount,
        from_count: fromCount,
        put_up: putUp,
        price_minor: priceMinor,
      }),
    );
  }
  const offer = readSupplyOffer(tx, lastId);
  return {
    location: supplyOfferPath(lastId),
    said: form.withdrawn
      ? `${offer.supplierName} offers ${offer.supplyName} no longer.`
      : `The prices of ${offer.supplierName} for ${offer.supplyName} are in the book.`,
  };
}

/** What was typed, bare lengths with their unit: only of lengths is the unit the reader's own. */
function keptTexts({ supply_id: _supply, request_key: _key, ...typed }: Typed, units: Units): Typed {
  const filled = Object.entries(typed).filter(([, text]) => text !== '');
  return Object.fromEntries(
    filled.map(([name, text]) => [name, /\.amount$/.test(name) ? withUnit(text, lengthUnit(units)) : text]),
  );
}
