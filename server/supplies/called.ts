import { showSupplyAmount } from '../../src/supply/amount.ts';
import { type SupplyCall, type SupplyOnOrder, supplyCalls } from '../../src/supply/short.ts';
import { supplyNeeds, type ThingToWeigh } from '../../src/supply/weighed.ts';
import type { Reader } from '../database/book.ts';
import { batchPath, garmentPath, supplyPath } from '../kit/paths.ts';
import type { Asker } from '../web/house.ts';
import type { StockedSupply } from './store.ts';
import { readWantedSupplies } from './wanted.ts';
import { readKeptSupplies } from './weighed.ts';
import { sayLengthsToGet, sayStock } from './words.ts';

/** What the dye bench tells of the batches that it has planned or in the pot, and orders of what they still bring. */
export interface SuppliesTold {
  readToWeigh(reader: Reader): readonly ThingToWeigh[];
  /** by supply, in its measure */
  readOnOrder(reader: Reader): ReadonlyMap<number, SupplyOnOrder>;
}

const NOTHING_ON_ORDER: SupplyOnOrder = { amount: 0, lengths: [] };

/** What is called for of the supplies, and the names of what is to be weighed and kept as no supply. */
export function readCalledFor(
  reader: Reader,
  told: SuppliesTold,
): { readonly calls: SupplyCall<StockedSupply>[]; readonly notKept: readonly string[] } {
  const kept = readKeptSupplies(reader);
  // Batches are worked out only where one of the supplies is weighed for them.
  const isWeighed = kept.some(({ dyeId, auxiliary }) => dyeId !== null || auxiliary !== null);
  const { needs, notKept } = supplyNeeds(isWeighed ? told.readToWeigh(reader) : [], kept);
  const onOrder = told.readOnOrder(reader);
  const calls = supplyCalls(
    needs,
    readWantedSupplies(reader, kept),
    ({ id }) => onOrder.get(id) ?? NOTHING_ON_ORDER,
  );
  return { calls, notKept };
}

/** What is called for of a supply, as pages show it. */
export function shapeCall(call: SupplyCall<StockedSupply>, { units }: Pick<Asker, 'units'>) {
  const { supply, shortBy, toGet, onOrder } = call;
  const up = (amount: number) => (amount === 0 ? '' : showSupplyAmount(amount, supply.measure, units, 'up'));
  return {
    name: supply.name,
    href: supplyPath(supply.id),
    forBatches: up(call.forBatches),
    forGarments: up(call.forGarments),
    of: [
      ...call.batches.map((code) => ({ href: batchPath(code), text: code })),
      ...call.garments.map((code) => ({ href: garmentPath(code), text: code })),
    ],
    free: sayStock(supply.free, supply.measure, units),
    /** '' where nothing is */
    onOrder: onOrder === 0 ? '' : sayStock(onOrder, supply.measure, units),
    /** '' where there is enough */
    shortBy: up(shortBy),
    /** '' where there is enough, or enough is on order */
    toGet: up(toGet),
    /** "in one length of 4.2 m; the longest free is 3.1 m"; '' where it may be joined or is not kept by lengths */
    inLengths: sayLengthsToGet(call.lengthsToGet, supply.freeLengths ?? [], units),
  };
}
