import { nameOfForm } from '../../src/dye/auxiliaries.ts';
import { capital } from '../../src/dye/fibre.ts';
import { showSupplyAmount } from '../../src/supply/amount.ts';
import { supplyNeeds, type ThingToWeigh } from '../../src/supply/weighed.ts';
import type { Reader } from '../database/book.ts';
import { queryText } from '../kit/address.ts';
import { batchPath, garmentPath, supplyPath } from '../kit/paths.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { isLow, readSupplies, type StockedSupply } from './store.ts';
import { readWantedSupplies } from './wanted.ts';
import { SUPPLY_KIND_WORDS, SUPPLY_KINDS, sayStock } from './words.ts';

/** What the dye bench tells of the batches that it has planned or in the pot. */
export interface SuppliesTold {
  readToWeigh(reader: Reader): readonly ThingToWeigh[];
}

/** The stock of what is not cloth, by kind, what is low first; the address narrows it. */
export function suppliesPage(reader: Reader, query: unknown, asker: Asker, told: SuppliesTold) {
  const search = queryText(query, 'search').slice(0, 120);
  const kind = queryText(query, 'kind');
  const low = queryText(query, 'low') !== '';
  const all = readSupplies(reader);
  const kept = all.filter(({ gone }) => gone === '');
  const shown = kept
    .filter((supply) => kind === '' || supply.kind === kind)
    .filter((supply) => !low || isLow(supply))
    .filter((supply) => matches(supply, search));
  const groups = SUPPLY_KINDS.map((each) => ({
    kind: each,
    name: SUPPLY_KIND_WORDS[each],
    supplies: lowFirst(shown.filter((supply) => supply.kind === each)).map((supply) => shape(supply, asker)),
  }));
  const data = {
    empty: all.length === 0,
    asked: { search, kind, low },
    kinds: [
      { value: '', label: 'all kinds' },
      ...SUPPLY_KINDS.map((value) => ({ value, label: SUPPLY_KIND_WORDS[value] })),
    ],
    groups: groups.filter(({ supplies }) => supplies.length > 0),
    planned: shapeNeeds(told.readToWeigh(reader), kept, asker),
    /** what open garments still take, to close them and for their parts */
    wanted: readWantedSupplies(reader, kept).map(({ garments, ...need }) =>
      shapeNeed(
        need,
        garments.map((code) => ({ href: garmentPath(code), text: code })),
        asker,
      ),
    ),
    totals: { supplies: kept.length, low: kept.filter(isLow).length },
    putAway: all
      .filter(({ gone }) => gone !== '')
      .map(({ id, name, gone }) => ({ name, href: supplyPath(id), gone })),
  };
  return { view: 'supplies/list', data, title: 'Supplies', room: 'shelf' } satisfies Page;
}

/** Whether there is enough for the batches that are planned or in the pot, supply by supply. */
function shapeNeeds(things: readonly ThingToWeigh[], kept: readonly StockedSupply[], asker: Asker) {
  const { needs, notKept } = supplyNeeds(things, kept);
  return {
    needs: needs.map(({ batches, ...need }) =>
      shapeNeed(
        need,
        batches.map((code) => ({ href: batchPath(code), text: code })),
        asker,
      ),
    ),
    short: needs.filter(({ shortBy }) => shortBy > 0).length,
    /** what is to be weighed and is kept as no supply */
    notKept,
  };
}

interface Need {
  readonly supply: StockedSupply;
  readonly amount: number;
  readonly shortBy: number;
}

function shapeNeed(
  { supply, amount, shortBy }: Need,
  of: readonly { readonly href: string; readonly text: string }[],
  { units }: Asker,
) {
  return {
    name: supply.name,
    href: supplyPath(supply.id),
    needed: showSupplyAmount(amount, supply.measure, units, 'up'),
    onHand: sayStock(supply.onHand, supply.measure, units),
    /** '' where there is enough */
    shortBy: shortBy === 0 ? '' : showSupplyAmount(shortBy, supply.measure, units, 'up'),
    of,
  };
}

function matches(supply: StockedSupply, search: string): boolean {
  const text = [supply.name, supply.note, supply.dye, supply.place, supply.supplier].join(' ').toLowerCase();
  return search
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
}

function lowFirst(supplies: readonly StockedSupply[]): StockedSupply[] {
  return supplies.toSorted((a, b) => Number(isLow(b)) - Number(isLow(a)));
}

function shape(supply: StockedSupply, { units }: Asker) {
  const { measure, least } = supply;
  return {
    id: supply.id,
    name: supply.name,
    href: supplyPath(supply.id),
    note: supply.note,
    onHand: sayStock(supply.onHand, measure, units),
    /** '' where nobody has said it */
    least: least === null ? '' : sayStock(least, measure, units),
    low: isLow(supply),
    place: supply.place,
    supplier: supply.supplier,
    usedAs: sayUsedAs(supply),
  };
}

/** What it is in recipes; '' where it is in none. */
export function sayUsedAs({ dye, auxiliary }: Pick<StockedSupply, 'dye' | 'auxiliary'>): string {
  if (dye !== '') return dye;
  return auxiliary === null ? '' : capital(nameOfForm(auxiliary.kind, auxiliary.form));
}
