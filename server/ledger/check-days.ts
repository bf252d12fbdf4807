import type { Findings } from './findings.ts';

interface TimeColumn {
  readonly tableName: string;
  readonly columnName: string;
}

/** The file holds days by their form alone: a 30 February, or 25 o'clock, would fail on the pages that show it. */
export function findImpossibleDays(findings: Findings): void {
  const columns = findings.read<TimeColumn>(
    `SELECT t.name AS tableName, c.name AS columnName
     FROM sqlite_schema AS t JOIN pragma_table_info(t.name) AS c
     WHERE t.type = 'table' AND c.type = 'TEXT' AND (c.name = 'at' OR c.name GLOB '*_at' OR c.name GLOB '*_on')
     ORDER BY t.name, c.cid`,
  );
  for (const { tableName, columnName } of columns) {
    findings.collect<{ written: string }>(
      `SELECT "${columnName}" AS written FROM "${tableName}"
       WHERE "${columnName}" IS NOT NULL
         AND (date(substr("${columnName}", 1, 10)) IS NOT substr("${columnName}", 1, 10)
           OR julianday("${columnName}") IS NULL)`,
      ({ written }) => `The ${tableName.replaceAll('_', ' ')} of ${written}: there is no such day or time.`,
    );
  }
}

/** Every page says who works, so somebody must. */
export function findNobody(findings: Findings): void {
  const [here] = findings.read('SELECT 1 FROM person WHERE left_at IS NULL LIMIT 1');
  if (!here) findings.add('Everybody in the book has left, and somebody has to work here.');
}
