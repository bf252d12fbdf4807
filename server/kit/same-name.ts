import type { Reader, Tx } from '../database/book.ts';
import { Refusal } from '../refusal.ts';

/** A row of the book that has a name of its own. */
export interface Named {
  readonly id: number;
  readonly name: string;
}

type NamedTable = 'cloth' | 'shade' | 'supplier' | 'place' | 'person' | 'dye' | 'vessel' | 'supply';

/** What is one name to a reader: the case of letters and the width of spaces tell nothing apart. */
export function nameKey(name: string): string {
  return name.normalize('NFC').trim().replace(/\s+/gu, ' ').toUpperCase().toLowerCase();
}

/** The oldest row that has this name, as `nameKey` tells names apart. */
export function findNamed(reader: Reader, table: NamedTable, name: string): Named | undefined {
  return namedIn(reader, table).find((row) => nameKey(row.name) === nameKey(name));
}

function namedIn(reader: Reader, table: NamedTable): readonly Named[] {
  return reader.all(reader.db.selectFrom(table).select(['id', 'name']).orderBy('id'));
}

/**
 * Refuses a name that another row has, with a link to it. A row of an older book that shares its name may keep it.
 *
 * @throws {Refusal} invalid, at the field
 */
export function refuseSameName(
  tx: Tx,
  asked: {
    readonly table: NamedTable;
    readonly name: string;
    /** the row that is changed; null for a new one */
    readonly id: number | null;
    /** the field it was typed in; `name` unless said */
    readonly field?: string;
    hrefOf(id: number): string;
    /** where the one that is there stands, such as "put away" */
    whereIs?(id: number): string;
  },
): void {
  const { table, name, id, field = 'name' } = asked;
  const rows = namedIn(tx, table);
  if (rows.some((row) => row.id === id && row.name === name)) return;
  const same = rows.find((row) => row.id !== id && nameKey(row.name) === nameKey(name));
  if (!same) return;
  const where = asked.whereIs ? `, ${asked.whereIs(same.id)}` : '';
  const message = `There is a ${table} ${same.name} already${where}.`;
  const wayOn = { text: `See ${same.name}`, href: asked.hrefOf(same.id) };
  throw new Refusal('invalid', message, [{ field, message }], wayOn);
}
