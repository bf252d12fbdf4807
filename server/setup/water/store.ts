import type { DatedWater } from '../../../src/dye/water.ts';
import type { Reader } from '../../database/book.ts';
import { prepared } from '../../database/statements.ts';
import { readTyped } from '../../kit/typed.ts';

/** A measuring of the workroom's water. */
export type WaterTest = ReturnType<typeof readWaterTests>[number];

export const WATER_PATH = '/setup/water';

/** All tests of the water, the one that counts now first: the newest day, of one day the row written last. */
export function readWaterTests(reader: Reader) {
  const rows = reader.all(
    reader.db
      .selectFrom('water_test')
      .innerJoin('person', 'person.id', 'water_test.person_id')
      .selectAll('water_test')
      .select('person.name as person')
      .orderBy('on_day', 'desc')
      .orderBy('water_test.id', 'desc'),
  );
  return rows.map((row) => ({
    id: row.id,
    onDay: row.on_day,
    alkalinityTenths: row.alkalinity_tenths,
    hardnessTenths: row.hardness_tenths,
    pHTenths: row.ph_tenths,
    source: row.source,
    typed: readTyped(row.typed),
    at: row.at,
    person: row.person,
  }));
}

const lastWater = prepared((db) =>
  db
    .selectFrom('water_test')
    .select(['on_day', 'alkalinity_tenths', 'hardness_tenths', 'ph_tenths'])
    .orderBy('on_day', 'desc')
    .orderBy('id', 'desc')
    .limit(1),
);

/** The water as it was measured last; null where nobody has. */
export function readWater(reader: Reader): DatedWater | null {
  const row = reader.first(lastWater());
  if (!row) return null;
  const { on_day: onDay, alkalinity_tenths, hardness_tenths, ph_tenths } = row;
  return { onDay, alkalinityTenths: alkalinity_tenths, hardnessTenths: hardness_tenths, pHTenths: ph_tenths };
}
