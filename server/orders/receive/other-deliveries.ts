import { divideRounded, exactly } from '../../../src/quantity/figure-show.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { allInvalid, conflict, type Problem } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { showBolts } from '../offer/put-up-words.ts';
import type { Order } from '../order/queries.ts';
import { type CameOfSupply, moreSuppliesThanOrdered } from './supply-rows.ts';

/** What a receiving form says of other deliveries of its order. */
export function shapeOthers(reader: Reader, order: Order, typed: Typed) {
  const deliveries = readDeliveries(reader, order);
  const drawn = typed.deliveries ?? '';
  return {
    /** how many deliveries of the order were in the book when this was drawn */
    deliveries: deliveries.length,
    /** which delivery came in after the form was opened, as a sentence; '' where none did */
    since: drawn === '' || drawn === String(deliveries.length) ? '' : saySince(order, deliveries),
  };
}

/** Two people may unpack one parcel: who comes second is told of the first. */
export function refuseAfterAnother(reader: Reader, order: Order, drawn: number | null): void {
  const deliveries = readDeliveries(reader, order);
  if (drawn === null || drawn === deliveries.length) return;
  throw conflict(
    `${saySince(order, deliveries)} What you typed is still here: look at what is awaited now, and send it once more if it is another delivery.`,
    { text: `Order ${order.code} as it is now`, href: `/orders/${order.code}` },
  );
}

/** What a supplier cuts generously is no second delivery (common practice). */
const GENEROUS_PERCENT = 5n;

/** Bolts are counted, as each measures a little more or less; what is cut off the bolt is measured. */
export function refuseMoreThanOrdered(
  order: Order,
  pieces: readonly { readonly line_id: number; readonly length: { readonly value: number } }[],
  supplies: readonly CameOfSupply[],
  asker: Asker,
): void {
  const { units } = asker;
  const problems = order.lines.flatMap((line): Problem[] => {
    const now = pieces.filter(({ line_id }) => line_id === line.id);
    if (now.length === 0) return [];
    const cameTicks = now.reduce((sum, { length }) => sum + length.value, line.receivedTicks);
    const camePieces = line.receivedPieces + now.length;
    const mostTicks = divideRounded(exactly(line.orderedTicks) * (100n + GENEROUS_PERCENT), 100n, 'up');
    const isOver = line.bolts === null ? exactly(cameTicks) > mostTicks : camePieces > line.bolts;
    const isMore = isOver || line.awaitedTicks === 0;
    if (!isMore) return [];
    const ordered =
      line.bolts === null
        ? `${showLength(line.orderedTicks, units, 'down')} were ordered and ${showLength(cameTicks, units, 'up')} would have come`
        : `${showBolts(line.bolts, line.orderedTicks / line.bolts, units)} were ordered and ${camePieces} pieces would have come`;
    const message = `${line.clothName}, ${line.shade.name}: ${ordered}: is this another delivery? Tick the box if so.`;
    return [{ field: 'more', message }];
  });
  problems.push(...moreSuppliesThanOrdered(order, supplies, asker));
  if (problems.length > 0) throw allInvalid(problems);
}

function readDeliveries(reader: Reader, order: Order) {
  return reader.all(
    reader.db
      .selectFrom('receipt')
      .innerJoin('person', 'person.id', 'receipt.person_id')
      .select(['receipt.at', 'person.name'])
      .where('receipt.order_id', '=', order.id)
      .orderBy('receipt.id'),
  );
}

function saySince(order: Order, deliveries: ReturnType<typeof readDeliveries>): string {
  const last = deliveries.at(-1);
  const who = last ? ` by ${last.name}, ${showMoment(last.at)}` : '';
  return `A delivery of order ${order.code} was received${who}, after this form was opened.`;
}
