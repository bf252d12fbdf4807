import { takeFromLots } from '../../src/supply/taking.ts';
import { amountWeighed, supplyFor, type WeighedThing } from '../../src/supply/weighed.ts';
import type { Reader, Tx } from '../database/book.ts';
import { readUnits } from '../kit/workroom.ts';
import { giveBackWeighed, postSupply } from '../ledger/supplies.ts';
import { readSupplyHolds } from './holds.ts';
import { freeOf, isLow, readSupplies, readSupplyLots, type StockedSupply, type SupplyLot } from './store.ts';
import { sayStock } from './words.ts';

/** A thing as it was weighed at the pot, with its row of the log and its lot; '' where nobody said it. */
export interface WeighedAtPot extends WeighedThing {
  readonly logId: number;
  readonly lot: string;
}

/**
 * Takes what was weighed off the supplies that are kept of it. The pot does not wait for the stock: where the book has less
 * than was weighed, it takes what there is and says so. Gives what is worth knowing at the pot, '' where nothing is.
 */
export function takeWeighed(tx: Tx, things: readonly WeighedAtPot[]): string {
  const kept = readKeptSupplies(tx);
  const touched = new Map<number, number>();
  for (const thing of things) {
    const supply = supplyFor(thing, kept);
    const amount = supply && amountWeighed(thing, supply.measure);
    if (!supply || amount === null || amount === 0) continue;
    const missing = takeOne(tx, supply.id, amount, thing);
    touched.set(supply.id, (touched.get(supply.id) ?? 0) + missing);
  }
  const now = readKeptSupplies(tx).filter(({ id }) => touched.has(id));
  return now.flatMap((supply) => sayAfter(tx, supply, touched.get(supply.id) ?? 0)).join(' ');
}

/** What is free goes first, then what garments hold, which is released: what was weighed is gone. Gives what was missing. */
function takeOne(tx: Tx, supplyId: number, amount: number, { lot, logId }: WeighedAtPot): number {
  const post = (of: number, mayTake: (each: SupplyLot) => number) => {
    const lots = readSupplyLots(tx, supplyId).map((each) => ({ ...each, mayTake: mayTake(each) }));
    const { draws, missing } = takeFromLots(lots, of, lot);
    for (const draw of draws) {
      releaseFor(tx, supplyId, draw, logId);
      postSupply(tx, {
        lotId: draw.lotId,
        kind: 'used',
        amount: -draw.amount,
        costMinor: 0 - draw.costMinor,
        batchLogId: logId,
      });
    }
    return missing;
  };
  const left = post(amount, freeOf);
  return left === 0 ? 0 : post(left, ({ onHand }) => onHand);
}

/** Releases of a lot what garments hold beyond what is left of it, the garment that came last first. */
function releaseFor(
  tx: Tx,
  supplyId: number,
  { lotId, amount }: { readonly lotId: number; readonly amount: number },
  logId: number,
): void {
  const lot = readSupplyLots(tx, supplyId).find(({ id }) => id === lotId);
  let over = lot ? amount - freeOf(lot) : 0;
  for (const hold of readSupplyHolds(tx, supplyId).toReversed()) {
    const part = hold.lotId === lotId ? Math.min(hold.held, over) : 0;
    if (part <= 0) continue;
    postSupply(tx, {
      lotId,
      kind: 'released',
      amount: 0,
      held: -part,
      costMinor: 0,
      garmentId: hold.garmentId,
      batchLogId: logId,
    });
    over -= part;
  }
}

function sayAfter(tx: Tx, supply: StockedSupply, missing: number): string[] {
  const say = (amount: number) => sayStock(amount, supply.measure, readUnits(tx, tx.personId));
  if (missing > 0) return [`The stock had ${say(missing)} too little of ${supply.name}: count it.`];
  return isLow(supply) ? [`${supply.name} is low: ${say(supply.onHand)} left.`] : [];
}

/** Gives back what rows of the log took; says which supplies were counted since and keep their count. */
export function returnWeighed(tx: Tx, logIds: readonly number[]): string {
  const counted = giveBackWeighed(tx, logIds);
  return counted.map((name) => `${name} was counted since: the stock stays as counted.`).join(' ');
}

/** The supplies that are on the list. */
export function readKeptSupplies(reader: Reader): StockedSupply[] {
  return readSupplies(reader).filter(({ gone }) => gone === '');
}
