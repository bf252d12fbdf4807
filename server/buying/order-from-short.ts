import { writeLength } from '../../src/quantity/written-length.ts';
import type { Reader } from '../database/book.ts';
import type { Typed } from '../kit/typed.ts';
import { BLANK_LINES, MOST_LINES } from '../orders/order/form.ts';
import { readToGet } from '../short/to-get.ts';
import type { Asker } from '../web/house.ts';

/** The form of an order with a line for everything that is short. */
export function orderFromShort(reader: Reader, asker: Asker, today: string): Typed {
  return Object.fromEntries(
    readToGet(reader, asker, today)
      .slice(0, MOST_LINES - BLANK_LINES)
      .flatMap(({ line, toGet }, index) => [
        [`lines.${index}.cloth_id`, String(line.cloth.id)],
        [`lines.${index}.shade_id`, String(line.shade.id)],
        // Strips that are longer than the cloth is wide have no length to get: it is left for the person to fill in.
        [`lines.${index}.length`, toGet.ticks === null ? '' : writeLength(toGet.ticks, asker.units)],
      ]),
  );
}
