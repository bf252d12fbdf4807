import BetterSqlite3 from 'better-sqlite3';
import type { Mutant, Rule } from './mutants.ts';
import { insert, type Row } from './sql.ts';

/**
 * Opens books of a file's bytes with one of their rules written otherwise; what is in them stays as it is. The rule is
 * written in the bytes, so that a book reads its rules once.
 */
export function mutantsOfBytes(bytes: Buffer): (mutant: Mutant) => BetterSqlite3.Database {
  const file = new BetterSqlite3(bytes);
  file.unsafeMode(true);
  file.pragma('writable_schema = ON');
  const find = file.prepare('SELECT rowid, * FROM sqlite_schema WHERE name = ?');
  const drop = file.prepare('DELETE FROM sqlite_schema WHERE name = ?');
  const write = file.prepare('UPDATE sqlite_schema SET sql = ? WHERE name = ?');
  const putBack = file.prepare(
    'REPLACE INTO sqlite_schema (rowid, type, name, tbl_name, rootpage, sql) VALUES (@rowid, @type, @name, @tbl_name, @rootpage, @sql)',
  );
  return ({ rule, sql }) => {
    const sound = find.get(rule.name);
    if (sql === '') drop.run(rule.name);
    else write.run(sql, rule.name);
    const written = file.serialize();
    putBack.run(sound);
    return new BetterSqlite3(written);
  };
}

/**
 * An empty book made anew of the rules, with one of them written otherwise: a table without one of its UNIQUE has
 * one index less, which cannot be had by writing the rule otherwise.
 */
export function buildMutant(
  empty: BetterSqlite3.Database,
  rules: readonly Rule[],
  mutant: Mutant,
): BetterSqlite3.Database {
  const db = new BetterSqlite3(':memory:');
  const written = (rule: Rule) => (rule.name === mutant.rule.name ? mutant.sql : rule.sql);
  const ofType = (wanted: (type: Rule['type']) => boolean) =>
    rules.filter(({ type }) => wanted(type)).map(written);
  const first = ['workroom', 'person', 'device'].flatMap((table) =>
    (empty.prepare(`SELECT * FROM ${table}`).all() as Row[]).map((row) => insert(table, row)),
  );
  db.exec(
    [
      ...ofType((type) => type !== 'trigger'),
      ...first,
      ...ofType((type) => type === 'trigger').filter((sql) => sql !== ''),
    ].join(';\n'),
  );
  return db;
}
