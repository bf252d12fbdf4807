import type BetterSqlite3 from 'better-sqlite3';
import type { Attack } from './attacks.ts';
import { ATTACKS_ON_ASKED } from './attacks-on-asked.ts';
import { ATTACKS_ON_BALANCES } from './attacks-on-balances.ts';
import { ATTACKS_ON_BATHS } from './attacks-on-baths.ts';
import { ATTACKS_ON_BUYING } from './attacks-on-buying.ts';
import { ATTACKS_ON_COLOURS } from './attacks-on-colours.ts';
import { attacksOnColumns } from './attacks-on-columns.ts';
import { ATTACKS_ON_DYE_AMOUNTS } from './attacks-on-dye-amounts.ts';
import { ATTACKS_ON_DYE_RECORD } from './attacks-on-dye-record.ts';
import { ATTACKS_ON_ENTRIES } from './attacks-on-entries.ts';
import { ATTACKS_ON_FLAWS } from './attacks-on-flaws.ts';
import { ATTACKS_ON_LOT_SHADES } from './attacks-on-lot-shades.ts';
import { ATTACKS_ON_OTHER_USES } from './attacks-on-other-uses.ts';
import { ATTACKS_ON_PAIRS } from './attacks-on-pairs.ts';
import { ATTACKS_ON_PAPERS } from './attacks-on-papers.ts';
import {
  ATTACKS_ON_MEASURES,
  ATTACKS_ON_PARTS,
  ATTACKS_ON_PARTS_CUT,
  ATTACKS_ON_PLEATING,
  ATTACKS_ON_STRIPS_PLEATED,
  ATTACKS_ON_WASH_TESTS,
} from './attacks-on-parts.ts';
import { ATTACKS_ON_PHOTOS } from './attacks-on-photos.ts';
import { ATTACKS_ON_PLANS } from './attacks-on-plans.ts';
import { ATTACKS_ON_SUPPLIES } from './attacks-on-supplies.ts';
import { ATTACKS_ON_SUPPLY_COSTS, ATTACKS_ON_SUPPLY_LENGTHS } from './attacks-on-supply-lengths.ts';
import { ATTACKS_ON_SUPPLY_ORDERS } from './attacks-on-supply-orders.ts';
import { ATTACKS_ON_SWATCHES } from './attacks-on-swatches.ts';
import { ATTACKS_ON_TABLES } from './attacks-on-tables.ts';
import { ATTACKS_ON_VERSIONS } from './attacks-on-versions.ts';
import { ATTACKS_ON_WHAT_IS_ADDED } from './attacks-on-what-is-added.ts';
import { ATTACKS_ON_WHAT_STAYS } from './attacks-on-what-stays.ts';

/** All that is tried on a book; `db` is a sound one, from which the attacks on columns are read off. */
export function everyAttack(db: BetterSqlite3.Database): Attack[] {
  return [
    ...ATTACKS_ON_ENTRIES,
    ...ATTACKS_ON_PAIRS,
    ...ATTACKS_ON_BALANCES,
    ...ATTACKS_ON_OTHER_USES,
    ...ATTACKS_ON_TABLES,
    ...ATTACKS_ON_PAPERS,
    ...ATTACKS_ON_PARTS,
    ...ATTACKS_ON_PARTS_CUT,
    ...ATTACKS_ON_MEASURES,
    ...ATTACKS_ON_PLEATING,
    ...ATTACKS_ON_STRIPS_PLEATED,
    ...ATTACKS_ON_WASH_TESTS,
    ...ATTACKS_ON_LOT_SHADES,
    ...ATTACKS_ON_PHOTOS,
    ...ATTACKS_ON_PLANS,
    ...ATTACKS_ON_FLAWS,
    ...ATTACKS_ON_VERSIONS,
    ...ATTACKS_ON_WHAT_STAYS,
    ...ATTACKS_ON_WHAT_IS_ADDED,
    ...ATTACKS_ON_DYE_AMOUNTS,
    ...ATTACKS_ON_DYE_RECORD,
    ...ATTACKS_ON_SWATCHES,
    ...ATTACKS_ON_COLOURS,
    ...ATTACKS_ON_BATHS,
    ...ATTACKS_ON_BUYING,
    ...ATTACKS_ON_ASKED,
    ...ATTACKS_ON_SUPPLIES,
    ...ATTACKS_ON_SUPPLY_COSTS,
    ...ATTACKS_ON_SUPPLY_LENGTHS,
    ...ATTACKS_ON_SUPPLY_ORDERS,
    ...attacksOnColumns(db),
  ];
}
