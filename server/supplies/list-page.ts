import { nameOfForm } from '../../src/dye/auxiliaries.ts';
import { capital } from '../../src/dye/fibre.ts';
import type { Reader } from '../database/book.ts';
import { queryText } from '../kit/address.ts';
import { supplyPath } from '../kit/paths.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readCalledFor, type SuppliesTold, shapeCall } from './called.ts';
import { isLow, readSupplies, type StockedSupply } from './store.ts';
import { SUPPLY_KIND_WORDS, SUPPLY_KINDS, sayStock } from './words.ts';

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
  const { calls, notKept } = readCalledFor(reader, told);
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
    /** what batches and garments call for, and what is to be weighed and is kept as no supply */
    called: {
      calls: calls.map((call) => shapeCall(call, asker)),
      short: calls.filter(({ shortBy }) => shortBy > 0).length,
      notKept,
    },
    totals: { supplies: kept.length, low: kept.filter(isLow).length },
    putAway: all
      .filter(({ gone }) => gone !== '')
      .map(({ id, name, gone }) => ({ name, href: supplyPath(id), gone })),
  };
  return { view: 'supplies/list', data, title: 'Supplies', room: 'shelf' } satisfies Page;
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
    /** '' where nothing is held */
    free: supply.held === 0 ? '' : sayStock(supply.free, measure, units),
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
