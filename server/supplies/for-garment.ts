import { sql } from 'kysely';
import { divideRounded, exactly, stored } from '../../src/quantity/figure-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import { showSupplyAmount } from '../../src/supply/amount.ts';
import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { supplyPath } from '../kit/paths.ts';
import type { Asker } from '../web/house.ts';
import { readSupplies } from './store.ts';
import { readWantedSupplies } from './wanted.ts';
import { sayStock } from './words.ts';

const usedForGarment = prepared((db, garmentId: Param<number>) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
    .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
    .select(['supply.id', 'supply.name', 'supply.measure'])
    .select([
      sql<number>`sum(-supply_entry.amount)`.as('amount'),
      sql<number>`sum(-supply_entry.cost_minor)`.as('minor'),
    ])
    .where('supply_entry.garment_id', '=', garmentId)
    .groupBy('supply.id')
    // What was undone is there twice, once with the other sign.
    .having(sql<number>`sum(-supply_entry.amount)`, '>', 0)
    .orderBy('supply.name'),
);

/** What was used of the supplies for a garment and what that cost, the cost all together in minor units too. */
export function readUsedForGarment(reader: Reader, garmentId: number, { units, currency }: Asker) {
  const rows = reader.all(usedForGarment(garmentId));
  const minor = rows.reduce((sum, row) => sum + row.minor, 0);
  return {
    minor,
    rows: rows.map((row) => ({
      name: row.name,
      href: supplyPath(row.id),
      amount: sayStock(row.amount, row.measure, units),
      cost: showMoney(row.minor, currency),
    })),
    cost: showMoney(minor, currency),
  };
}

/**
 * What a garment still takes of the supplies besides what was used for it, and what that will cost by what is on hand of
 * each: the cost in minor units counts those of which there is some, at a price.
 */
export function readStillForGarment(reader: Reader, code: string, { units, currency }: Asker) {
  const kept = readSupplies(reader).filter(({ gone }) => gone === '');
  const rows = readWantedSupplies(reader, kept, code).map(({ supply, amount }) => {
    const { name, id, measure, onHand, costMinor } = supply;
    const minor =
      onHand > 0 && costMinor > 0
        ? stored(divideRounded(exactly(costMinor) * exactly(amount), exactly(onHand), 'near'))
        : null;
    const cost = minor === null ? 'no price known' : showMoney(minor, currency);
    const shown = showSupplyAmount(amount, measure, units, 'up');
    return { minor, row: { name, href: supplyPath(id), amount: shown, cost } };
  });
  const minor = rows.reduce((sum, row) => sum + (row.minor ?? 0), 0);
  return { minor, rows: rows.map(({ row }) => row), cost: showMoney(minor, currency) };
}
