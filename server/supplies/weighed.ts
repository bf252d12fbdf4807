import { takeFromLots } from '../../src/supply/taking.ts';
import { amountWeighed, supplyFor, type WeighedThing } from '../../src/supply/weighed.ts';
import type { Reader, Tx } from '../database/book.ts';
import { readUnits } from '../kit/workroom.ts';
import { giveBackWeighed, postSupply } from '../ledger/supplies.ts';
import { isLow, readSupplies, readSupplyLots, type StockedSupply } from './store.ts';
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
    const { draws, missing } = takeFromLots(readSupplyLots(tx, supply.id), amount, thing.lot);
    touched.set(supply.id, (touched.get(supply.id) ?? 0) + missing);
    for (const draw of draws) {
      postSupply(tx, {
        lotId: draw.lotId,
        kind: 'used',
        amount: -draw.amount,
        costMinor: 0 - draw.costMinor,
        batchLogId: thing.logId,
      });
    }
  }
  const now = readKeptSupplies(tx).filter(({ id }) => touched.has(id));
  return now.flatMap((supply) => sayAfter(tx, supply, touched.get(supply.id) ?? 0)).join(' ');
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
