import type BetterSqlite3 from 'better-sqlite3';
import { perform } from './perform.ts';
import { contents } from './scene.ts';

/** Statements of some other program that a book must refuse. */
export interface Attack {
  readonly name: string;
  /** the table that it is made on, so that attacks on a weakened table can be tried first */
  readonly table: string;
  readonly statements: readonly string[];
  /** what the book says */
  readonly refused: RegExp;
  /** true where the program passes over errors and would commit what is left: OR FAIL keeps what it did */
  readonly stubborn?: boolean;
}

export interface Outcome {
  /** what the book said when it refused, else null */
  readonly refused: string | null;
  /** true where the statements went through, or left something behind when they were refused */
  readonly broken: boolean;
}

/** Tries an attack; whatever it is refused by, the book goes on as it was. */
export function attempt(db: BetterSqlite3.Database, attack: Attack): Outcome {
  if (attack.stubborn) return insist(db, attack.statements);
  try {
    for (const statement of ['BEGIN', ...attack.statements, 'COMMIT']) perform(db, statement);
    return { refused: null, broken: true };
  } catch (error) {
    if (db.inTransaction) db.exec('ROLLBACK');
    return { refused: (error as Error).message, broken: false };
  }
}

function insist(db: BetterSqlite3.Database, statements: readonly string[]): Outcome {
  const before = contents(db);
  let refused: string | null = null;
  db.exec('BEGIN');
  for (const statement of statements) {
    try {
      perform(db, statement);
    } catch (error) {
      refused ??= (error as Error).message;
    }
  }
  const broken = before !== contents(db);
  if (db.inTransaction) db.exec('ROLLBACK');
  return { refused, broken };
}
