import { sql } from 'kysely';
import { divideRounded, exactly, stored } from '../../src/quantity/figure-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import { showSupplyAmount } from '../../src/supply/amount.ts';
import { costOfPart } from '../../src/supply/taking.ts';
import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { grouped } from '../kit/grouped.ts';
import { supplyPath } from '../kit/paths.ts';
import type { Asker } from '../web/house.ts';
import { readSupplies } from './store.ts';
import { readWantedSupplies } from './wanted.ts';
import { sayStock } from './words.ts';

const suppliesUsedFor = prepared((db, garmentId: Param<number>) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
    .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
    .innerJoin('supply_entry as came', (join) =>
      join.onRef('came.supply_lot_id', '=', 'supply_lot.id').on('came.kind', '=', 'received'),
    )
    .select(['supply.id', 'supply.name', 'supply.measure', 'came.cost_minor as paid'])
    .select([
      sql<number>`sum(-supply_entry.amount)`.as('amount'),
      sql<number>`sum(-supply_entry.cost_minor)`.as('minor'),
    ])
    .where('supply_entry.garment_id', '=', garmentId)
    .groupBy('supply_lot.id')
    // What was undone is there twice, once with the other sign.
    .having(sql<number>`sum(-supply_entry.amount)`, '>', 0),
);
const suppliesHeldFor = prepared((db, garmentId: Param<number>) =>
  db
    .selectFrom('supply_hold')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_hold.supply_lot_id')
    .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
    .innerJoin('supply_entry as came', (join) =>
      join.onRef('came.supply_lot_id', '=', 'supply_lot.id').on('came.kind', '=', 'received'),
    )
    .select(['supply.id', 'supply.name', 'supply.measure', 'came.cost_minor as paid'])
    .select([
      'supply_hold.held as amount',
      'supply_lot.on_hand as onHand',
      'supply_lot.cost_minor as costMinor',
    ])
    .where('supply_hold.garment_id', '=', garmentId),
);

/**
 * What was used of the supplies for a garment and what is held for it, at what was paid for the lots; of a lot that came
 * without a price nothing is known, and its supply is named. Money in minor units.
 */
export function readSuppliesOfGarment(reader: Reader, garmentId: number, { units, currency }: Asker) {
  const used = reader.all(suppliesUsedFor(garmentId)).map((row) => ({ ...row, isHeld: false }));
  const held = reader.all(suppliesHeldFor(garmentId)).map((row) => ({
    ...row,
    minor: costOfPart(row, row.amount),
    isHeld: true,
  }));
  const all = [...used, ...held];
  const sumOf = (rows: readonly (typeof all)[number][]) => ({
    amount: rows.reduce((sum, row) => sum + row.amount, 0),
    minor: rows.reduce((sum, row) => sum + row.minor, 0),
  });
  const supplies = [...grouped(all, ({ id }) => id).values()].flatMap((own) => {
    const [first] = own;
    if (!first) return [];
    const say = (rows: typeof own) =>
      rows.length === 0 ? '' : sayStock(sumOf(rows).amount, first.measure, units);
    return [
      {
        name: first.name,
        href: supplyPath(first.id),
        used: say(own.filter(({ isHeld }) => !isHeld)),
        held: say(own.filter(({ isHeld }) => isHeld)),
        cost: showMoney(sumOf(own).minor, currency),
        /** whether some of it came without a price */
        unknown: own.some(({ paid }) => paid === 0),
      },
    ];
  });
  return {
    usedMinor: sumOf(used).minor,
    heldMinor: sumOf(held).minor,
    rows: supplies.toSorted((a, b) => a.name.localeCompare(b.name)),
    unknown: supplies.filter(({ unknown }) => unknown).map(({ name }) => name),
    cost: showMoney(sumOf(all).minor, currency),
  };
}

/**
 * What a garment still takes of the supplies besides what was used for it, and what that will cost by what is on hand of
 * each: the cost in minor units counts those of which there is some, at a price.
 */
export function readStillForGarment(reader: Reader, code: string, { units, currency }: Asker) {
  const kept = readSupplies(reader).filter(({ gone }) => gone === '');
  const rows = readWantedSupplies(reader, kept, new Set([code])).map(({ supply, amount }) => {
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
