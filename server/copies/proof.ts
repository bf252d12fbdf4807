import { createHash } from 'node:crypto';
import { closeSync, existsSync, openSync, readFileSync, readSync, rmSync } from 'node:fs';
import { basename } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { Book } from '../database/book.ts';
import { examine, orUnread, type Thoroughness } from '../database/examine.ts';
import { writeInPlace } from '../database/make.ts';
import { readMigrationSteps } from '../database/migrate.ts';
import { checkBook } from '../ledger/check.ts';

/** What a file was found to be: nothing wrong with it where there are no findings. */
export interface Proof {
  readonly findings: readonly string[];
  /** of the bytes of the file, after it was made one file that needs no other beside it */
  readonly sha256: string;
  readonly bytes: number;
}

const AT_ONCE = 1 << 20;

/**
 * Proves a copy that nobody else has open: its pages, its guards and references; where it is to be thorough, indexes
 * against rows and every balance and cost too, as "check" does. A copy of a book of an older form has its pages and form
 * proved.
 */
export function proveCopy(file: string, how: Thoroughness): Proof {
  const findings = orUnread('The copy', () => {
    const copy = new BetterSqlite3(file);
    try {
      copy.pragma('journal_mode = DELETE');
      const steps = readMigrationSteps();
      const version = copy.pragma('user_version', { simple: true }) as number;
      if (how === 'quick' || version < steps.length) return examine(copy, steps.slice(0, version), how);
      return checkBook(
        new Book(
          copy,
          file,
          () => new Date(0),
          () => undefined,
        ),
      ).findings;
    } finally {
      copy.close();
    }
  });
  return { findings, ...fingerprintOf(file) };
}

/** What the bytes of a file come to, read in parts. */
export function fingerprintOf(file: string): { readonly sha256: string; readonly bytes: number } {
  const hash = createHash('sha256');
  const part = Buffer.allocUnsafe(AT_ONCE);
  const handle = openSync(file, 'r');
  try {
    let bytes = 0;
    for (;;) {
      const read = readSync(handle, part);
      if (read === 0) return { sha256: hash.digest('hex'), bytes };
      hash.update(part.subarray(0, read));
      bytes += read;
    }
  } finally {
    closeSync(handle);
  }
}

/** The file beside a copy that says what its bytes come to, as sha256sum writes and checks it. */
const sumBeside = (copy: string) => `${copy}.sha256`;

export function writeSum(copy: string, sha256: string): void {
  writeInPlace(sumBeside(copy), `${sha256}  ${basename(copy)}\n`);
}

/** What the bytes of a copy came to when it was made; null where nothing beside it says so. */
export function readSum(copy: string): string | null {
  if (!existsSync(sumBeside(copy))) return null;
  return /^[0-9a-f]{64}/.exec(readFileSync(sumBeside(copy), 'utf8'))?.[0] ?? null;
}

/** Removes a copy with what lies beside it. */
export function removeCopy(copy: string): void {
  for (const path of [copy, sumBeside(copy)]) rmSync(path, { force: true });
}
