import { z } from 'zod';
import { MOST_LENGTH_TICKS, TICKS_PER } from '../../../src/quantity/length.ts';
import type { PricePerLength } from '../../../src/quantity/money.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { chosenField, clothChoices, optionalChosen, shadeChoices } from '../../kit/choices.ts';
import {
  lengthField,
  MOST_PRICE_MINOR,
  moneyField,
  optionalDay,
  optionalLength,
  optionalText,
  optionalWhole,
  rowsField,
  tickField,
} from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { supplierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { storeTyped, withUnits } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { dayOf } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import { readShopStepTicks } from '../../setup/rates/store.ts';
import { MOST_WIDTH_TICKS } from '../../shelf/cloth/form.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { MOST_BOLT_TICKS, pricePerField } from '../order/form.ts';
import { readTerms } from '../supplier/terms.ts';
import { showStep } from './put-up-words.ts';
import { type Offer, readOffer } from './queries.ts';

const BOLT_ROWS = 5;
const PRICE_ROWS = 4;
const MOST_ROWS = 12;
const MOST_STEP_TICKS = 1000 * TICKS_PER.m;

/** What a supplier asks for a cloth. Prices are in the supplier's currency of today. */
function offerFields(reader: Reader, currency: string, { units }: Asker) {
  const unit = lengthUnit(units);
  const price = { max: MOST_PRICE_MINOR, required: false };
  return {
    cloth_id: chosenField(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'choose a cloth' }),
    shade_id: optionalChosen(shadeChoices(reader), 'a shade', { label: 'Shade', blank: 'any shade' }),
    article: optionalText({ max: 120, label: 'Article' }),
    width: optionalLength(sizeUnit(units), {
      min: 1,
      max: MOST_WIDTH_TICKS,
      what: 'width',
      label: 'Usable width',
    }),
    lead_days: optionalWhole({ min: 0, max: 730, label: 'Delivers in', unit: 'days' }),
    from_on: optionalDay({ label: 'Prices valid from' }),
    price_per: pricePerField(),
    step: optionalLength(unit, { min: 1, max: MOST_STEP_TICKS, what: 'step', label: 'Cut every' }),
    least: optionalLength(unit, { max: MOST_LENGTH_TICKS, what: 'least length', label: 'At least' }),
    withdrawn: tickField({ label: 'No longer offered' }),
    bolts: rowsField(
      z.strictObject({
        length: lengthField(unit, { max: MOST_BOLT_TICKS, what: 'length of one bolt', label: 'Bolt of' }),
        price: moneyField(currency, { ...price, label: 'Price of the bolt' }),
      }),
      { min: 0, max: MOST_ROWS, rows: BOLT_ROWS, what: 'bolts' },
    ),
    prices: rowsField(
      z.strictObject({
        length: optionalLength(unit, { max: MOST_LENGTH_TICKS, label: 'From' }),
        price: moneyField(currency, { ...price, label: 'Price' }),
      }),
      { min: 0, max: MOST_ROWS, rows: PRICE_ROWS, what: 'prices' },
    ),
  };
}

export function offerForm(reader: Reader, supplierId: number, today: string, asker: Asker) {
  const { currency } = readTerms(reader, supplierId, today);
  return z.strictObject(offerFields(reader, currency, asker)).transform((form, context) => {
    const problem = (path: (string | number)[], message: string) => {
      context.issues.push({ code: 'custom', path, message, input: form });
    };
    if (!form.withdrawn && form.bolts.length + form.prices.length === 0)
      problem(['bolts'], 'Give a price: of a bolt, or by the length.');
    twice(form.bolts.map(({ length }) => length.value)).forEach((row) => {
      problem(['bolts', row, 'length'], 'There is a bolt of this length already.');
    });
    twice(form.prices.map(({ length }) => length?.value ?? 0)).forEach((row) => {
      problem(['prices', row, 'length'], 'There is a price from this length already.');
    });
    if (form.prices.length > 0 && !form.prices.some(({ length }) => (length?.value ?? 0) === 0))
      problem(['prices', 0, 'length'], 'Leave the first length blank: its price is for any length.');
    return { ...form, currency };
  });
}

type OfferForm = z.output<ReturnType<typeof offerForm>>;

/** The places of values that were there before. */
function twice(values: readonly number[]): number[] {
  return values.flatMap((value, i) => (values.indexOf(value) < i ? [i] : []));
}

