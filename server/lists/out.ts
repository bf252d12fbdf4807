import type { ListOut } from './out-cells.ts';
import { BATCHES, CLOTHS, GARMENTS, ORDERS, PLACES, SHADES, SUPPLIERS } from './out-records.ts';
import { LEDGER, PIECES } from './out-shelf.ts';

/** Every list that goes out, in the order of the page. */
export const LISTS_OUT: readonly ListOut[] = [
  PIECES,
  LEDGER,
  CLOTHS,
  SHADES,
  PLACES,
  SUPPLIERS,
  ORDERS,
  GARMENTS,
  BATCHES,
];
