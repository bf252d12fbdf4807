import { writePercent } from '../../src/quantity/whole.ts';
import { writeLength } from '../../src/quantity/written-length.ts';
import { writeSupplyAmount } from '../../src/supply/amount.ts';
import type { Reader } from '../database/book.ts';
import { rowsAsTyped, type Typed } from '../kit/typed.ts';
import { supplyBuyer } from '../orders/offer/supply-choice.ts';
import { BLANK_LINES, MOST_LINES } from '../orders/order/form.ts';
import { readNeeds } from '../short/queries.ts';
import { readSuppliesToGet } from '../short/supplies.ts';
import { readToGet, type ToGet } from '../short/to-get.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { MOST_NEEDS } from './basket/form.ts';
import { readSpares } from './rules.ts';

/** A page made from what is short says of how much the needs are still being worked out, and so not on it. */
export function withWaiting<Shown extends Page>(reader: Reader, page: Shown): Shown {
  return { ...page, data: { ...page.data, waiting: readNeeds(reader).waiting } };
}

/** The form of an order with a line for everything that is short. */
export function orderFromShort(reader: Reader, asker: Asker, today: string): Typed {
  const short = readToGet(reader, asker, today).slice(0, MOST_LINES - BLANK_LINES);
  const cloth = rowsAsTyped(
    'lines',
    short.map(({ line, toGet }) => ({
      cloth_id: String(line.cloth.id),
      shade_id: String(line.shade.id),
      // Strips that are longer than the cloth is wide have no length to get: it is left for the person to fill in.
      length: toGet.ticks === null ? '' : writeLength(toGet.ticks, asker.units),
    })),
  );
  return { ...cloth, ...suppliesFromShort(reader, asker, today) };
}

/** A row for each supply to get: the put-ups that are cheapest, else the bare amount. Prices are those of whom one orders from. */
function suppliesFromShort(reader: Reader, { units }: Asker, today: string): Typed {
  const buyer = supplyBuyer(reader, today);
  const rows = readSuppliesToGet(reader).flatMap(({ supply, toGet, lengthsToGet }) => {
    const bought = buyer(supply.id, toGet, lengthsToGet)?.choice.bought ?? [
      { count: 1, putUp: '', amount: toGet },
    ];
    return bought.map(({ count, putUp, amount }) => ({
      supply_id: String(supply.id),
      put_ups: String(count),
      put_up: putUp,
      amount: writeSupplyAmount(amount, supply.measure, units),
    }));
  });
  return rowsAsTyped('supplies', rows.slice(0, MOST_LINES));
}

/** What is short and can be bought, beyond what is on order. */
export function readToBuy(reader: Reader, asker: Asker, today: string): ToGet[] {
  return readToGet(reader, asker, today).filter(({ toGet }) => toGet.ticks !== null);
}

/**
 * The form of the basket as what is short now fills it in: with each cloth's spare, and the day of the garment that is
 * due first. `further` is what one basket has no room for.
 */
export function basketFromShort(
  reader: Reader,
  asker: Asker,
  today: string,
  toBuy = readToBuy(reader, asker, today),
): { typed: Typed; further: ToGet[] } {
  const spares = readSpares(reader);
  const [firstDue = ''] = toBuy
    .flatMap(({ line: { shares } }) => shares.map(({ garment }) => garment.dueOn ?? ''))
    .filter((due) => due > today)
    .sort();
  const needs = toBuy.slice(0, MOST_NEEDS).map(({ line, toGet }) => ({
    cloth_id: String(line.cloth.id),
    shade_id: String(line.shade.id),
    length: writeLength(toGet.neededTicks ?? 0, asker.units),
    spare: writePercent(spares.get(line.cloth.id) ?? 0),
  }));
  const buyer = supplyBuyer(reader, today);
  const supplies = readSuppliesToGet(reader)
    .slice(0, MOST_NEEDS)
    .map(({ supply, toGet, lengthsToGet }) => {
      // Lengths that may not be joined can take more reels than their sum would: that much is asked for.
      const [bySum, byLengths] = [buyer(supply.id, toGet), buyer(supply.id, toGet, lengthsToGet)];
      const more = (byLengths?.choice.amount ?? 0) > (bySum?.choice.amount ?? 0);
      const amount = more ? (byLengths?.choice.amount ?? toGet) : toGet;
      return {
        supply_id: String(supply.id),
        amount: writeSupplyAmount(amount, supply.measure, asker.units),
      };
    });
  return {
    typed: { needed_by: firstDue, ...rowsAsTyped('needs', needs), ...rowsAsTyped('supplies', supplies) },
    further: toBuy.slice(MOST_NEEDS),
  };
}
