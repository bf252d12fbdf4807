import { z } from 'zod';
import { MOST_LENGTH_TICKS, TICKS_PER } from '../../../src/quantity/length.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import {
  type Choice,
  chosenField,
  clothChoices,
  optionalChosen,
  shadeChoices,
  withBlank,
} from '../../kit/choices.ts';
import {
  choiceField,
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
import { supplierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { storeTyped, withUnits } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { dayOf } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import { readShopStepTicks } from '../../setup/rates/store.ts';
import { MOST_WIDTH_TICKS } from '../../shelf/receive/rows.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { countTyped, type TypedRow, typedRows } from '../../web/typed-rows.ts';
import { MOST_BOLT_TICKS } from '../order/form.ts';
import { showStep } from './put-up-words.ts';
import { readOffer } from './queries.ts';
import { readTerms } from './terms.ts';

const BOLT_ROWS = 5;
const PRICE_ROWS = 4;
const MOST_ROWS = 12;
const MOST_STEP_TICKS = 1000 * TICKS_PER.m;

export interface OfferFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly supplier: { readonly name: string; readonly href: string };
  readonly currency: string;
  readonly cloths: readonly Choice[];
  readonly shades: readonly Choice[];
  readonly unit: 'm' | 'yd';
  readonly sizeUnit: 'cm' | 'in';
  readonly typed: Readonly<Record<string, string>>;
  readonly bolts: readonly TypedPrice[];
  readonly prices: readonly TypedPrice[];
}

type TypedPrice = TypedRow<'length' | 'price'>;

/** What a supplier asks for a cloth. Prices are in the supplier's currency of today. */
export function offerForm(reader: Reader, supplierId: number, today: string, asker: Asker) {
  const { currency } = readTerms(reader, supplierId, today);
  const unit = lengthUnit(asker.units);
  const money = () => moneyField(currency, { max: MOST_PRICE_MINOR });
  return z
    .strictObject({
      cloth_id: chosenField(clothChoices(reader), 'a cloth'),
      shade_id: optionalChosen(shadeChoices(reader), 'a shade'),
      article: optionalText({ max: 120 }),
      width: optionalLength(sizeUnit(asker.units), { min: 1, max: MOST_WIDTH_TICKS, what: 'width' }),
      lead_days: optionalWhole({ min: 0, max: 730 }),
      from_on: optionalDay(),
      price_per: choiceField(['m', 'yd'], 'what the prices are for'),
      step: optionalLength(unit, { min: 1, max: MOST_STEP_TICKS, what: 'step' }),
      least: optionalLength(unit, { max: MOST_LENGTH_TICKS, what: 'least length' }),
      withdrawn: tickField(),
      bolts: rowsField(
        z.strictObject({
          length: lengthField(unit, { max: MOST_BOLT_TICKS, what: 'length of one bolt' }),
          price: money(),
        }),
        { min: 0, max: MOST_ROWS, what: 'bolts' },
      ),
      prices: rowsField(
        z.strictObject({ length: optionalLength(unit, { max: MOST_LENGTH_TICKS }), price: money() }),
        { min: 0, max: MOST_ROWS, what: 'prices' },
      ),
    })
    .transform((form, context) => {
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
): Page {
  const supplier = reader.first(reader.db.selectFrom('supplier').select('name').where('id', '=', supplierId));
  if (!supplier) throw unknown('such supplier');
  const unit = lengthUnit(asker.units);
  const text = (name: string, otherwise = '') => typed[name] ?? otherwise;
  const rows = (list: string, least: number) => typedPrices(typed, list, least);
  const data: OfferFormData = {
    requestKey: mintKey(),
    action: `${supplierPath(supplierId)}/offers/new`,
    supplier: { name: supplier.name, href: supplierPath(supplierId) },
    currency: readTerms(reader, supplierId, today).currency,
    cloths: withBlank(clothChoices(reader), 'choose a cloth'),
    shades: withBlank(shadeChoices(reader), 'any shade'),
    unit,
    sizeUnit: sizeUnit(asker.units),
    typed: {
      cloth_id: text('cloth_id'),
      shade_id: text('shade_id'),
      article: text('article'),
      width: text('width'),
      lead_days: text('lead_days'),
      from_on: text('from_on'),
      price_per: text('price_per', unit),
      step: text('step', usualStep(reader, asker)),
      least: text('least'),
      withdrawn: text('withdrawn'),
    },
    bolts: rows('bolts', BOLT_ROWS),
    prices: rows('prices', PRICE_ROWS),
  };
  return { view: 'orders/offer/form', data, title: `What ${supplier.name} offers`, room: 'orders' };
}

/** The step that shops cut to, exactly, as somebody would type it. */
function usualStep(reader: Reader, { units: { system } }: Asker): string {
  return showStep(readShopStepTicks(reader, system), { system, stepTicks: 1 });
}

function typedPrices(typed: Typed, list: string, least: number): TypedPrice[] {
  const count = Math.min(Math.max(least, countTyped(typed, list)), MOST_ROWS);
  return typedRows(typed, list, ['length', 'price'], count);
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
  const byLength = form.prices.length > 0;
  const perTicks = TICKS_PER[form.price_per];
  const usualStep = readShopStepTicks(tx, form.price_per === 'm' ? 'metric' : 'imperial');
  const { lastId } = tx.run(
    tx.db.insertInto('offer').values({
      supplier_id: supplierId,
      cloth_id: form.cloth_id,
      shade_id: form.shade_id,
      article: form.article,
      width_ticks: form.width?.value ?? null,
      lead_days: form.lead_days?.value ?? null,
      from_on: form.from_on ?? dayOf(tx.at),
      currency: form.currency,
      step_ticks: byLength ? form.step?.value || usualStep : null,
      least_ticks: byLength ? (form.least?.value ?? 0) : null,
      withdrawn: form.withdrawn ? 1 : 0,
      typed: storeTyped(keptOf(typed, asker)),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  const price = (put_up: 'bolt' | 'length', length_ticks: number, minor: number, ticks: number) =>
    tx.run(
      tx.db.insertInto('offer_price').values({
        offer_id: lastId,
        put_up,
        length_ticks,
        price_minor: minor,
        price_ticks: ticks,
      }),
    );
  for (const { length, price: asked } of form.bolts) price('bolt', length.value, asked.value, length.value);
  for (const { length, price: asked } of form.prices)
    price('length', length?.value ?? 0, asked.value, perTicks);
  const offer = readOffer(tx, lastId);
  const what = `${offer.clothName}${offer.shade ? `, ${offer.shade.name}` : ''}`;
  return {
    location: `/orders/offers/${lastId}`,
    said: form.withdrawn
      ? `${offer.supplierName} offers ${what} no longer.`
      : `The prices of ${offer.supplierName} for ${what} are in the book.`,
  };
}

function keptOf({ cloth_id: _cloth, shade_id: _shade, ...typed }: Typed, { units }: Asker) {
  return withUnits(typed, units, { lengths: /(^|\.)(length|step|least)$/, sizes: /^width$/ });
}
