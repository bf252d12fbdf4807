import type { Reader } from '../../database/book.ts';
import { readLastLots } from '../pot/log-store.ts';

/** The lot to offer for each dye or auxiliary by name: that of the tub in the list of dyes, else the one weighed last. */
export function readDyeLots(reader: Reader, names: readonly string[]): ReadonlyMap<string, string> {
  const wanted = [...new Set(names)];
  if (wanted.length === 0) return new Map();
  const tubs = reader.all(
    reader.db
      .selectFrom('dye')
      .select(['name', 'lot'])
      .where('name', 'in', wanted)
      .where('lot', '<>', '')
      .where('gone_at', 'is', null),
  );
  return new Map([...readLastLots(reader, wanted), ...tubs.map(({ name, lot }) => [name, lot] as const)]);
}
