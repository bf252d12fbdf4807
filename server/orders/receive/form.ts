import { z } from 'zod';
import type { Reader } from '../../database/book.ts';
import { chosenField, placeChoices } from '../../kit/choices.ts';
import { optionalMoney, optionalText, rowsField } from '../../kit/fields.ts';
import { MOST_COST_MINOR, MOST_ROWS, measuredFields } from '../../shelf/receive/rows.ts';
import type { Asker } from '../../web/house.ts';
import type { Order } from '../order/queries.ts';
import { DELIVERY_FIELDS } from './again.ts';
import { onTopFields } from './landing.ts';
/**
 * A row names its order line in a hidden field, which alone makes it no piece. The mill's lot and the place that
 * are left blank under a filled row of the same line are the same as there.
 */
export function takeFilled(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  let above: Record<string, unknown> = {};
  return Array.from(raw, (row: Record<string, unknown> | undefined) => {
    const { line_id, ...measured } = row ?? {};
    if (Object.values(measured).every((text) => text === '' || text === undefined)) return {};
    const same = above.line_id === line_id;
    const take = (name: string) => (same && !measured[name] ? above[name] : measured[name]);
    above = { ...measured, line_id, mill_lot: take('mill_lot'), place_id: take('place_id') };
    return above;
  });
}

export function receiveForm(reader: Reader, asker: Asker, order: Order) {
  const lines = order.lines.map((line) => ({ value: String(line.id), label: line.clothName }));
  const row = z.strictObject({
    line_id: chosenField(lines, 'a line of the order'),
    price: optionalMoney(asker.currency, { max: MOST_COST_MINOR }),
    ...measuredFields(asker.units, placeChoices(reader)),
  });
  return z.strictObject({
    note: optionalText({ max: 2000, lines: true }),
    ...onTopFields(order),
    ...DELIVERY_FIELDS,
    pieces: z.preprocess(takeFilled, rowsField(row, { max: MOST_ROWS, what: 'pieces' })),
  });
}

export type ReceiveForm = z.output<ReturnType<typeof receiveForm>>;
