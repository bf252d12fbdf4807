import type { Units } from '../../src/quantity/length-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import { type SupplyMeasure, showSupplyAmount, unitOfMeasure } from '../../src/supply/amount.ts';
import type { WantedLength } from '../../src/supply/lengths.ts';
import type { PutUpPrice } from '../../src/supply/put-ups.ts';
import { showUnitPrice } from '../../src/supply/unit-price.ts';
import type { SupplyEntryKind, SupplyKind } from '../database/supply-tables.ts';
import { grouped } from '../kit/grouped.ts';
import { listed } from '../kit/words.ts';

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

/** Unjoined lengths that are to be got: "in lengths of 4.2 m and 2 × 1.3 m; the longest free is 3.1 m"; '' for none. */
export function sayLengthsToGet(
  wanted: readonly WantedLength[],
  free: readonly number[],
  units: Units,
): string {
  const whole = wanted.filter(({ pieces }) => pieces === 1).map(({ ticks }) => ticks);
  if (whole.length === 0) return '';
  const each = [...grouped(whole, (ticks) => ticks)].map(([ticks, alike]) => {
    const length = showSupplyAmount(ticks, 'length', units, 'up');
    return alike.length === 1 ? length : `${alike.length} × ${length}`;
  });
  const few = each.length > MOST_LENGTHS ? [...each.slice(0, MOST_LENGTHS), 'more'] : each;
  const wantedSaid = whole.length === 1 ? `in one length of ${few[0]}` : `in lengths of ${listed(few)}`;
  const longest = Math.max(0, ...free);
  return longest === 0 || longest >= Math.max(...whole)
    ? wantedSaid
    : `${wantedSaid}; the longest free is ${sayStock(longest, 'length', units)}`;
}

/** More different lengths than this are not told one by one. */
const MOST_LENGTHS = 4;

/** "Amount: this needs one length of 4.2 m; the longest free is 3.1 m. Tick that it may be joined, or enter less." */
export function sayNoLength(
  ticks: number,
  lengths: readonly { readonly mayTake: number }[],
  units: Units,
): string {
  const longest = Math.max(0, ...lengths.map(({ mayTake }) => mayTake));
  const all = lengths.reduce((sum, { mayTake }) => sum + mayTake, 0);
  const there =
    longest === 0 ? 'nothing is free' : `the longest free is ${sayStock(longest, 'length', units)}`;
  const cure = all >= ticks ? 'Tick that it may be joined, or enter less' : 'Enter less, or count it first';
  return `Amount: this needs one length of ${showSupplyAmount(ticks, 'length', units, 'up')}; ${there}. ${cure}.`;
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
