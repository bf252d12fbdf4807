import { RESERVATIONS, RETURNS, SAMPLES } from './asked.ts';
import type { ListOut } from './cells.ts';
import { BATCHES, DYES, RECIPES, SERIES, SWATCHES, VESSELS } from './dye-bench.ts';
import { GARMENT_PARTS, GARMENTS, TIERS } from './garments.ts';
import { DELIVERED, OFFERS, ORDERS, SUPPLIERS } from './orders.ts';
import { CLOTHS, LEDGER, LOTS, PIECES, PLACES, PLEATING, SHADES } from './shelf.ts';
import { SUPPLIES, SUPPLIES_DELIVERED, SUPPLY_LOTS, SUPPLY_OFFERS, SUPPLY_ORDERS } from './supplies.ts';

const PEOPLE: ListOut = {
  name: 'people',
  what: 'Who works here, and who left.',
  heading: ['Name', 'Units', 'Left'],
  rows: (reader) =>
    reader
      .all(reader.db.selectFrom('person').selectAll().orderBy('id'))
      .map((row) => [row.name, row.length_system ?? '', row.left_at ?? '']),
};

/** Every list that goes out, in the order of the page. */
export const LISTS_OUT: readonly ListOut[] = [
  PIECES,
  LOTS,
  LEDGER,
  CLOTHS,
  SHADES,
  PLACES,
  PLEATING,
  SUPPLIERS,
  OFFERS,
  ORDERS,
  SUPPLIES,
  SUPPLY_LOTS,
  SUPPLY_OFFERS,
  SUPPLY_ORDERS,
  SUPPLIES_DELIVERED,
  DELIVERED,
  RETURNS,
  RESERVATIONS,
  SAMPLES,
  GARMENTS,
  TIERS,
  GARMENT_PARTS,
  BATCHES,
  RECIPES,
  SWATCHES,
  SERIES,
  DYES,
  VESSELS,
  PEOPLE,
];
