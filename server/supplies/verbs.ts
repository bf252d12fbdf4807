import { type CostParts, costOfParts } from '../../src/buying/landed.ts';
import { apportion } from '../../src/quantity/money.ts';
import { lengthFor } from '../../src/supply/lengths.ts';
import { costOfPart, takeFromLots } from '../../src/supply/taking.ts';
import type { Answer, Tx } from '../database/book.ts';
import { insertInto } from '../database/statements.ts';
import { supplyPath } from '../kit/paths.ts';
import { countOf } from '../kit/words.ts';
import { readUnits } from '../kit/workroom.ts';
import { postSupply } from '../ledger/supplies.ts';
import { invalid } from '../refusal.ts';
import { readSupplyHolds, sayHolders } from './holds.ts';
import {
  freeOf,
  isInLengths,
  readSupply,
  readSupplyLots,
  type StockedSupply,
  type SupplyLot,
} from './store.ts';
import { sayNoLength, sayStock } from './words.ts';

/** What came of a supply at once. */
export interface ReceivedSupply {
  readonly supplyId: number;
  /** of all of it */
  readonly amount: number;
  /** in so many reels or cards alike, each a length of its own, one where nothing is said; all else is one lot */
  readonly lengths?: number;
  readonly typed: string;
  readonly lot: string;
  readonly openedOn: string | null;
  readonly costMinor: number;
  /** what the cost is made of, where it came with a delivery: then it comes to that */
  readonly parts?: CostParts;
  /** the delivery and the line of its order, where it came by one */
  readonly receiptId?: number;
  readonly orderLineId?: number;
}

/** Puts what came on the shelf, each as a lot of its own. Says what came: "100 g of Soda ash", "3 lengths, 75 m of Crin". */
export function receiveSupplies(
  tx: Tx,
  came: readonly ReceivedSupply[],
  from: { readonly supplierId: number | null; readonly note: string },
): string[] {
  const units = readUnits(tx, tx.personId);
  return came.map(
    ({ supplyId, amount, typed, lot, openedOn, costMinor, receiptId, orderLineId, ...each }) => {
      const supply = readSupply(tx, supplyId);
      const count = isInLengths(supply) ? (each.lengths ?? 1) : 1;
      const alike = Array.from({ length: count }, () => 1);
      const parts = each.parts && partsAlike(each.parts, alike);
      const costs = parts?.map(costOfParts) ?? apportion(costMinor, alike);
      for (const [at, part] of apportion(amount, alike).entries()) {
        const lotId = addLot(tx, { supplyId, lot, supplierId: from.supplierId, openedOn });
        const [cost = 0, why] = [costs[at], from.note];
        const entryId = postSupply(tx, {
          lotId,
          kind: 'received',
          amount: part,
          costMinor: cost,
          typed,
          why,
          receiptId,
          orderLineId,
        });
        const made = parts?.[at];
        if (made) putCostParts(tx, entryId, made);
      }
      const lengths = count === 1 ? '' : `${countOf(count, 'length', 'lengths')}, `;
      return `${lengths}${sayStock(amount, supply.measure, units)} of ${supply.name}`;
    },
  );
}

/** The parts of a cost, each shared out equally over lengths alike. */
function partsAlike(parts: CostParts, alike: readonly number[]): CostParts[] {
  const of = (part: keyof CostParts) => apportion(parts[part], alike);
  const [cloth, fees, freight] = [of('clothMinor'), of('cutFeesMinor'), of('freightMinor')];
  const [tax, reclaimed] = [of('taxMinor'), of('reclaimedMinor')];
  return alike.map((_, at) => ({
    clothMinor: cloth[at] ?? 0,
    cutFeesMinor: fees[at] ?? 0,
    freightMinor: freight[at] ?? 0,
    taxMinor: tax[at] ?? 0,
    reclaimedMinor: reclaimed[at] ?? 0,
  }));
}

const newSupplyCost = insertInto('supply_received_cost');

/** Keeps what the cost of an entry is made of; a supply has no cut fees but what went to all of its order. */
function putCostParts(tx: Tx, entryId: number, parts: CostParts): void {
  tx.run(
    newSupplyCost({
      supply_entry_id: entryId,
      goods_minor: parts.clothMinor + parts.cutFeesMinor,
      freight_minor: parts.freightMinor,
      tax_minor: parts.taxMinor,
      reclaimed_minor: parts.reclaimedMinor,
    }),
  );
}

function addLot(
  tx: Tx,
  {
    supplyId,
    lot,
    supplierId,
    openedOn,
  }: {
    readonly supplyId: number;
    readonly lot: string;
    readonly supplierId: number | null;
    readonly openedOn: string | null;
  },
): number {
  const values = { supply_id: supplyId, lot, supplier_id: supplierId, opened_on: openedOn };
  return tx.run(tx.db.insertInto('supply_lot').values(values)).lastId;
}

