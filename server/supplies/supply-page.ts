import type { z } from 'zod';
import { MINUS } from '../../src/quantity/figure-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import { inOrderOfUse } from '../../src/supply/taking.ts';
import type { Reader } from '../database/book.ts';
import { address } from '../kit/address.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { grouped } from '../kit/grouped.ts';
import { batchPath, garmentPath, supplyPath } from '../kit/paths.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { showDay, showMoment } from '../kit/when.ts';
import { whichCanUndo } from '../ledger/undo.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import {
  deedFields,
  LOT_FIELDS,
  SUPPLY_DEED_NAMES,
  SUPPLY_DEEDS,
  type SupplyDeed,
  sayLeftOfLot,
  sayLotOf,
} from './deeds.ts';
import { drawSupplyForm, typedSupply } from './form.ts';
import { readSupplyHolds } from './holds.ts';
import { sayUsedAs } from './list-page.ts';
import {
  isInLengths,
  isLow,
  readSupply,
  readSupplyEntries,
  readSupplyLots,
  type StockedSupply,
  type SupplyLot,
} from './store.ts';
import { SUPPLY_ENTRY_WORDS, SUPPLY_KIND_HINTS, sayStock } from './words.ts';

/** The entries that a page shows of one supply, the newest. */
const MOST_ENTRIES = 100;

/** Which form of the page was refused, and what was typed in it. */
export interface RefusedSupply {
  readonly form: SupplyDeed | 'lot';
  /** of the form `lot` */
  readonly lotId?: number;
  readonly typed: Typed;
}

/** One supply: what there is of it, its lots, what is done with it and its entries. */
export function supplyPage(reader: Reader, id: number, asker: Asker, wrong?: RefusedSupply) {
  const supply = readSupply(reader, id);
  const { units, currency, seesPrices } = asker;
  const lots = inOrderOfUse(readSupplyLots(reader, id));
  const say = (amount: number) => sayStock(amount, supply.measure, units);
  const here = lots.filter(({ onHand }) => onHand > 0);
  const data = {
    name: supply.name,
    kind: SUPPLY_KIND_HINTS[supply.kind].split(':')[0] ?? '',
    note: supply.note,
    onHand: say(supply.onHand),
    /** '' where nothing is held */
    held: supply.held === 0 ? '' : say(supply.held),
    free: say(supply.free),
    holds: shapeHolds(reader, supply, asker),
    least: supply.least === null ? '' : say(supply.least),
    low: isLow(supply),
    place: supply.place,
    supplier: supply.supplier,
    usedAs: sayUsedAs(supply),
    /** what is left cost; null for whom prices are not for */
    cost: seesPrices ? showMoney(supply.costMinor, currency) : null,
    gone: supply.gone,
    /** whether each lot is one length, such as a reel */
    inLengths: isInLengths(supply),
    lots: here.map((lot) => shapeLot(supply, lot, asker, wrong)),
    usedUp: lots.length - here.length,
    forms: drawDeeds(reader, supply, lots, asker, wrong),
    ...shapeEntries(reader, supply, asker),
    ways: {
      edit: `${supplyPath(id)}/edit`,
      receive: address('/supplies/receive', { 'rows.0.supply_id': id }),
      away: `${supplyPath(id)}/${supply.gone === '' ? 'put-aways' : 'take-backs'}`,
      awayKey: mintKey(),
    },
  };
  return { view: 'supplies/supply', data, title: supply.name, room: 'shelf' } satisfies Page;
}

function shapeLot(supply: StockedSupply, lot: SupplyLot, asker: Asker, wrong?: RefusedSupply) {
  const open = wrong?.form === 'lot' && wrong.lotId === lot.id;
  const typed = { lot: lot.lot, opened_on: lot.openedOn ?? '' };
  return {
    id: lot.id,
    name: sayLotOf(lot),
    left: sayLeftOfLot(lot, supply.measure, asker.units),
    /** '' where nothing of it is held */
    held: lot.held === 0 ? '' : sayStock(lot.held, supply.measure, asker.units),
    /** the day it was opened; "begun" where nobody said it and some of a length is gone */
    opened: lot.openedOn !== null ? showDay(lot.openedOn) : isInLengths(supply) && lot.begun ? 'begun' : '',
    supplier: lot.supplier,
    cost: asker.seesPrices ? showMoney(lot.costMinor, asker.currency) : null,
    action: `${supplyPath(supply.id)}/lots/${lot.id}`,
    requestKey: mintKey(),
    open,
    fields: Object.values(drawFields(LOT_FIELDS, open ? wrong.typed : typed)),
  };
}

