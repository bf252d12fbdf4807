import { z } from 'zod';
import { showMoney } from '../../../src/quantity/money.ts';
import {
  MOST_OF_SUPPLY,
  readSupplyAmount,
  type SupplyMeasure,
  showSupplyAmount,
} from '../../../src/supply/amount.ts';
import type { Reader, Tx } from '../../database/book.ts';
import { chosenField } from '../../kit/choices.ts';
import {
  MOST_PRICE_MINOR,
  optionalId,
  optionalMoney,
  optionalText,
  optionalWhole,
  placeField,
  rowsField,
  textField,
  withPlaces,
} from '../../kit/fields.ts';
import { askedAs } from '../../kit/form-drawing.ts';
import { supplyPath } from '../../kit/paths.ts';
import { rowsAsTyped, storeTyped, type Typed, withUnit } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { supplyChoices } from '../../supplies/choices.ts';
import type { SupplyOrderLine } from '../../supplies/ordered.ts';
import { readSupplies } from '../../supplies/store.ts';
import { sayPutUp, sayPutUps, sayStock } from '../../supplies/words.ts';
import type { Asker } from '../../web/house.ts';
import { MOST_PUT_UPS, PUT_UP_NAMES } from '../offer/supply-form.ts';

const MOST_SUPPLY_LINES = 60;

/** A supply to be ordered: so many put-ups, each of an amount in its measure, at a price for one of them. */
export interface DraftSupply {
  readonly supplyId: number;
  readonly offerId: number | null;
  readonly putUps: number;
  readonly putUp: string;
  readonly amount: number;
  readonly priceMinor: number | null;
  readonly typed: Typed;
}

/** The rows of an order's form that ask for supplies, at prices in a currency. */
export function supplyRowsField(reader: Reader, currency: string, { units }: Asker) {
  const fields = {
    supply_id: chosenField(supplyChoices(reader, units), 'a supply', { label: 'Supply', blank: 'no supply' }),
    put_ups: optionalWhole({ min: 1, max: MOST_PUT_UPS, label: 'How many' }),
    put_up: optionalText({ max: 40, label: 'Put-up', size: 'short', suggest: PUT_UP_NAMES }),
    amount: textField({ max: 64, label: 'Each holds', what: 'What each holds', size: 'short' }),
    price: optionalMoney(currency, { max: MOST_PRICE_MINOR, label: 'Price of one' }),
    offer_id: optionalId('an offer'),
  };
  const row = z.strictObject({ ...fields, place: placeField() });
  const list = rowsField(row, {
    min: 0,
    max: MOST_SUPPLY_LINES,
    what: 'supplies',
    prepare: (raw) => withPlaces(onlyFilled(raw, 'offer_id')),
  });
  return askedAs(list, { rowFields: fields, rows: 2, spare: 2, mostRows: MOST_SUPPLY_LINES });
}

/** A row names what it was made from in a hidden field, which alone makes it no line. */
export function onlyFilled(raw: unknown, hidden: string): unknown {
  if (!Array.isArray(raw)) return raw;
  return Array.from(raw, (row: Record<string, unknown> | undefined) => {
    const { [hidden]: _, ...typed } = row ?? {};
    return Object.values(typed).every((text) => text === '' || text === undefined) ? {} : row;
  });
}

type SupplyRow = z.output<ReturnType<typeof supplyRowsField>>[number];

/** Reads the amounts of rows in the units of their supplies; what is wrong is said of its field. */
export function readSupplyRows(
  reader: Reader,
  rows: readonly SupplyRow[],
  { units }: Asker,
  problem: (path: (string | number)[], message: string) => void,
): DraftSupply[] {
  const measures = rows.length === 0 ? new Map() : measuresOf(reader);
  return rows.map((row) => {
    const measure = measures.get(row.supply_id) ?? 'count';
    const read = readSupplyAmount(row.amount, measure, units);
    const putUps = row.put_ups?.value ?? 1;
    const wrong = (message: string) => problem(['supplies', row.place, 'amount'], `Each holds: ${message}`);
    if (!read.ok) wrong(read.reason);
    else if (read.value < 1) wrong('enter more than nothing.');
    else if (read.value * putUps > MOST_OF_SUPPLY) wrong('that is too much in all.');
    return {
      supplyId: row.supply_id,
      offerId: row.offer_id,
      putUps,
      putUp: row.put_up,
      amount: read.ok ? read.value : 0,
      priceMinor: row.price?.value ?? null,
      typed: {
        amount: measure === 'length' ? withUnit(row.amount, lengthUnit(units)) : row.amount,
        price: row.price?.typed ?? '',
      },
    };
  });
}

function measuresOf(reader: Reader): Map<number, SupplyMeasure> {
  return new Map(readSupplies(reader).map(({ id, measure }) => [id, measure]));
}

/** The lines of a draft, as its form has them. */
export function supplyLinesAsTyped(lines: readonly SupplyOrderLine[]): Typed {
  return rowsAsTyped(
    'supplies',
    lines.map((line) => ({
      supply_id: String(line.supplyId),
      put_ups: String(line.putUps),
      put_up: line.putUp,
      offer_id: String(line.offerId ?? ''),
      ...line.typed,
    })),
  );
}

export function putSupplyLines(tx: Tx, orderId: number, lines: readonly DraftSupply[]): void {
  for (const line of lines) {
    tx.run(
      tx.db.insertInto('supply_order_line').values({
        order_id: orderId,
        supply_id: line.supplyId,
        offer_id: line.offerId,
        put_ups: line.putUps,
        put_up: line.putUp,
        amount: line.amount,
        price_minor: line.priceMinor,
        typed: storeTyped(line.typed),
      }),
    );
  }
}

/** A line for a supply as the pages of its order show it. */
export function shapeSupplyLine(line: SupplyOrderLine, currency: string, { units }: Asker) {
  return {
    name: line.supplyName,
    href: supplyPath(line.supplyId),
    article: line.article,
    /** "2 × tub of 100 g" */
    ordered: sayPutUps(line.putUps, line, line.measure, units),
    total: line.putUps === 1 ? '' : showSupplyAmount(line.orderedAmount, line.measure, units, 'near'),
    received: sayStock(line.receivedAmount, line.measure, units),
    awaited: showSupplyAmount(line.awaitedAmount, line.measure, units, 'up'),
    price:
      line.priceMinor === null
        ? ''
        : `${showMoney(line.priceMinor, currency)} a ${line.putUp || sayPutUp(line, line.measure, units)}`,
    cost: line.costMinor === null ? '' : showMoney(line.costMinor, currency),
  };
}
