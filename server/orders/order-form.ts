import { z } from 'zod';
import { readLength, TICKS_PER } from '../../src/length.ts';
import { showLength } from '../../src/length-show.ts';
import { type Answer, nextId, type Reader, type Tx } from '../database/book.ts';
import {
  type Choice,
  chosenField,
  clothChoices,
  shadeChoices,
  supplierChoices,
  withBlank,
} from '../shelf/choices.ts';
import { lengthUnit } from '../shelf/received-rows.ts';
import { readShort, type ShortLine } from '../short/queries.ts';
import type { Typed } from '../web/body.ts';
import {
  choiceField,
  lengthField,
  optionalDay,
  optionalMoney,
  optionalText,
  rowsField,
} from '../web/fields.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page.ts';
import { mintKey } from '../web/request-key.ts';
import { type Order, readOrder, refuseUnless } from './queries.ts';

const MOST_LINES = 60;
const BLANK_LINES = 4;
const MOST_PRICE_MINOR = 1_000_000_000;

export interface OrderFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly suppliers: readonly Choice[];
  readonly cloths: readonly Choice[];
  readonly shades: readonly Choice[];
  readonly unit: 'm' | 'yd';
  readonly currency: string;
  readonly typed: {
    readonly supplier_id: string;
    readonly expected_on: string;
    readonly note: string;
    readonly price_per: string;
  };
  readonly lines: readonly TypedLine[];
  readonly fromShort: boolean;
}

interface TypedLine {
  readonly index: number;
  readonly cloth_id: string;
  readonly shade_id: string;
  readonly length: string;
  readonly price: string;
}

export function orderForm(reader: Reader, asker: Asker) {
  const line = z.strictObject({
    cloth_id: chosenField(clothChoices(reader), 'a cloth'),
    shade_id: chosenField(shadeChoices(reader), 'a shade'),
    length: lengthField(lengthUnit(asker.units)),
    price: optionalMoney(asker.currency, { max: MOST_PRICE_MINOR }),
  });
  return z.strictObject({
    supplier_id: chosenField(supplierChoices(reader), 'a supplier'),
    expected_on: optionalDay(),
    note: optionalText({ max: 2000, lines: true }),
    price_per: choiceField(['m', 'yd'], 'what the prices are for'),
    lines: rowsField(line, { max: MOST_LINES, what: 'lines' }),
  });
}

type OrderForm = z.output<ReturnType<typeof orderForm>>;

/** A new order: empty, or with a line for everything that is short. */
export function newOrderPage(reader: Reader, asker: Asker, from: Typed & { readonly from?: string }): Page {
  const drawn = Object.keys(from).some((name) => name.includes('.'));
  const typed = from.from === 'short' && !drawn ? typedFromShort(reader, asker) : from;
  return formPage(reader, asker, typed, {
    action: '/orders/new',
    title: 'New order',
    fromShort: from.from === 'short',
  });
}

/** A draft, to be changed. @throws {Refusal} conflict where it is no draft any more */
export function editOrderPage(reader: Reader, asker: Asker, code: string, typed?: Typed): Page {
  const order = readOrder(reader, code);
  refuseUnless(order, ['draft']);
  return formPage(reader, asker, typed ?? typedOf(order), {
    action: `/orders/${code}/edit`,
    title: `Change order ${code}`,
    fromShort: false,
  });
}

export function draftOrder(tx: Tx, form: OrderForm, asker: Asker): Answer {
  const code = `P${nextId(tx, 'order')}`;
  const { lastId } = tx.run(
    tx.db.insertInto('order').values({
      code,
      supplier_id: form.supplier_id,
      note: form.note,
      drafted_at: tx.at,
      expected_on: form.expected_on,
      sent_at: null,
      closed_at: null,
      cancelled_at: null,
    }),
  );
  putLines(tx, lastId, form, asker);
  return { location: `/orders/${code}`, said: `Order ${code} is drafted. It is not sent yet.` };
}

