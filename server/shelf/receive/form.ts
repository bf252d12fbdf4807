import { z } from 'zod';
import { costOfParts, landedCosts } from '../../../src/buying/landed.ts';
import { EVEN_RATE_MILLIONTHS } from '../../../src/quantity/rate.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { queryNumber, queryText } from '../../kit/address.ts';
import { clothChoices, optionalChosen, supplierChoices } from '../../kit/choices.ts';
import { MOST_PRICE_MINOR, optionalMoney, optionalText } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { receiptPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { listCodes, listed } from '../../kit/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { count } from '../piece/list.ts';
import { checkDescribed, describedFields, describedRows, putDescribed } from './described.ts';
import { INVOICE_FIELDS } from './invoice.ts';
import { type ReceivedPiece, receivePieces } from './receiving.ts';
import { asReceivedPieces, FIRST_ROWS, MOST_ROWS, receivedRows, sharedByField } from './rows.ts';

/** A delivery without an order: who it came from, and its pieces. */
function deliveryFields(reader: Reader, asker: Asker, typed?: Typed) {
  return {
    supplier_id: optionalChosen(supplierChoices(reader), 'a supplier', {
      label: 'From',
      blank: 'no supplier',
    }),
    note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text' }),
    ...INVOICE_FIELDS,
    freight: optionalMoney(asker.currency, { max: MOST_PRICE_MINOR, label: 'Freight on top' }),
    share_by: sharedByField(),
    ...describedFields(reader, asker.units),
    pieces: receivedRows(reader, asker, typed),
  };
}

export function deliveryForm(reader: Reader, asker: Asker) {
  return z
    .strictObject(deliveryFields(reader, asker))
    .superRefine((form, context) =>
      checkDescribed(form, (path, message) => context.addIssue({ code: 'custom', path: [...path], message })),
    );
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
  const fields = deliveryFields(reader, asker, typed);
  const drawn = drawFields(
    fields,
    { share_by: 'value', ...typed },
    {
      pieces: rows,
      new_cloths: describedRows('new_cloths', typed),
      new_shades: describedRows('new_shades', typed),
    },
  );
  const data = {
    requestKey: mintKey(),
    fields: drawn,
    /** true where no more rows can be drawn: one delivery holds so many pieces */
    full: drawn.pieces.length >= MOST_ROWS,
    /** true where what is new must be described first, or is being described */
    describes: clothChoices(reader).length === 0 || Object.entries(typed).some(isDescribing),
  };
  return { view: 'shelf/receive/receive', data, title: 'Receive pieces', room: 'shelf' } satisfies Page;
}

function isDescribing([name, text]: [string, string]): boolean {
  return name.startsWith('new_') && text !== '';
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
  const made = putDescribed(tx, form, asker.units);
  const asked = asReceivedPieces(form.pieces).map((piece) => ({
    ...piece,
    clothId: made.cloth(piece.clothId),
    shadeId: made.shade(piece.shadeId),
  }));
  const landed = costsOfDelivery(form, asked, asker.currency);
  const { receiptId, pieces } = receivePieces(
    tx,
    { supplierId: made.supplierId ?? form.supplier_id, note: form.note, invoiceNumber: form.invoice_number },
    landed.flatMap((parts, at) => {
      const piece = asked[at];
      return piece ? [{ ...piece, costMinor: costOfParts(parts), parts, shareBy: form.share_by }] : [];
    }),
  );
  const codes = pieces.map(({ code }) => code);
  const names = [...form.new_cloths, ...form.new_shades].map(({ name }) => name);
  if (form.new_supplier !== '') names.unshift(form.new_supplier);
  const told = names.length === 0 ? '' : ` New in the book: ${listed(names)}.`;
  return {
    location: receiptPath(receiptId),
    said: `${count(pieces.length, 'piece')} put on the shelf: ${listCodes(codes)}.${told}`,
  };
}