function drawDeeds(
  reader: Reader,
  supply: StockedSupply,
  lots: readonly SupplyLot[],
  { units }: Asker,
  wrong?: RefusedSupply,
) {
  const fields = deedFields(reader, supply, units);
  const names = lots.length === 0 ? [] : SUPPLY_DEED_NAMES;
  return names
    .filter((name) => isOffered(name, supply))
    .map((name) => ({
      ...SUPPLY_DEEDS[name],
      name,
      action: `${supplyPath(supply.id)}/${SUPPLY_DEEDS[name].resource}`,
      requestKey: mintKey(),
      open: wrong?.form === name,
      fields: Object.values(
        drawFields<Record<string, z.ZodType>>(fields[name], wrong?.form === name ? wrong.typed : {}),
      ).filter((field) => field.name !== 'joined' || isInLengths(supply)),
    }));
}

function isOffered(deed: SupplyDeed, supply: StockedSupply): boolean {
  const { onHand, held, free } = supply;
  switch (deed) {
    case 'split':
      return free > 0 && isInLengths(supply);
    case 'count':
      return true;
    case 'hold':
      return free > 0;
    case 'release':
      return held > 0;
    default:
      return onHand > 0;
  }
}

/** What each garment holds of it, of all lots together. */
function shapeHolds(reader: Reader, supply: StockedSupply, { units }: Asker) {
  const holds = grouped(readSupplyHolds(reader, supply.id), ({ code }) => code);
  return [...holds].map(([code, own]) => ({
    code,
    name: own[0]?.name ?? '',
    href: garmentPath(code),
    held: sayStock(
      own.reduce((sum, { held }) => sum + held, 0),
      supply.measure,
      units,
    ),
  }));
}

function shapeEntries(reader: Reader, supply: StockedSupply, asker: Asker) {
  const rows = readSupplyEntries(reader, supply.id, MOST_ENTRIES + 1);
  const keys = whichCanUndo(reader, [...new Set(rows.map(({ request_key: key }) => key))], asker);
  const offered = new Set<string>();
  const entries = rows.slice(0, MOST_ENTRIES).map((row) => {
    const { request_key: requestKey, cost_minor: costMinor } = row;
    // What only holds or releases changes what is held, and not the amount.
    const amount = row.amount === 0 ? row.held : row.amount;
    const undoable = keys.has(requestKey) && !offered.has(requestKey);
    if (undoable) offered.add(requestKey);
    return {
      at: row.at,
      when: showMoment(row.at),
      who: row.person,
      kind: row.kind,
      what: row.split_of_id === null ? SUPPLY_ENTRY_WORDS[row.kind] : 'Cut off and kept',
      amount: `${amount < 0 ? MINUS : '+'}${sayStock(Math.abs(amount), supply.measure, asker.units)}`,
      cost: asker.seesPrices ? showMoney(costMinor, asker.currency) : null,
      lot: row.lot,
      link: row.batch
        ? { href: batchPath(row.batch), text: `batch ${row.batch}` }
        : row.garment
          ? { href: garmentPath(row.garment), text: `garment ${row.garment}` }
          : null,
      why: row.why,
      undone: row.undone_by === null ? '' : `undone by ${row.undone_by}, ${showMoment(row.undone_at ?? '')}`,
      requestKey,
      /** '' where it cannot be undone */
      undoKey: undoable ? mintKey() : '',
    };
  });
  return { entries, more: rows.length > MOST_ENTRIES };
}

/** A supply to be described: a new one, or one that is there. */
export function supplyFormPage(reader: Reader, asker: Asker, id: number | null, typed?: Typed) {
  const supply = id === null ? null : readSupply(reader, id);
  const data = {
    requestKey: mintKey(),
    action: id === null ? '/supplies/new' : `${supplyPath(id)}/edit`,
    button: supply ? 'Save' : 'Add',
    fields: Object.values(drawSupplyForm(reader, asker.units, typed ?? (supply ? typedSupply(supply) : {}))),
    back: supply
      ? { href: supplyPath(supply.id), text: supply.name }
      : { href: '/supplies', text: 'Supplies' },
  };
  const title = supply ? `Change ${supply.name}` : 'Add a supply';
  return { view: 'supplies/form', data, title, room: 'shelf' } satisfies Page;
}
