import { sql } from 'kysely';
import { lackedOf } from '../../src/supply/short.ts';
import { type SupplyWanted, suppliesWanted, type WantedThing } from '../../src/supply/wanted.ts';
import type { Reader } from '../database/book.ts';
import { keptUntilWritten } from '../database/kept.ts';
import { prepared } from '../database/statements.ts';
import { readOpenGarments } from '../garments/garment/records.ts';
import { workGarments } from '../garments/garment/worked.ts';
import { workKeptParts } from '../garments/parts/kept.ts';
import { wantsOfGarment } from '../garments/parts/wants.ts';
import type { StockedSupply } from './store.ts';

/** Used for it, or held: what is used of a hold is a minus of both. */
const providedForGarments = prepared((db) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
    .innerJoin('garment', 'garment.id', 'supply_entry.garment_id')
    .select([
      'supply_lot.supply_id',
      'garment.code',
      sql<number>`sum(supply_entry.held - supply_entry.amount)`.as('amount'),
    ])
    .where('garment.finished_at', 'is', null)
    .groupBy(['supply_lot.supply_id', 'garment.code']),
);

/** What open garments take besides cloth: to close them, and for their parts. A page asks it for several of its lines. */
const thingsWanted = keptUntilWritten((reader): readonly WantedThing[] => {
  const garments = readOpenGarments(reader).filter(
    ({ openingTicks, parts }) => openingTicks !== null || parts.length > 0,
  );
  return workGarments(reader, garments).flatMap((worked) =>
    wantsOfGarment(worked, workKeptParts(reader, worked.garment.code)).flatMap(
      ({ what, ticks, lengths, count, isCloth }) =>
        isCloth ? [] : [{ what, ticks, lengths, count, garment: worked.garment.code }],
    ),
  );
});

/**
 * What open garments still take of supplies of the same name: hooks or a zip for their opening, and what their parts take. A
 * trim goes by the name of its part; hooks, steel, cord and the like by what they are called there. `of` are the codes of the
 * garments that are asked about; null is all of them.
 */
export function readWantedSupplies(
  reader: Reader,
  kept: readonly StockedSupply[],
  of: ReadonlySet<string> | null = null,
): SupplyWanted<StockedSupply>[] {
  const things = thingsWanted(reader).filter(({ garment }) => of === null || of.has(garment));
  const provided = new Map(
    reader.all(providedForGarments()).map(({ supply_id: id, code, amount }) => [`${id} ${code}`, amount]),
  );
  return suppliesWanted(things, kept, ({ id }, code) => provided.get(`${id} ${code}`) ?? 0);
}

/** What each garment lacks where those before it in the list take what is free first, by its code. */
export function readLackedByGarment(
  reader: Reader,
  kept: readonly StockedSupply[],
  codes: readonly string[],
): Map<string, { readonly supply: StockedSupply; readonly amount: number }[]> {
  const before = new Map<number, number>();
  return new Map(
    codes.map((code, at) => {
      const wanted = readWantedSupplies(reader, kept, new Set(codes.slice(0, at + 1)));
      const lacked = wanted.flatMap(({ supply, ...called }) => {
        const short = lackedOf(supply, called).amount;
        const more = short - (before.get(supply.id) ?? 0);
        before.set(supply.id, short);
        return more > 0 ? [{ supply, amount: more }] : [];
      });
      return [code, lacked];
    }),
  );
}
