import type { Units } from '../../src/quantity/length-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import { type SupplyMeasure, showSupplyAmount, unitOfMeasure } from '../../src/supply/amount.ts';
import type { PutUpPrice } from '../../src/supply/put-ups.ts';
import { showUnitPrice } from '../../src/supply/unit-price.ts';
import type { SupplyEntryKind, SupplyKind } from '../database/supply-tables.ts';

/** The kinds of supply in the order of the list, as its headings say them. */
export const SUPPLY_KIND_WORDS: Readonly<Record<SupplyKind, string>> = {
  dye: 'Dyes',
  chemical: 'Chemicals',
  thread: 'Thread',
  trim: 'Trims',
  notion: 'Notions',
  tool: 'Small tools',
};
export const SUPPLY_KINDS = Object.keys(SUPPLY_KIND_WORDS) as SupplyKind[];

/** What a supply of each kind is, where one is described. */
export const SUPPLY_KIND_HINTS: Readonly<Record<SupplyKind, string>> = {
  dye: 'Dye',
  chemical: 'Chemical: salt, acid, soda, fixer',
  thread: 'Thread',
  trim: 'Trim: lace, ribbon, crin, wire, elastic, cord',
  notion: 'Notion: hooks, eyelets, buckles, boning',
  tool: 'Small tool: needles, blades, gloves',
};

export const SUPPLY_ENTRY_WORDS: Readonly<Record<SupplyEntryKind, string>> = {
  received: 'Received',
  used: 'Used',
  counted: 'Counted',
  'written-off': 'Written off',
  held: 'Held',
  released: 'Released',
  reversed: 'Undone',
};

/** What amounts of a supply are given in, to choose from. */
export function measureOptions(units: Units) {
  const length = unitOfMeasure('length', units) === 'm' ? 'Length, m' : 'Length, yd';
  return [
    { value: 'mass', label: 'Mass, g' },
    { value: 'volume', label: 'Volume, mL' },
    { value: 'length', label: length },
    { value: 'count', label: 'Pieces' },
  ] as const;
}

/** What there is, rounded down as stock is. */
export function sayStock(amount: number, measure: SupplyMeasure, units: Units): string {
  return showSupplyAmount(amount, measure, units, 'down');
}

/** "tub of 100 g", or "100 g" where the put-up has no name. */
export function sayPutUp(
  { putUp, amount }: Pick<PutUpPrice, 'putUp' | 'amount'>,
  measure: SupplyMeasure,
  units: Units,
): string {
  const holds = showSupplyAmount(amount, measure, units, 'near');
  return putUp === '' ? holds : `${putUp} of ${holds}`;
}

/** "2 × tub of 100 g". */
export function sayPutUps(
  count: number,
  putUp: Pick<PutUpPrice, 'putUp' | 'amount'>,
  measure: SupplyMeasure,
  units: Units,
): string {
  return `${count} × ${sayPutUp(putUp, measure, units)}`;
}

/** "tub of 100 g €8.40 (€84.00 a kilogram)", "from 10: box of 50 pieces €5.00 (€0.10 a piece)". */
export function sayPutUpPrice(
  price: PutUpPrice,
  measure: SupplyMeasure,
  currency: string,
  units: Units,
): string {
  const from = price.fromCount > 1 ? `from ${price.fromCount}: ` : '';
  const each = showUnitPrice(price.priceMinor, price.amount, measure, currency, units);
  return `${from}${sayPutUp(price, measure, units)} ${showMoney(price.priceMinor, currency)} (${each})`;
}
