import { costOfParts } from '../../../src/buying/landed.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { receiptPath } from '../../kit/paths.ts';
import { listCodes, listed, wordFor } from '../../kit/words.ts';
import { unknown } from '../../refusal.ts';
import { receivePieces } from '../../shelf/receive/receiving.ts';
import { rowForEach } from '../../shelf/receive/rows.ts';
import type { Asker } from '../../web/house.ts';
import { readOrder, refuseUnless } from '../order/queries.ts';
import type { ReceiveForm } from './form.ts';
import { cameOf, landedOf } from './landing.ts';
import { refuseAfterAnother, refuseMoreThanOrdered } from './other-deliveries.ts';
import { takeInSupplies } from './supply-rows.ts';

/** An entry of a supply keeps so much of the delivery's note. */
const MOST_WHY = 500;

/** Puts what came on the shelf. Without a price of its own a piece costs what it comes to where it lies. */
export function receiveOrder(tx: Tx, code: string, form: ReceiveForm, asker: Asker): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['sent', 'part', 'received']);
  refuseAfterAnother(tx, order, form.deliveries?.value ?? null);
  const pieces = rowForEach(form.pieces);
  if (!form.more) refuseMoreThanOrdered(order, pieces, form.supplies, asker);
  const lineOf = new Map(order.lines.map((line) => [line.id, line]));
  const came = cameOf(order, pieces, form.supplies);
  const { pieces: landed, shareBy } = landedOf(order, came, form, asker.currency);
  const received = pieces.map((piece, at) => {
    const line = lineOf.get(piece.line_id);
    const parts = landed[at];
    if (!line || !parts) throw new Error('the form offered a line that the order has not');
    return {
      kind: 'bolt' as const,
      clothId: line.clothId,
      shadeId: line.shadeId,
      millLot: piece.mill_lot,
      lengthTicks: piece.length.value,
      typed: piece.length.typed,
      usableWidthTicks: piece.usable_width?.value ?? null,
      costMinor: costOfParts(parts),
      parts,
      shareBy,
      placeId: piece.place_id,
      orderLineId: line.id,
    };
  });
  const { receiptId, pieces: made } = receivePieces(
    tx,
    {
      supplierId: order.supplierId,
      orderId: order.id,
      note: form.note,
      invoiceNumber: form.invoice_number,
    },
    received,
  );
  const costs = landed.slice(pieces.length);
  const delivery = { supplierId: order.supplierId, receiptId, note: form.note.slice(0, MOST_WHY) };
  const supplies = takeInSupplies(tx, form.supplies, delivery, costs);
  for (const { line_id, met } of form.lots) {
    if (!order.lines.some(({ id, lotAsked }) => id === line_id && lotAsked !== null))
      throw unknown('such line');
    tx.run(
      tx.db.insertInto('lot_answer').values({ receipt_id: receiptId, line_id, met: met === 'yes' ? 1 : 0 }),
    );
  }
  const total = received.reduce((sum, piece) => sum + piece.lengthTicks, 0);
  const said = [
    ...(made.length === 0 ? [] : [sayPieces(code, made, showLength(total, asker.units, 'down'))]),
    ...(supplies.length === 0 ? [] : [`Of order ${code}: ${listed(supplies)} received.`]),
  ];
  return { location: receiptPath(receiptId), said: said.join(' ') };
}

/** "One piece of order P3 (B40; 30 m in all) is on the shelf." */
function sayPieces(code: string, made: readonly { readonly code: string }[], length: string): string {
  const codes = listCodes(made.map((piece) => piece.code));
  return `${wordFor(made.length, 'One piece', `${made.length} pieces`)} of order ${code} (${codes}; ${length} in all) ${wordFor(made.length, 'is', 'are')} on the shelf.`;
}
