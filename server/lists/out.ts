import { DYES, LOTS, OFFERS, PEOPLE, RECIPES, TIERS, VESSELS } from './out-bench.ts';
import type { ListOut } from './out-cells.ts';
import { BATCHES, CLOTHS, GARMENTS, ORDERS, PLACES, SHADES, SUPPLIERS } from './out-records.ts';
import { LEDGER, PIECES } from './out-shelf.ts';

/** Every list that goes out, in the order of the page. */
export const LISTS_OUT: readonly ListOut[] = [
  PIECES,
  LOTS,
  LEDGER,
  CLOTHS,
  SHADES,
  PLACES,
  SUPPLIERS,
  OFFERS,
  ORDERS,
  GARMENTS,
  TIERS,
  BATCHES,
  RECIPES,
  DYES,
  VESSELS,
  PEOPLE,
];
