import { lengthFor } from '../../src/supply/lengths.ts';
import { takeFromLots } from '../../src/supply/taking.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { supplyPath } from '../kit/paths.ts';
import { listed } from '../kit/words.ts';
import { readUnits } from '../kit/workroom.ts';
import { postSupply } from '../ledger/supplies.ts';
import { invalid } from '../refusal.ts';
import { freeOf, isInLengths, readSupply, readSupplyLots } from './store.ts';
import { sayNoLength, sayStock } from './words.ts';

const holdsOfSupply = prepared((db, supplyId: Param<number>) =>
  db
    .selectFrom('supply_hold')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_hold.supply_lot_id')
    .innerJoin('garment', 'garment.id', 'supply_hold.garment_id')
    .select(['supply_hold.supply_lot_id as lotId', 'supply_hold.held'])
    .select(['garment.id as garmentId', 'garment.code', 'garment.name'])
    .where('supply_lot.supply_id', '=', supplyId)
    .orderBy('garment.id')
    .orderBy('supply_hold.supply_lot_id'),
);

/** What garments hold of a supply, lot by lot. */
export function readSupplyHolds(reader: Reader, supplyId: number) {
  return reader.all(holdsOfSupply(supplyId));
}

/** "G1 and G3": the garments that hold some of a supply, or of one lot of it. */
export function sayHolders(reader: Reader, supplyId: number, lotId: number | null = null): string {
  const holds = readSupplyHolds(reader, supplyId).filter((hold) => lotId === null || hold.lotId === lotId);
  return listed([...new Set(holds.map(({ code }) => code))]);
}

interface Promised {
  readonly amount: number;
  readonly typed: string;
  readonly garmentId: number;
  readonly why: string;
}

/** Promises some of what is free to a garment. @throws {Refusal} invalid where less is free */
export function holdSupply(
  tx: Tx,
  supplyId: number,
  { lotId, joined, ...hold }: Promised & { readonly lotId: number | null; readonly joined: boolean },
): Answer {
  const supply = readSupply(tx, supplyId);
  const say = (amount: number) => sayStock(amount, supply.measure, readUnits(tx, tx.personId));
  const lots = readSupplyLots(tx, supplyId)
    .filter(({ id }) => lotId === null || id === lotId)
    .map((lot) => ({ ...lot, mayTake: freeOf(lot) }));
  const isWhole = isInLengths(supply) && !joined;
  const length = isWhole ? lengthFor(lots, hold.amount) : null;
  if (isWhole && !length) throw invalid('amount', sayNoLength(hold.amount, lots, readUnits(tx, tx.personId)));
  const { draws, missing } = takeFromLots(length ? [length] : lots, hold.amount);
  if (missing > 0) throw invalid('amount', `Amount: ${say(hold.amount - missing)} is free. Enter less.`);
  const { garmentId, typed, why } = hold;
  for (const draw of draws)
    postSupply(tx, {
      lotId: draw.lotId,
      kind: 'held',
      amount: 0,
      held: draw.amount,
      costMinor: 0,
      garmentId,
      typed,
      why,
    });
  return { location: supplyPath(supplyId), said: `Held: ${say(hold.amount)} of ${supply.name}.` };
}

/** Frees what a garment holds, or a part of it. @throws {Refusal} invalid where it holds less */
export function releaseSupply(
  tx: Tx,
  supplyId: number,
  { amount, ...release }: Omit<Promised, 'amount'> & { readonly amount: number | null },
): Answer {
  const supply = readSupply(tx, supplyId);
  const say = (of: number) => sayStock(of, supply.measure, readUnits(tx, tx.personId));
  const { garmentId, typed, why } = release;
  const holds = readSupplyHolds(tx, supplyId).filter((hold) => hold.garmentId === garmentId);
  const held = holds.reduce((sum, hold) => sum + hold.held, 0);
  const wanted = amount ?? held;
  if (wanted > held)
    throw invalid('amount', `Amount: ${say(held)} is held for it. Enter less, or leave it blank for all.`);
  let left = wanted;
  for (const hold of holds) {
    const part = Math.min(hold.held, left);
    if (part === 0) continue;
    postSupply(tx, {
      lotId: hold.lotId,
      kind: 'released',
      amount: 0,
      held: 0 - part,
      costMinor: 0,
      garmentId,
      typed,
      why,
    });
    left -= part;
  }
  return { location: supplyPath(supplyId), said: `Released: ${say(wanted)} of ${supply.name}.` };
}
