import { z } from 'zod';
import { landedCosts } from '../../../src/buying/landed.ts';
import { EVEN_RATE_MILLIONTHS } from '../../../src/quantity/rate.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { queryText } from '../../kit/address.ts';
import { optionalChosen, withBlank } from '../../kit/choices.ts';
import { MOST_PRICE_MINOR, optionalMoney, optionalText } from '../../kit/fields.ts';
import { receiptPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { listCodes } from '../../kit/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { count } from '../piece/list.ts';
import { type ReceivedPiece, receivePieces } from './receiving.ts';
import {
  asReceivedPieces,
  MOST_ROWS,
  type ReceivingChoices,
  receivedRows,
  receivingChoices,
  sharedByField,
  type TypedPiece,
  typedPieces,
} from './rows.ts';

/** A delivery without an order: who it came from, and its pieces. */
export function deliveryForm(reader: Reader, asker: Asker) {
  const choices = receivingChoices(reader);
  return z.strictObject({
    supplier_id: optionalChosen(choices.suppliers, 'a supplier'),
    note: optionalText({ max: 2000, lines: true }),
    freight: optionalMoney(asker.currency, { max: MOST_PRICE_MINOR }),
    share_by: sharedByField(),
    pieces: receivedRows(asker, choices),
  });
}

export type DeliveryForm = z.output<ReturnType<typeof deliveryForm>>;

/** What each piece costs where it lies, in the order of the pieces: its price and its share of the freight. */
export function costsOfDelivery(form: DeliveryForm, pieces: readonly ReceivedPiece[], currency: string) {
  return landedCosts(
    pieces.map(({ costMinor, lengthTicks }) => ({ priceMinor: costMinor, lengthTicks })),
    {
      freightMinor: form.freight?.value ?? 0,
      taxBp: 0,
      shareBy: form.share_by,
      exchange: { from: currency, to: currency, rateMillionths: EVEN_RATE_MILLIONTHS },
    },
  ).pieces;
}

export interface ReceivePageData {
  readonly requestKey: string;
  readonly typed: {
    readonly supplier_id: string;
    readonly note: string;
    readonly freight: string;
    readonly share_by: string;
  };
  readonly rows: readonly TypedPiece[];
  /** true where no more rows can be drawn: one delivery holds so many pieces */
  readonly full: boolean;
  readonly choices: ReceivingChoices;
  readonly unit: { readonly length: string; readonly width: string };
  readonly currency: string;
  /** what must be described before anything can be received */
  readonly missing: readonly { readonly text: string; readonly href: string }[];
}

export const FIRST_ROWS = 6;

/** The form for a delivery, with what was typed and at least `rows` rows. */
export function receivePage(reader: Reader, asker: Asker, typed: Typed = {}, rows = FIRST_ROWS): Page {
  const choices = receivingChoices(reader);
  const missing = [
    { text: 'Describe the first cloth', href: '/shelf/cloths/new', there: choices.cloths.length > 0 },
    { text: 'Name the first shade', href: '/shelf/shades/new', there: choices.shades.length > 0 },
  ];
  const drawn = typedPieces(typed, rows);
  const data: ReceivePageData = {
    requestKey: mintKey(),
    typed: {
      supplier_id: typed.supplier_id ?? '',
      note: typed.note ?? '',
      freight: typed.freight ?? '',
      share_by: typed.share_by ?? 'value',
    },
    rows: drawn,
    full: drawn.length >= MOST_ROWS,
    choices: {
      cloths: withBlank(choices.cloths, '—'),
      shades: withBlank(choices.shades, '—'),
      places: withBlank(choices.places, '—'),
      suppliers: withBlank(choices.suppliers, 'no supplier'),
    },
    unit: { length: lengthUnit(asker.units), width: sizeUnit(asker.units) },
    currency: asker.currency,
    missing: missing.filter(({ there }) => !there).map(({ text, href }) => ({ text, href })),
  };
  return { view: 'shelf/receive/receive', data, title: 'Receive pieces', room: 'shelf' };
}

/** A cloth and shade that the address names stand in the first row. */
export function startedRow(query: unknown): Typed {
  return {
    'pieces.0.cloth_id': queryText(query, 'cloth'),
    'pieces.0.shade_id': queryText(query, 'shade'),
  };
}

/** Puts a delivery on the shelf. */
export function receiveDelivery(tx: Tx, form: DeliveryForm, asker: Asker): Answer {
  const asked = asReceivedPieces(form.pieces);
  const costs = costsOfDelivery(form, asked, asker.currency);
  const { receiptId, pieces } = receivePieces(
    tx,
    { supplierId: form.supplier_id, note: form.note },
    asked.map((piece, at) => ({ ...piece, costMinor: costs[at] ?? 0 })),
  );
  const codes = pieces.map(({ code }) => code);
  return {
    location: receiptPath(receiptId),
    said: `${count(pieces.length, 'piece')} put on the shelf: ${listCodes(codes)}.`,
  };
}
