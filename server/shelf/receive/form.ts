import { z } from 'zod';
import { costOfParts, landedCosts } from '../../../src/buying/landed.ts';
import { EVEN_RATE_MILLIONTHS } from '../../../src/quantity/rate.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { queryNumber, queryText } from '../../kit/address.ts';
import { clothChoices, optionalChosen, shadeChoices, supplierChoices } from '../../kit/choices.ts';
import { MOST_PRICE_MINOR, optionalMoney, optionalText } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { receiptPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { listCodes } from '../../kit/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { count } from '../piece/list.ts';
import { INVOICE_FIELDS } from './invoice.ts';
import { type ReceivedPiece, receivePieces } from './receiving.ts';
import { asReceivedPieces, FIRST_ROWS, MOST_ROWS, receivedRows, sharedByField } from './rows.ts';

/** A delivery without an order: who it came from, and its pieces. */
function deliveryFields(reader: Reader, asker: Asker) {
  return {
    supplier_id: optionalChosen(supplierChoices(reader), 'a supplier', {
      label: 'From',
      blank: 'no supplier',
    }),
    note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text' }),
    ...INVOICE_FIELDS,
    freight: optionalMoney(asker.currency, { max: MOST_PRICE_MINOR, label: 'Freight on top' }),
    share_by: sharedByField(),
    pieces: receivedRows(reader, asker),
  };
}

export function deliveryForm(reader: Reader, asker: Asker) {
  return z.strictObject(deliveryFields(reader, asker));
}

export type DeliveryForm = z.output<ReturnType<typeof deliveryForm>>;

/** What each piece costs where it lies by parts, in the order of the pieces: its price and its share of the freight. */
export function costsOfDelivery(form: DeliveryForm, pieces: readonly ReceivedPiece[], currency: string) {
  return landedCosts(
    pieces.map(({ costMinor, lengthTicks }) => ({ priceMinor: costMinor, lengthTicks, isCut: false })),
    {
      discountBp: 0,
      cutFeesMinor: 0,
      freightMinor: form.freight?.value ?? 0,
      taxBp: 0,
      taxReclaimed: false,
      shareBy: form.share_by,
      exchange: { from: currency, to: currency, rateMillionths: EVEN_RATE_MILLIONTHS },
    },
  ).pieces;
}

/** The form for a delivery, with what was typed and at least `rows` rows. */
export function receivePage(reader: Reader, asker: Asker, typed: Typed = {}, rows = FIRST_ROWS) {
  const missing = [
    { text: 'Describe the first cloth', href: '/shelf/cloths/new', there: clothChoices(reader) },
    { text: 'Name the first shade', href: '/shelf/shades/new', there: shadeChoices(reader) },
  ];
  const fields = deliveryFields(reader, asker);
  const drawn = drawFields(fields, { share_by: 'value', ...typed }, { pieces: rows });
  const data = {
    requestKey: mintKey(),
    fields: drawn,
    /** true where no more rows can be drawn: one delivery holds so many pieces */
    full: drawn.pieces.length >= MOST_ROWS,
    /** what must be described before anything can be received */
    missing: missing.filter(({ there }) => there.length === 0).map(({ text, href }) => ({ text, href })),
  };
  return { view: 'shelf/receive/receive', data, title: 'Receive pieces', room: 'shelf' } satisfies Page;
}

/** A cloth and shade that the address names stand in the first row; who delivers is the cloth's own supplier. */
export function startedRow(reader: Reader, query: unknown): Typed {
  const clothId = queryNumber(query, 'cloth');
  const supplierId = clothId === null ? null : reader.first(supplierOf(clothId))?.supplier_id;
  return {
    supplier_id: String(supplierId ?? ''),
    'pieces.0.cloth_id': queryText(query, 'cloth'),
    'pieces.0.shade_id': queryText(query, 'shade'),
  };
}

const supplierOf = prepared((db, clothId: Param<number>) =>
  db.selectFrom('cloth').select('supplier_id').where('id', '=', clothId),
);

/** Puts a delivery on the shelf. */
export function receiveDelivery(tx: Tx, form: DeliveryForm, asker: Asker): Answer {
  const asked = asReceivedPieces(form.pieces);
  const landed = costsOfDelivery(form, asked, asker.currency);
  const { receiptId, pieces } = receivePieces(
    tx,
    { supplierId: form.supplier_id, note: form.note, invoiceNumber: form.invoice_number },
    landed.flatMap((parts, at) => {
      const piece = asked[at];
      return piece ? [{ ...piece, costMinor: costOfParts(parts), parts, shareBy: form.share_by }] : [];
    }),
  );
  const codes = pieces.map(({ code }) => code);
  return {
    location: receiptPath(receiptId),
    said: `${count(pieces.length, 'piece')} put on the shelf: ${listCodes(codes)}.`,
  };
}