export function offerFormPage(
  reader: Reader,
  supplierId: number,
  today: string,
  asker: Asker,
  typed: Typed = {},
) {
  const supplier = reader.first(reader.db.selectFrom('supplier').select('name').where('id', '=', supplierId));
  if (!supplier) throw unknown('such supplier');
  const { currency } = readTerms(reader, supplierId, today);
  const usual = { price_per: lengthUnit(asker.units), step: usualStep(reader, asker) };
  const data = {
    requestKey: mintKey(),
    action: `${supplierPath(supplierId)}/offers/new`,
    supplier: { name: supplier.name, href: supplierPath(supplierId) },
    fields: drawFields(offerFields(reader, currency, asker), { ...usual, ...typed }),
  };
  return {
    view: 'orders/offer/form',
    data,
    title: `What ${supplier.name} offers`,
    room: 'orders',
  } satisfies Page;
}

/** The step that shops cut to, exactly, as somebody would type it. */
function usualStep(reader: Reader, { units: { system } }: Asker): string {
  return showStep(readShopStepTicks(reader, system), { system, stepTicks: 1 });
}

/** The form as an older offer was typed: only what changed is typed anew. */
export function typedOffer(reader: Reader, supplierId: number, offerId: number): Typed {
  const offer = readOffer(reader, offerId);
  if (offer.supplierId !== supplierId) throw unknown('such offer');
  const { from_on: _from, withdrawn: _gone, ...typed } = offer.typed;
  return { ...typed, cloth_id: String(offer.clothId), shade_id: String(offer.shadeId ?? '') };
}

/** Writes the prices beside the older ones of the same cloth and shade. */
export function addOffer(tx: Tx, supplierId: number, form: OfferForm, typed: Typed, asker: Asker): Answer {
  const usualStep = readShopStepTicks(tx, form.price_per === 'm' ? 'metric' : 'imperial');
  const perTicks = TICKS_PER[form.price_per];
  const id = putOffer(tx, {
    supplierId,
    clothId: form.cloth_id,
    shadeId: form.shade_id,
    article: form.article,
    widthTicks: form.width?.value ?? null,
    leadDays: form.lead_days?.value ?? null,
    fromOn: form.from_on ?? dayOf(tx.at),
    currency: form.currency,
    withdrawn: form.withdrawn,
    typed: keptOf(typed, asker),
    bolts: form.bolts.map(({ length, price }) => ({ lengthTicks: length.value, priceMinor: price.value })),
    byLength:
      form.prices.length === 0
        ? null
        : {
            stepTicks: form.step?.value || usualStep,
            leastTicks: form.least?.value ?? 0,
            prices: form.prices.map(({ length, price }) => ({
              fromTicks: length?.value ?? 0,
              price: { minor: price.value, perTicks },
            })),
          },
  });
  const offer = readOffer(tx, id);
  const what = `${offer.clothName}${offer.shade ? `, ${offer.shade.name}` : ''}`;
  return {
    location: `/orders/offers/${id}`,
    said: form.withdrawn
      ? `${offer.supplierName} offers ${what} no longer.`
      : `The prices of ${offer.supplierName} for ${what} are in the book.`,
  };
}

/** An offer to be written down: what it is of, from when, and how it is put up. */
export type NewOffer = Omit<Offer, 'id' | 'supplierName' | 'clothName' | 'clothUsableTicks' | 'shade'>;

/** Writes an offer down. Gives its number. */
export function putOffer(tx: Tx, offer: NewOffer): number {
  const { bolts, byLength } = offer;
  const { lastId } = tx.run(
    tx.db.insertInto('offer').values({
      supplier_id: offer.supplierId,
      cloth_id: offer.clothId,
      shade_id: offer.shadeId,
      article: offer.article,
      width_ticks: offer.widthTicks,
      lead_days: offer.leadDays,
      from_on: offer.fromOn,
      currency: offer.currency,
      step_ticks: byLength?.stepTicks ?? null,
      least_ticks: byLength?.leastTicks ?? null,
      withdrawn: offer.withdrawn ? 1 : 0,
      typed: storeTyped(offer.typed),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  const put = (put_up: 'bolt' | 'length', length_ticks: number, price: PricePerLength) =>
    tx.run(
      tx.db.insertInto('offer_price').values({
        offer_id: lastId,
        put_up,
        length_ticks,
        price_minor: price.minor,
        price_ticks: price.perTicks,
      }),
    );
  for (const { lengthTicks, priceMinor } of bolts)
    put('bolt', lengthTicks, { minor: priceMinor, perTicks: lengthTicks });
  for (const { fromTicks, price } of byLength?.prices ?? []) put('length', fromTicks, price);
  return lastId;
}

function keptOf({ cloth_id: _cloth, shade_id: _shade, ...typed }: Typed, { units }: Asker) {
  return withUnits(typed, units, { lengths: /(^|\.)(length|step|least)$/, sizes: /^width$/ });
}
