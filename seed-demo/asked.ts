import { reservationForm, reserve } from '../server/orders/asked/reservation.ts';
import { answerForm, answerSample, askForSample, sampleForm } from '../server/orders/asked/sample.ts';
import { NUMBER_FORM, setSupplierNumber } from '../server/orders/order/verbs.ts';
import { creditForm, noteCredit, readReturns } from '../server/orders/returned/store.ts';
import { INVOICE_FORM, setInvoiceNumber } from '../server/shelf/receive/invoice.ts';
import { readAsker } from '../server/web/house.ts';
import type { Hand } from './hand.ts';

/** A sample is asked for, and the papers of the first delivery get the supplier’s numbers. */
export function askForFirstSample(hand: Hand): void {
  const receipt = hand.book.first(hand.book.db.selectFrom('receipt').select('id').where('order_id', '=', 1));
  hand.fillsIn(
    hand.before(20, '09:00'),
    'Oda',
    { supplier_number: 'CS-20418' },
    { schema: () => NUMBER_FORM, write: (tx, form) => setSupplierNumber(tx, 'P1', form) },
  );
  hand.fillsIn(
    hand.before(20, '09:02'),
    'Oda',
    { invoice_number: 'INV-7731' },
    { schema: () => INVOICE_FORM, write: (tx, form) => setInvoiceNumber(tx, receipt?.id ?? 0, form) },
  );
  askFor(hand, hand.before(20, '09:05'), {
    supplier_id: hand.id('supplier', 'Skerry Silk and Net'),
    cloth_id: hand.id('cloth', 'Nylon organza 150'),
    shade_id: hand.id('shade', 'Harbour ink'),
    note: 'Invented colour 41.',
  });
}

/** The credit of what went back comes. */
export function takeCredit(hand: Hand): void {
  const [sent] = readReturns(hand.book, readAsker(hand.book, Number(hand.id('person', 'Oda'))));
  hand.fillsIn(
    hand.before(12, '15:40'),
    'Oda',
    { credit: '5.00', come_on: hand.day(-12), number: 'CN-118' },
    { schema: creditForm, write: (tx, form, asker) => noteCredit(tx, sent?.id ?? 0, form, asker) },
  );
}

/** The sample is judged and its colour kept back by the bolt; another is asked for. */
export function judgeFirstSample(hand: Hand): void {
  hand.fillsIn(
    hand.before(2, '20:30'),
    'Tamsin',
    { came_on: hand.day(-9), verdict: 'right', note: 'Invented colour 41; right by lantern light.' },
    { schema: () => answerForm(hand.book), write: (tx, form) => answerSample(tx, 1, form) },
  );
  const kept = {
    supplier_id: hand.id('supplier', 'Skerry Silk and Net'),
    cloth_id: hand.id('cloth', 'Nylon organza 150'),
    shade_id: hand.id('shade', 'Harbour ink'),
    length: '80 yd',
    until_on: hand.day(2),
    note: 'Two bolts of invented lot 9-S, until the order is sent.',
  };
  hand.fillsIn(hand.before(2, '20:34'), 'Oda', kept, {
    schema: (asker) => reservationForm(hand.book, asker),
    write: reserve,
  });
  askFor(hand, hand.before(2, '20:38'), {
    supplier_id: hand.id('supplier', 'Marram Net and Lawn'),
    cloth_id: hand.id('cloth', 'Nylon net 140'),
    note: 'Two weights of their grey.',
  });
}

function askFor(hand: Hand, when: string, asked: object): void {
  hand.fillsIn(when, 'Oda', asked, { schema: () => sampleForm(hand.book), write: askForSample });
}
