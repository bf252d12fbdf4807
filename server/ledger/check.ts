import type { Book } from '../database/book.ts';
import { examine, orUnread } from '../database/examine.ts';
import { readMigrationSteps } from '../database/migrate.ts';
import { findUnevenBalances, findUnevenHolds } from './check-balances.ts';
import { findUnevenCosts } from './check-costs.ts';
import { findImpossibleDays, findNobody } from './check-days.ts';
import { findUnevenBatches, findUnevenEntries, findUnevenLots } from './check-entries.ts';
import { findUnevenSupplies } from './check-supplies.ts';
import { Findings } from './findings.ts';

/** What was read of the book, and every disagreement in it as a sentence for a person. */
export interface BookCheck {
  readonly findings: string[];
  readonly read: {
    readonly pieces: number;
    readonly entries: number;
    readonly holds: number;
    readonly requests: number;
  };
}

const BALANCES = [
  ['The balances', findUnevenBalances],
  ['The holds', findUnevenHolds],
  ['The supplies', findUnevenSupplies],
] as const;

const ALL = [
  ...BALANCES,
  ['The entries', findUnevenEntries],
  ['The batches', findUnevenBatches],
  ['The lots', findUnevenLots],
  ['The costs', findUnevenCosts],
  ['The fibre contents', findUnevenFibres],
  ['The days', findImpossibleDays],
  ['The people', findNobody],
] as const;

/**
 * Proves the whole book: the file itself, the guards in it, every balance and hold against the entries, and
 * that length and cost are conserved. Nothing is written or mended.
 */
export function checkBook(book: Book): BookCheck {
  const findings = [...examine(book.connection, readMigrationSteps(), 'whole'), ...collectFrom(book, ALL)];
  let read = { pieces: 0, entries: 0, holds: 0, requests: 0 };
  const unread = orUnread('The number of rows', () => {
    read = countRows(book);
    return [];
  });
  return { findings: [...findings, ...unread], read };
}

/** Derives every balance and hold from the entries: cheap enough for every start. */
export function checkBalances(book: Book): string[] {
  return collectFrom(book, BALANCES);
}

function collectFrom(
  book: Book,
  checks: readonly (readonly [string, (findings: Findings) => void])[],
): string[] {
  return checks.flatMap(([what, find]) =>
    orUnread(what, () => {
      const findings = new Findings(book);
      find(findings);
      return findings.sentences;
    }),
  );
}

function findUnevenFibres(findings: Findings): void {
  findings.collect<{ name: string; shareBp: number }>(
    `SELECT cloth.name, sum(cloth_fibre.share_bp) AS shareBp
     FROM cloth JOIN cloth_fibre ON cloth_fibre.cloth_id = cloth.id
     GROUP BY cloth.id HAVING sum(cloth_fibre.share_bp) <> 10000`,
    ({ name, shareBp }) => `The fibres of ${name} add up to ${shareBp / 100} %, not 100 %.`,
  );
}

function countRows(book: Book): BookCheck['read'] {
  return book.connection
    .prepare(
      `SELECT (SELECT count(*) FROM piece) AS pieces, (SELECT count(*) FROM entry) AS entries,
         (SELECT count(*) FROM hold) AS holds, (SELECT count(*) FROM request) AS requests`,
    )
    .get() as BookCheck['read'];
}
