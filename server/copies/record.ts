import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { writeInPlace } from '../database/make.ts';

// What is known of the copies lies with them and not in the book: it is of this machine and its drives, and a book that
// is put back must not say that it was copied yesterday to a drive of another machine.
const NAME = 'copies.json';

const HAPPENED = z.strictObject({ at: z.string(), failure: z.string() });

const RECORD = z.strictObject({
  /** at which hour of the workroom's day */
  hour: z.number().int().min(0).max(23).default(3),
  /** the folder of the second place; null where there is none */
  second: z.string().nullable().default(null),
  /** what was proved of each copy when it was made */
  proofs: z
    .array(
      z.strictObject({
        name: z.string(),
        sha256: z.string(),
        bytes: z.number().int(),
        how: z.enum(['quick', 'whole']),
      }),
    )
    .default([]),
  /** the last try to make a copy, to carry one to the second place, and to put one back; `failure` is '' where it went well */
  made: HAPPENED.nullable().default(null),
  carried: HAPPENED.nullable().default(null),
  /** when a copy last came to the second place */
  carriedWellAt: z.string().nullable().default(null),
  drilled: HAPPENED.nullable().default(null),
});

export type CopyRecord = Readonly<z.output<typeof RECORD>>;

/** What is known of the copies in a folder; where it is lost or was spoilt, what a new folder has. */
export function readRecord(folder: string): CopyRecord {
  const path = join(folder, NAME);
  if (!existsSync(path)) return RECORD.parse({});
  try {
    return RECORD.parse(JSON.parse(readFileSync(path, 'utf8')));
  } catch {
    return RECORD.parse({});
  }
}

export function writeRecord(folder: string, record: CopyRecord): void {
  writeInPlace(
    join(folder, NAME),
    `${JSON.stringify(record, null, 2)}
`,
  );
}
