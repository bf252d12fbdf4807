import type BetterSqlite3 from 'better-sqlite3';
import { takenApart } from './perform.ts';

/** The tables that some statements can write to; null where the database does not tell of each. */
export type Reach = ReadonlySet<string> | null;

/**
 * Reads off what the database itself makes of statements which tables they can write to, by triggers too: a rule of any
 * other table is never asked while they are carried out.
 */
export function reachOf(db: BetterSqlite3.Database): (statements: readonly string[]) => Reach {
  const tables = new Map(
    db.prepare('SELECT rootpage, tbl_name FROM sqlite_schema').raw().all() as [number, string][],
  );
  const known = new Map<string, Reach>();
  const explain = (sql: string): Reach => {
    const trigger = /^DROP TRIGGER (\w+)$/.exec(sql)?.[1];
    if (trigger) {
      const of = db.prepare('SELECT tbl_name FROM sqlite_schema WHERE name = ?').pluck().get(trigger);
      return typeof of === 'string' ? new Set([of]) : null;
    }
    let steps: unknown[][];
    try {
      const explained = db.prepare(`EXPLAIN ${sql}`).raw();
      steps = explained.all(...Array.from(sql.matchAll(/\?/g), () => null)) as unknown[][];
    } catch {
      return null;
    }
    // A step is its place, what it does, and what it does it with: the first page of the table stands second of these.
    const written = steps
      .filter(([, does]) => does === 'OpenWrite')
      .map((step) => tables.get(Number(step[3])));
    const cleared = steps.filter(([, does]) => does === 'Clear').map((step) => tables.get(Number(step[2])));
    return new Set([...written, ...cleared].filter((table) => table !== undefined));
  };
  return (statements) => {
    const reach = new Set<string>();
    for (const statement of statements) {
      const sql = takenApart(statement)?.sql ?? statement;
      const found = known.has(sql) ? known.get(sql) : explain(sql);
      known.set(sql, found ?? null);
      if (!found) return null;
      for (const table of found) reach.add(table);
    }
    return reach;
  };
}
