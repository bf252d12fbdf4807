import type { Units } from '../../src/quantity/length-show.ts';
import { type SupplyMeasure, showSupplyAmount, unitOfMeasure } from '../../src/supply/amount.ts';
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
