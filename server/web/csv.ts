import { Readable } from 'node:stream';
import type { FastifyReply } from 'fastify';
import { writeCsv } from '../../src/lists/csv.ts';

/** Answers with a list for a spreadsheet, to be saved under a name: row by row, so that a long list fits in memory. */
export function sendCsv(reply: FastifyReply, name: string, rows: Iterable<readonly string[]>) {
  return reply
    .type('text/csv; charset=utf-8')
    .header('content-disposition', `attachment; filename="${name}.csv"`)
    .send(Readable.from(csvLines(rows)));
}

/** The lines of a CSV text; the mark of UTF-8 stands before the first only. */
function* csvLines(rows: Iterable<readonly string[]>): Generator<string> {
  let first = true;
  for (const row of rows) {
    const line = writeCsv([row]);
    yield first ? line : line.slice(1);
    first = false;
  }
}
