import { draftOrder, orderForm } from '../server/orders/order/form.ts';
import { readOrder } from '../server/orders/order/queries.ts';
import { sendOrder } from '../server/orders/order/verbs.ts';
import { receiveForm } from '../server/orders/receive/form.ts';
import { receiveOrder } from '../server/orders/receive/verbs.ts';
import type { Hand } from './hand.ts';

type Line = [cloth: string, shade: string, length: string, pricePerMetre: string];

/** Writes an order down. Gives its code. */
export function draft(
  hand: Hand,
  when: string,
  order: {
    readonly who: string;
    readonly supplier: string;
    readonly expected: string;
    readonly note: string;
    readonly lines: readonly Line[];
  },
): string {
  const asked = {
    supplier_id: hand.id('supplier', order.supplier),
    expected_on: order.expected,
    note: order.note,
    price_per: 'm',
    lines: order.lines.map(([cloth, shade, length, price]) => ({
      cloth_id: hand.id('cloth', cloth),
      shade_id: hand.id('shade', shade),
      length,
      price,
    })),
  };
  const key = hand.fillsIn(when, order.who, asked, {
    schema: (asker) => orderForm(hand.book, asker, hand.day(0)),
    write: draftOrder,
  });
  return hand.book.answerOf(key)?.location.split('/').at(-1) ?? '';
}

export function send(hand: Hand, when: string, who: string, code: string): void {
  hand.writes(when, who, { code }, (tx) => sendOrder(tx, code));
}

type Came = [line: number, length: string, lot: string, place: string];

/** Takes in what came of an order: lines are counted from 0. */
export function receive(hand: Hand, when: string, who: string, code: string, came: readonly Came[]): void {
  const { lines } = readOrder(hand.book, code);
  const pieces = came.map(([line, length, lot, place]) => ({
    line_id: String(lines[line]?.id ?? ''),
    length,
    mill_lot: lot,
    place_id: hand.id('place', place),
  }));
  hand.fillsIn(
    when,
    who,
    { note: 'Invented delivery note.', pieces },
    {
      schema: (asker) => receiveForm(hand.book, asker, readOrder(hand.book, code)),
      write: (tx, form, asker) => receiveOrder(tx, code, form, asker),
    },
  );
}