export function changeDraft(tx: Tx, code: string, form: OrderForm, asker: Asker): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['draft']);
  tx.run(
    tx.db
      .updateTable('order')
      .set({ supplier_id: form.supplier_id, note: form.note, expected_on: form.expected_on })
      .where('id', '=', order.id),
  );
  // Nothing points at the lines of a draft yet.
  tx.run(tx.db.deleteFrom('order_line').where('order_id', '=', order.id));
  putLines(tx, order.id, form, asker);
  return { location: `/orders/${code}`, said: `Order ${code} is changed.` };
}

function putLines(tx: Tx, orderId: number, form: OrderForm, asker: Asker): void {
  const unit = lengthUnit(asker.units);
  for (const line of form.lines) {
    tx.run(
      tx.db.insertInto('order_line').values({
        order_id: orderId,
        cloth_id: line.cloth_id,
        shade_id: line.shade_id,
        length_ticks: line.length.value,
        price_minor: line.price?.value ?? null,
        price_ticks: line.price ? TICKS_PER[form.price_per] : null,
        typed: JSON.stringify({ length: withUnit(line.length.typed, unit), price: line.price?.typed ?? '' }),
      }),
    );
  }
}

/** A bare number takes the unit it was typed under, so that it reads the same for whoever opens it next. */
function withUnit(typed: string, unit: 'm' | 'yd'): string {
  const other = readLength(typed, unit === 'm' ? 'yd' : 'm');
  const own = readLength(typed, unit);
  return own.ok && other.ok && own.value !== other.value ? `${typed} ${unit}` : typed;
}

function formPage(
  reader: Reader,
  asker: Asker,
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
    currency: asker.currency,
    typed: {
      supplier_id: typed.supplier_id ?? '',
      expected_on: typed.expected_on ?? '',
      note: typed.note ?? '',
      price_per: typed.price_per ?? lengthUnit(asker.units),
    },
    lines: typedLines(typed),
    fromShort: about.fromShort,
  };
  return { view: 'orders/form', data, title: about.title, room: 'orders' };
}

function typedLines(typed: Typed): TypedLine[] {
  const numbers = Object.keys(typed).map((name) => Number(/^lines\.(\d+)\./.exec(name)?.[1] ?? -1));
  const count = Math.min(Math.max(...numbers, -1) + 1 + BLANK_LINES, MOST_LINES);
  return Array.from({ length: count }, (_, index) => {
    const cell = (name: string) => typed[`lines.${index}.${name}`] ?? '';
    return {
      index,
      cloth_id: cell('cloth_id'),
      shade_id: cell('shade_id'),
      length: cell('length'),
      price: cell('price'),
    };
  });
}

function typedFromShort(reader: Reader, asker: Asker): Typed {
  const lines = readShort(reader).filter((line) => line.toOrderStrips > 0);
  return Object.fromEntries(
    lines.slice(0, MOST_LINES - BLANK_LINES).flatMap((line, index) => [
      [`lines.${index}.cloth_id`, String(line.cloth.id)],
      [`lines.${index}.shade_id`, String(line.shade.id)],
      [`lines.${index}.length`, lengthToOrder(line, asker)],
    ]),
  );
}

/** What is short, rounded up to what a shop cuts: 10 cm or an eighth of a yard (common practice). */
function lengthToOrder(line: ShortLine, asker: Asker): string {
  // Strips that are longer than the cloth is wide have no length to get: the line is left for the person to fill.
  if (line.toOrderTicks === null) return '';
  const stepTicks = asker.units.system === 'metric' ? TICKS_PER.m / 10 : TICKS_PER.yd / 8;
  const steps = Math.floor((line.toOrderTicks + stepTicks - 1) / stepTicks);
  return showLength(steps * stepTicks, asker.units, 'up').replace(/^≈ /, '');
}

function typedOf(order: Order): Typed {
  return Object.fromEntries([
    ['supplier_id', String(order.supplierId)],
    ['expected_on', order.expectedOn ?? ''],
    ['note', order.note],
    ['price_per', order.lines.find((line) => line.price)?.price?.perTicks === TICKS_PER.yd ? 'yd' : 'm'],
    ...order.lines.flatMap((line, index) => [
      [`lines.${index}.cloth_id`, String(line.clothId)],
      [`lines.${index}.shade_id`, String(line.shadeId)],
      [`lines.${index}.length`, line.typed.length],
      [`lines.${index}.price`, line.typed.price],
    ]),
  ]);
}
