import type { Reader } from '../database/book.ts';
import { readToWeigh } from '../dye-bench/batch/to-weigh.ts';
import { sayShortSupplies } from '../supplies/short-of.ts';
import { readKeptSupplies } from '../supplies/weighed.ts';
import type { Asker } from '../web/house.ts';

/** Supplies that have too little for the batches that are planned or in the pot, a sentence each. */
export function readShortSupplies(reader: Reader, asker: Pick<Asker, 'units'>): string[] {
  // Batches are worked out only where one of the supplies is weighed for them.
  const isWeighed = readKeptSupplies(reader).some(
    ({ dyeId, auxiliary }) => dyeId !== null || auxiliary !== null,
  );
  return isWeighed ? sayShortSupplies(reader, readToWeigh(reader), asker) : [];
}