/**
 * A length that is cut off another and kept, such as a card that was begun: a lot of its own from now on, with its share of
 * the cost. @throws {Refusal} invalid where less is free
 */
export function splitSupply(
  tx: Tx,
  supplyId: number,
  { lotId, amount, typed, why }: Omit<Taken, 'lotId' | 'garmentId' | 'joined'> & { readonly lotId: number },
): Answer {
  const supply = readSupply(tx, supplyId);
  const reel = findLot(readSupplyLots(tx, supplyId), lotId);
  const say = (ticks: number) => sayStock(ticks, supply.measure, readUnits(tx, tx.personId));
  if (amount >= reel.onHand)
    throw invalid('amount', `Amount: ${say(reel.onHand)} is all of this length. Enter less.`);
  if (amount > freeOf(reel)) {
    const holders = sayHolders(tx, supplyId, lotId);
    throw invalid(
      'amount',
      `Amount: ${say(freeOf(reel))} is free, the rest is held for ${holders}. Enter less.`,
    );
  }
  const costMinor = costOfPart(reel, amount);
  const splitOfId = postSupply(tx, {
    lotId,
    kind: 'counted',
    amount: 0 - amount,
    costMinor: 0 - costMinor,
    typed,
    why,
  });
  const kept = addLot(tx, { supplyId, lot: reel.lot, supplierId: reel.supplierId, openedOn: reel.openedOn });
  postSupply(tx, { lotId: kept, kind: 'received', amount, costMinor, typed, why, splitOfId });
  return {
    location: supplyPath(supplyId),
    said: `Cut off and kept: ${say(amount)} of ${supply.name}.`,
    after: `On its reel now: ${say(reel.onHand - amount)}.`,
  };
}

interface Taken {
  readonly amount: number;
  readonly typed: string;
  readonly why: string;
  /** the lot that it is taken off; null for those opened first */
  readonly lotId: number | null;
  readonly garmentId?: number | null;
  /** whether it may be taken in several lengths */
  readonly joined: boolean;
}

/** @throws {Refusal} invalid where less is there */
export function useSupply(tx: Tx, supplyId: number, taken: Taken): Answer {
  const supply = take(tx, supplyId, 'used', taken);
  return {
    location: supplyPath(supplyId),
    said: `Used: ${sayOf(tx, supply, taken.amount)}.`,
    after: sayLeft(tx, supply),
  };
}

/** @throws {Refusal} invalid where less is there */
export function writeSupplyOff(tx: Tx, supplyId: number, taken: Taken): Answer {
  const supply = take(tx, supplyId, 'written-off', taken);
  return {
    location: supplyPath(supplyId),
    said: `Written off: ${sayOf(tx, supply, taken.amount)}.`,
    after: sayLeft(tx, supply),
  };
}

/** What is held for a garment is used first for it; then, and for all else, what is free. */
function take(tx: Tx, supplyId: number, kind: 'used' | 'written-off', taken: Taken): StockedSupply {
  const supply = readSupply(tx, supplyId);
  if (isInLengths(supply) && !taken.joined) return takeOneLength(tx, supply, kind, taken);
  const { why, typed, garmentId = null } = taken;
  const rows = readSupplyHolds(tx, supplyId).filter((hold) => hold.garmentId === garmentId);
  const held = new Map(rows.map(({ lotId, held: amount }) => [lotId, amount]));
  const post = (amount: number, mayTake: (lot: SupplyLot) => number, isHeld: boolean) => {
    const lots = readSupplyLots(tx, supplyId).filter(({ id }) => taken.lotId === null || id === taken.lotId);
    const { draws, missing } = takeFromLots(
      lots.map((lot) => ({ ...lot, mayTake: mayTake(lot) })),
      amount,
    );
    for (const draw of draws) {
      const cost = {
        amount: 0 - draw.amount,
        costMinor: 0 - draw.costMinor,
        held: isHeld ? 0 - draw.amount : 0,
      };
      postSupply(tx, { lotId: draw.lotId, kind, ...cost, why, typed, garmentId });
    }
    return missing;
  };
  const left = held.size === 0 ? taken.amount : post(taken.amount, ({ id }) => held.get(id) ?? 0, true);
  const missing = left === 0 ? 0 : post(left, freeOf, false);
  if (missing > 0) throw invalid('amount', sayTooLittle(tx, supply, taken, taken.amount - missing));
  return supply;
}

