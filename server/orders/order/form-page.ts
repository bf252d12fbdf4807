import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showRate } from '../../../src/quantity/rate.ts';
import { writePercent } from '../../../src/quantity/whole.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, clothChoices, shadeChoices, supplierChoices, withBlank } from '../../kit/choices.ts';
import { countTyped } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type TypedRow, typedRows } from '../../web/typed-rows.ts';
import { MOST_LINES, termsNamed } from './form.ts';
import { type Order, readOrder, refuseUnless } from './queries.ts';

export const BLANK_LINES = 4;
const LINE_FIELDS = ['cloth_id', 'shade_id', 'bolts', 'length', 'price', 'offer_id'] as const;
type LineField = (typeof LINE_FIELDS)[number];

export interface OrderFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly suppliers: readonly Choice[];
  readonly cloths: readonly Choice[];
  readonly shades: readonly Choice[];
  readonly unit: 'm' | 'yd';
  /** what prices and freight are in: the supplier's currency, once one is chosen */
  readonly currency: string;
  readonly home: string;
  readonly typed: {
    readonly supplier_id: string;
    readonly expected_on: string;
    readonly note: string;
    readonly price_per: string;
    readonly rate: string;
    readonly freight: string;
    readonly tax: string;
  };
  readonly lines: readonly TypedRow<LineField>[];
  readonly fromShort: boolean;
}

/** A new order with what was typed, or filled in with what is short. */
export function newOrderPage(
  reader: Reader,
  asker: Asker,
  today: string,
  typed: Typed,
  fromShort: boolean,
): Page {
  return formPage(reader, asker, today, typed, { action: '/orders/new', title: 'New order', fromShort });
}

/** A draft, to be changed. @throws {Refusal} conflict where it is no draft any more */
export function editOrderPage(
  reader: Reader,
  asker: Asker,
  today: string,
  code: string,
  typed?: Typed,
): Page {
  const order = readOrder(reader, code);
  refuseUnless(order, ['draft']);
  return formPage(reader, asker, today, typed ?? typedOf(order, asker), {
    action: `/orders/${code}/edit`,
    title: `Change order ${code}`,
    fromShort: false,
  });
}

function formPage(
  reader: Reader,
  asker: Asker,
  today: string,
  typed: Typed,
  about: { action: string; title: string; fromShort: boolean },
): Page {
  const data: OrderFormData = {
    requestKey: mintKey(),
    action: about.action,
    suppliers: withBlank(supplierChoices(reader), 'choose a supplier'),
    cloths: withBlank(clothChoices(reader), 'no cloth'),
    shades: withBlank(shadeChoices(reader), 'no shade'),
    unit: lengthUnit(asker.units),
    currency: termsNamed(reader, today, typed).currency,
    home: asker.currency,
    typed: {
      supplier_id: typed.supplier_id ?? '',
      expected_on: typed.expected_on ?? '',
      note: typed.note ?? '',
      price_per: typed.price_per ?? lengthUnit(asker.units),
      rate: typed.rate ?? '',
      freight: typed.freight ?? '',
      tax: typed.tax ?? '',
    },
    lines: typedLines(typed),
    fromShort: about.fromShort,
  };
  return { view: 'orders/order/form', data, title: about.title, room: 'orders' };
}

function typedLines(typed: Typed): TypedRow<LineField>[] {
  const count = Math.min(countTyped(typed, 'lines') + BLANK_LINES, MOST_LINES);
  return typedRows(typed, 'lines', LINE_FIELDS, count);
}

function typedOf(order: Order, asker: Asker): Typed {
  const perYard = order.lines.some(({ price }) => price?.perTicks === TICKS_PER.yd);
  const { terms } = order;
  return Object.fromEntries([
    ['supplier_id', String(order.supplierId)],
    ['expected_on', order.expectedOn ?? ''],
    ['note', order.note],
    ['price_per', perYard ? 'yd' : 'm'],
    ['rate', terms.currency === asker.currency ? '' : showRate(terms.rateMillionths)],
    ['freight', writeMoney(terms.freightMinor, terms.currency)],
    ['tax', writePercent(terms.taxBp)],
    ...order.lines.flatMap((line, index) => [
      [`lines.${index}.cloth_id`, String(line.clothId)],
      [`lines.${index}.shade_id`, String(line.shadeId)],
      [`lines.${index}.bolts`, line.bolts === null ? '' : String(line.bolts)],
      [`lines.${index}.length`, line.typed.length],
      [`lines.${index}.price`, line.typed.price],
      [`lines.${index}.offer_id`, line.offerId === null ? '' : String(line.offerId)],
    ]),
  ]);
}
