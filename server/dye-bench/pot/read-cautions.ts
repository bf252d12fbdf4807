import { z } from 'zod';
import { MOST_BATHS } from '../../../src/dye/vessel.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { textField, wholeField } from '../../kit/fields.ts';
import { batchPath } from '../../kit/paths.ts';
import { readBatch } from '../batch/store.ts';
import { type LogRow, readLog } from './log-store.ts';
import { insertLog, potPath } from './log-verbs.ts';

/** Cautions that somebody has read, an id a line. */
export const readCautions = () => textField({ max: 4000, lines: true, what: 'The cautions' });

/** Sent from the bench: `bath` is where it leads back to, 0 before the start. */
export const READ = z.strictObject({
  bath: wholeField({ min: 0, max: MOST_BATHS }),
  cautions: readCautions(),
});

/** What a person has read for a batch, by the ids of cautions and warnings. */
export function readBy(log: readonly LogRow[], personId: number): ReadonlySet<string> {
  return new Set(
    log.filter((row) => row.kind === 'read' && row.personId === personId).map(({ what }) => what),
  );
}

/** What of these cautions and warnings is still to be read, each once. */
export function unreadOf(told: readonly { readonly id: string }[], read: ReadonlySet<string>): string[] {
  return [...new Set(told.map(({ id }) => shortId(id)))].filter((id) => !read.has(id));
}

/** The id of a caution as far as the log holds it. */
function shortId(id: string): string {
  return id.slice(0, 120);
}

/** Keeps that somebody has read these cautions for this batch; what was read before is not told again. */
export function logRead(tx: Tx, code: string, cautions: string, location: string): Answer {
  const batch = readBatch(tx, code);
  const before = readBy(readLog(tx, batch.id), tx.personId);
  const told = cautions.split(/\s*\n\s*/).flatMap((id) => (id === '' ? [] : { id }));
  for (const what of unreadOf(told, before).slice(0, 60))
    insertLog(tx, batch.id, { bath: 0, kind: 'read', what });
  return { location, said: 'Read: the cautions are folded away.' };
}

/** The same at the bench, which it leads back to. */
export function logReadAtPot(tx: Tx, code: string, { bath, cautions }: z.output<typeof READ>): Answer {
  const back = bath.value > 0 ? potPath(code, bath.value) : `${batchPath(code)}/bench`;
  return logRead(tx, code, cautions, back);
}