/** Off one length: what the garment holds of it goes first. */
function takeOneLength(
  tx: Tx,
  supply: StockedSupply,
  kind: 'used' | 'written-off',
  { amount, why, typed, lotId, garmentId = null }: Taken,
): StockedSupply {
  const holds = readSupplyHolds(tx, supply.id).filter((hold) => hold.garmentId === garmentId);
  const heldOf = (id: number) => holds.find((hold) => hold.lotId === id)?.held ?? 0;
  const lots = readSupplyLots(tx, supply.id)
    .filter(({ id }) => lotId === null || id === lotId)
    .map((lot) => ({ ...lot, mayTake: freeOf(lot) + heldOf(lot.id) }));
  const heldAlone = lots.map((lot) => ({ ...lot, mayTake: heldOf(lot.id) }));
  const found = lengthFor(heldAlone, amount) ?? lengthFor(lots, amount);
  if (!found) throw invalid('amount', sayNoLength(amount, lots, readUnits(tx, tx.personId)));
  const costMinor = 0 - costOfPart(found, amount);
  const held = 0 - Math.min(amount, heldOf(found.id));
  postSupply(tx, { lotId: found.id, kind, amount: 0 - amount, held, costMinor, why, typed, garmentId });
  return supply;
}

/** "Amount: 20 pieces free, 40 pieces held for G1. Enter less, or count it first." */
function sayTooLittle(tx: Tx, supply: StockedSupply, { lotId }: Taken, there: number): string {
  const say = (amount: number) => sayStock(amount, supply.measure, readUnits(tx, tx.personId));
  const isHeld = lotId === null ? supply.held > 0 : sayHolders(tx, supply.id, lotId) !== '';
  if (isHeld) {
    const holders = sayHolders(tx, supply.id, lotId);
    return `Amount: ${say(there)} may be taken, the rest is held for ${holders}. Enter less, or release it first.`;
  }
  const where = lotId === null ? 'on hand' : 'left of this lot';
  return `Amount: ${say(there)} ${where}. Enter less, or count it first.`;
}

/**
 * Enters what was counted of one lot. What was paid stays with what is left, and goes where nothing is.
 * @throws {Refusal} invalid where there is no such lot
 */
export function countSupply(
  tx: Tx,
  supplyId: number,
  counted: { readonly lotId: number; readonly amount: number; readonly typed: string; readonly why: string },
): Answer {
  const supply = readSupply(tx, supplyId);
  const lot = findLot(readSupplyLots(tx, supplyId), counted.lotId);
  const amount = counted.amount - lot.onHand;
  if (counted.amount < lot.held) {
    const held = sayStock(lot.held, supply.measure, readUnits(tx, tx.personId));
    const holders = sayHolders(tx, supplyId, lot.id);
    throw invalid(
      'amount',
      `Amount: ${held} of this lot is held for ${holders}. Enter as much or more, or release it first.`,
    );
  }
  const location = supplyPath(supplyId);
  const said = `${supply.name} is counted`;
  if (amount === 0) return { location, said: `${said}: it is as the book says.` };
  const costMinor = counted.amount === 0 ? 0 - costOfPart(lot, lot.onHand) : 0;
  const { typed, why } = counted;
  postSupply(tx, { lotId: lot.id, kind: 'counted', amount, costMinor, typed, why });
  const difference = sayStock(Math.abs(amount), supply.measure, readUnits(tx, tx.personId));
  return {
    location,
    said: `${said}: ${difference} ${amount > 0 ? 'more' : 'less'}.`,
    after: sayLeft(tx, supply),
  };
}

/** Writes down the lot's number and the day it was opened. */
export function changeSupplyLot(
  tx: Tx,
  supplyId: number,
  said: { readonly lotId: number; readonly lot: string; readonly openedOn: string | null },
): Answer {
  const supply = readSupply(tx, supplyId);
  const { id } = findLot(readSupplyLots(tx, supplyId), said.lotId);
  tx.run(
    tx.db.updateTable('supply_lot').set({ lot: said.lot, opened_on: said.openedOn }).where('id', '=', id),
  );
  return { location: supplyPath(supplyId), said: `The lot of ${supply.name} is changed.` };
}

function findLot(lots: readonly SupplyLot[], id: number): SupplyLot {
  const lot = lots.find((each) => each.id === id);
  if (!lot) throw invalid('lot_id', 'Lot: choose one of this supply.');
  return lot;
}

function sayOf(tx: Tx, supply: StockedSupply, amount: number): string {
  return `${sayStock(amount, supply.measure, readUnits(tx, tx.personId))} of ${supply.name}`;
}

/** "120 g is on hand now." */
function sayLeft(tx: Tx, { id }: StockedSupply): string {
  const { onHand, measure } = readSupply(tx, id);
  return `On hand now: ${sayStock(onHand, measure, readUnits(tx, tx.personId))}.`;
}
