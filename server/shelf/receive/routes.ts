import type { FastifyInstance } from 'fastify';
import { orProblems } from '../../refusal.ts';
import { answering } from '../../web/answering.ts';
import { withoutKey } from '../../web/body.ts';
import type { House } from '../../web/house.ts';
import { readForm } from '../../web/post.ts';
import { receiveCheckPage } from './check-page.ts';
import { claimPage } from './claim-page.ts';
import { refuseKnown } from './described.ts';
import { deliveryForm, receiveDelivery, receivePage, startedRow } from './form.ts';
import { INVOICE_FORM, setInvoiceNumber } from './invoice.ts';
import { receiptPage } from './receipt-page.ts';
import { FIRST_ROWS, rowsIn } from './rows.ts';

/** Receiving is drawn, checked and only then put on the shelf: a receipt is created by its own address. */
export function receiveRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showKeyedPage, showPage, takeForm } = answering(app, house, { GET: 'keeper', POST: 'keeper' });
  showKeyedPage('/shelf/receive', ({ asker, query }) => receivePage(book, asker, startedRow(book, query)));

  // Writes nothing: draws more rows, the rows once more, or what was understood of them.
  takeForm('/shelf/receive', ({ asker, body, typed, show }) => {
    const { step, ...asked } = withoutKey(body);
    if (step === 'more') return show(receivePage(book, asker, typed, rowsIn(typed) + FIRST_ROWS));
    if (step === 'edit') return show(receivePage(book, asker, typed));
    const { value: form, problems } = orProblems(() => {
      const read = readForm(deliveryForm(book, asker), asked);
      refuseKnown(book, read);
      return read;
    });
    if (form) return show(receiveCheckPage(book, form, typed, asker));
    return show({ ...receivePage(book, asker, typed), problems });
  });
  takeForm('/shelf/receipts', ({ asker, save }) =>
    save({
      schema: deliveryForm(book, asker),
      write: receiveDelivery,
      redraw: (typed) => receivePage(book, asker, typed),
    }),
  );

  showPage('/shelf/receipts/:id', ({ id, asker }) => receiptPage(book, id, asker));
  takeForm('/shelf/receipts/:id/numbers', ({ id, asker, save }) =>
    save({
      schema: INVOICE_FORM,
      write: (tx, form) => setInvoiceNumber(tx, id, form),
      redraw: (typed) => receiptPage(book, id, asker, typed),
    }),
  );
  showPage('/shelf/receipts/:id/claim', ({ id, asker, today }) => claimPage(book, id, asker, today));
}
