import { sql } from 'kysely';
import { type SupplyWanted, suppliesWanted, type WantedThing } from '../../src/supply/wanted.ts';
import type { Reader } from '../database/book.ts';
import { prepared } from '../database/statements.ts';
import { workKeptParts } from '../garments/parts/kept.ts';
import type { StockedSupply } from './store.ts';

const garmentsWithParts = prepared((db) =>
  db
    .selectFrom('garment')
    .select(['garment.id', 'garment.code'])
    .where('garment.finished_at', 'is', null)
    .where(({ exists, selectFrom }) =>
      exists(
        selectFrom('garment_part')
          .select('garment_part.id')
          .whereRef('garment_part.garment_id', '=', 'garment.id'),
      ),
    )
    .orderBy('garment.id'),
);
const usedForGarments = prepared((db) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
    .innerJoin('garment', 'garment.id', 'supply_entry.garment_id')
    .select(['supply_lot.supply_id', 'garment.code', sql<number>`sum(-supply_entry.amount)`.as('amount')])
    .where('garment.finished_at', 'is', null)
    .groupBy(['supply_lot.supply_id', 'garment.code']),
);

/**
 * What the parts of open garments still take of supplies of the same name. A trim goes by the name of its part; hooks,
 * steel, cord and the like by what they are called there.
 */
export function readWantedSupplies(
  reader: Reader,
  kept: readonly StockedSupply[],
): SupplyWanted<StockedSupply>[] {
  const things = reader.all(garmentsWithParts()).flatMap(({ id, code }) =>
    workKeptParts(reader, id).flatMap(({ kept: part, answer }) =>
      (answer?.wants ?? []).map(
        ({ what, ticks, count }): WantedThing => ({
          what: part.kind === 'trim' ? part.name : what,
          ticks: ticks === null ? null : ticks * part.pieces,
          count: count === null ? null : count * part.pieces,
          garment: code,
        }),
      ),
    ),
  );
  const used = new Map(
    reader.all(usedForGarments()).map(({ supply_id: id, code, amount }) => [`${id} ${code}`, amount]),
  );
  return suppliesWanted(things, kept, ({ id }, code) => used.get(`${id} ${code}`) ?? 0);
}
