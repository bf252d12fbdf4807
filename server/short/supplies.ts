import { showSupplyAmount } from '../../src/supply/amount.ts';
import type { Reader } from '../database/book.ts';
import { readToWeigh } from '../dye-bench/batch/to-weigh.ts';
import { listed } from '../kit/words.ts';
import { sayShortSupplies } from '../supplies/short-of.ts';
import { readSupplies } from '../supplies/store.ts';
import { readWantedSupplies } from '../supplies/wanted.ts';
import { readKeptSupplies } from '../supplies/weighed.ts';
import { sayStock } from '../supplies/words.ts';
import type { Asker } from '../web/house.ts';

/** Supplies that have too little for batches and for open garments, a sentence each. */
export function readShortSupplies(reader: Reader, asker: Pick<Asker, 'units'>): string[] {
  return [...shortForBatches(reader, asker), ...readShortForGarments(reader, asker)];
}

/** Supplies that have too little for what garments, or one of them, take besides cloth. */
export function readShortForGarments(
  reader: Reader,
  { units }: Pick<Asker, 'units'>,
  only: string | null = null,
): string[] {
  const kept = readSupplies(reader).filter(({ gone }) => gone === '');
  return readWantedSupplies(reader, kept)
    .filter(({ shortBy, garments }) => shortBy > 0 && (only === null || garments.includes(only)))
    .map(({ supply, amount, garments }) => {
      const needed = showSupplyAmount(amount, supply.measure, units, 'up');
      return `${supply.name}: ${needed} needed for ${listed(garments)}, ${sayStock(supply.onHand, supply.measure, units)} on hand.`;
    });
}

/** Supplies that have too little for the batches that are planned or in the pot. */
function shortForBatches(reader: Reader, asker: Pick<Asker, 'units'>): string[] {
  // Batches are worked out only where one of the supplies is weighed for them.
  const isWeighed = readKeptSupplies(reader).some(
    ({ dyeId, auxiliary }) => dyeId !== null || auxiliary !== null,
  );
  return isWeighed ? sayShortSupplies(reader, readToWeigh(reader), asker) : [];
}
