import { readdirSync, readFileSync } from 'node:fs';
import type BetterSqlite3 from 'better-sqlite3';

/** "Clth": marks the file as a Clothroom book. */
export const APPLICATION_ID = 0x43_6c_74_68;

export interface MigrationStep {
  readonly number: number;
  readonly name: string;
  readonly sql: string;
}

/** The frozen steps in order, read from a folder of `NNN-name.sql` files; a gap in the numbers is refused. */
export function readMigrationSteps(folder = new URL('../../migrations/', import.meta.url)): MigrationStep[] {
  const steps = readdirSync(folder)
    .filter((file) => file.endsWith('.sql'))
    .sort()
    .map((file) => ({
      number: Number(file.slice(0, 3)),
      name: file,
      sql: readFileSync(new URL(file, folder), 'utf8'),
    }));
  steps.forEach((step, index) => {
    if (step.number !== index + 1) throw new Error(`migration ${step.name} is out of order`);
  });
  return steps;
}

/** What a file is, before anything is written to it. */
export type Found = { kind: 'new' } | { kind: 'book'; version: number } | { kind: 'foreign' };

export function inspect(connection: BetterSqlite3.Database): Found {
  const application = connection.pragma('application_id', { simple: true });
  const version = Number(connection.pragma('user_version', { simple: true }));
  if (application === APPLICATION_ID) return { kind: 'book', version };
  const tables = connection.prepare('SELECT count(*) AS n FROM sqlite_schema').get() as { n: number };
  return application === 0 && version === 0 && tables.n === 0 ? { kind: 'new' } : { kind: 'foreign' };
}

/**
 * Carries out every step after `from`, all in one transaction with the version number, so that a failing step
 * leaves the file as it was. Foreign keys are off meanwhile (they cannot be switched inside a transaction)
 * and checked before the commit.
 */
export function migrate(
  connection: BetterSqlite3.Database,
  steps: readonly MigrationStep[],
  from: number,
): void {
  connection.pragma('foreign_keys = OFF');
  try {
    connection
      .transaction(() => {
        for (const step of steps) if (step.number > from) connection.exec(step.sql);
        connection.pragma(`application_id = ${APPLICATION_ID}`);
        connection.pragma(`user_version = ${steps.length}`);
        const orphans = connection.pragma('foreign_key_check') as unknown[];
        if (orphans.length > 0) throw new Error('the migration left rows that point nowhere');
      })
      .immediate();
  } finally {
    connection.pragma('foreign_keys = ON');
  }
}
