import { showSupplyAmount } from '../../src/supply/amount.ts';
import { supplyNeeds, type ThingToWeigh } from '../../src/supply/weighed.ts';
import type { Reader } from '../database/book.ts';
import type { Asker } from '../web/house.ts';
import { readKeptSupplies } from './weighed.ts';
import { sayStock } from './words.ts';

/** Supplies that have too little for what is to be weighed: "Soda ash: 50 g needed, 12 g on hand." */
export function sayShortSupplies(
  reader: Reader,
  things: readonly ThingToWeigh[],
  { units }: Pick<Asker, 'units'>,
): string[] {
  const { needs } = supplyNeeds(things, readKeptSupplies(reader));
  return needs
    .filter(({ shortBy }) => shortBy > 0)
    .map(({ supply, amount }) => {
      const needed = showSupplyAmount(amount, supply.measure, units, 'up');
      return `${supply.name}: ${needed} needed, ${sayStock(supply.onHand, supply.measure, units)} on hand.`;
    });
}
