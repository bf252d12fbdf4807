import { beyondOrdered, missingDemands, type Share } from '../../src/fit/sharing.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import type { Garment } from '../garments/garment/records.ts';
import { type Fresh, freshLength } from './fresh.ts';
import { readShort, type ShortLine } from './queries.ts';
import { readSelling, type SellingOf } from './selling.ts';

/**
 * What to get of a cloth and shade: fresh cloth for the strips short that nothing on order gives; of all its garments
 * together, or of some. Short, Today, the order form, the shopping list and the basket all ask here.
 *
 * `ticks` is what to get: rounded up once, to the cuts of the offer that cuts least off, or without an offer by the
 * length to the step that shops cut to, because nobody sells less. `neededTicks` is what the strips need, not rounded:
 * the basket compares offers, each of which cuts in its own steps.
 */
export function toGetOf(
  { cloth, shade, onOrderTicks }: ShortLine,
  shares: readonly Share<Garment>[],
  sellingOf: SellingOf,
): Fresh {
  const missing = shares.flatMap(missingDemands);
  const { toOrder } = beyondOrdered(missing, onOrderTicks, cloth.usableWidthTicks);
  return freshLength(toOrder, cloth.usableWidthTicks, (neededTicks) =>
    sellingOf({ clothId: cloth.id, shadeId: shade.id }, neededTicks),
  );
}

/** A line of what is short, and what to get for all its garments. */
export interface ToGet {
  readonly line: ShortLine;
  readonly toGet: Fresh;
}

/** What to get for all open garments, the most pressing first. */
export function readToGet(reader: Reader, { units }: { readonly units: Units }, today: string): ToGet[] {
  const lines = readShort(reader).filter(({ toOrderStrips }) => toOrderStrips > 0);
  const clothIds = lines.map(({ cloth }) => cloth.id);
  const sellingOf = readSelling(reader, today, clothIds, units);
  return lines.map((line) => ({ line, toGet: toGetOf(line, line.shares, sellingOf) }));
}

/** "1.3 m"; or why there is no length. */
export function sayToGet(lengthTicks: number | null, units: Units): string {
  if (lengthTicks === null) return 'a wider cloth';
  return lengthTicks === 0 ? 'nothing more' : showLength(lengthTicks, units, 'up');
}
