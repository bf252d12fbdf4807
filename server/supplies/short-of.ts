import { showSupplyAmount } from '../../src/supply/amount.ts';
import { supplyNeeds, type ThingToWeigh } from '../../src/supply/weighed.ts';
import type { Reader } from '../database/book.ts';
import type { Asker } from '../web/house.ts';
import { readKeptSupplies } from './weighed.ts';
import { sayStock } from './words.ts';

/** Supplies of which too little is free for what one batch weighs: "Soda ash: 50 g needed, 12 g free." */
export function sayShortSupplies(
  reader: Reader,
  things: readonly ThingToWeigh[],
  { units }: Pick<Asker, 'units'>,
): string[] {
  const { needs } = supplyNeeds(things, readKeptSupplies(reader));
  return needs
    .filter(({ supply, amount }) => amount > supply.free)
    .map(({ supply, amount }) => {
      const needed = showSupplyAmount(amount, supply.measure, units, 'up');
      return `${supply.name}: ${needed} needed, ${sayStock(supply.free, supply.measure, units)} free.`;
    });
}
