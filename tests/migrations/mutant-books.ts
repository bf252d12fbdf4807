import BetterSqlite3 from 'better-sqlite3';
import type { Mutant, Rule } from './mutants.ts';
import { insert, type Row } from './sql.ts';

/** The book of a file's bytes with one of its rules written otherwise. What is in it stays as it is. */
export function openMutant(bytes: Buffer, { rule, sql }: Mutant): BetterSqlite3.Database {
  const db = new BetterSqlite3(bytes);
  db.unsafeMode(true);
  db.pragma('writable_schema = ON');
  if (sql === '') db.prepare('DELETE FROM sqlite_schema WHERE name = ?').run(rule.name);
  else db.prepare('UPDATE sqlite_schema SET sql = ? WHERE name = ?').run(sql, rule.name);
  db.pragma('writable_schema = RESET');
  db.unsafeMode(false);
  return db;
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
  const first = ['workroom', 'person'].flatMap((table) =>
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
