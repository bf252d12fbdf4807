import { DYES, LOTS, OFFERS, PEOPLE, RECIPES, TIERS, VESSELS } from './bench.ts';
import type { ListOut } from './cells.ts';
import { BATCHES, CLOTHS, GARMENTS, ORDERS, PLACES, SHADES, SUPPLIERS } from './records.ts';
import { LEDGER, PIECES } from './shelf.ts';

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
