import { sql } from 'kysely';
import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { readAtThePot } from '../dye-bench/pot/log-verbs.ts';
import { sayLog } from '../dye-bench/pot/log-words.ts';
import { grouped } from '../kit/grouped.ts';
import { showClock } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import type { Pulse, Shown } from '../ledger/pulse.ts';
import { KIND_DEEDS } from '../ledger/words.ts';
import type { Asker } from '../web/house.ts';

/** Something that somebody else wrote, in a sentence. */
interface Change {
  readonly at: string;
  readonly who: string;
  readonly said: string;
}

const MOST_READ = 200;

/** What others wrote of what a page shows since it was drawn, the latest first, a sentence each. No price is in it. */
export function readChanges(reader: Reader, shown: Shown, since: Pulse, asker: Asker): string[] {
  const changes =
    'garment' in shown
      ? [
          ...entriesOfGarment(reader, shown.garment, since, asker),
          ...changesOfPieces(reader, shown.garment, since, asker),
          ...versionsOf(reader, shown.garment, since, asker),
        ]
      : [...logOf(reader, shown.batch, since, asker), ...entriesOfBatch(reader, shown.batch, since, asker)];
  return changes
    .toSorted((a, b) => (a.at < b.at ? 1 : -1))
    .map(({ at, who, said }) => `${who}, ${showClock(at)}: ${said}.`);
}

/** The tiers and parts of a garment, and what tiers want shade by shade. */
function wantsOf(db: Reader['db'], garment: Param<string>) {
  return (
    db
      .selectFrom('tier')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      // A part has none, and is told of by what is cut and held for it.
      .leftJoin('colour_block', 'colour_block.tier_id', 'tier.id')
      .select('tier.id')
      .where('garment.code', '=', garment)
  );
}

const USES_LOT = sql`(tier.cloth_id = lot.cloth_id and colour_block.shade_id = lot.shade_id)`;

function selectWritten(db: Reader['db'], since: Param<number>) {
  return db
    .selectFrom('entry')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('person', 'person.id', 'entry.person_id')
    .innerJoin('request', 'request.key', 'entry.request_key')
    .select(['entry.kind', 'entry.at', 'entry.strips', 'entry.request_key', 'entry.person_id'])
    .select(['piece.code', 'person.name as who', 'request.device_id'])
    .where('entry.id', '>', since)
    .orderBy('entry.id')
    .limit(MOST_READ);
}

// What the tiers of the garment cut and hold, and whatever happens to cloth that they are cut from.
const writtenOfGarment = prepared((db, since: Param<number>, garment: Param<string>) =>
  selectWritten(db, since).where(({ exists }) =>
    exists(wantsOf(db, garment).where(sql<boolean>`(tier.id = entry.tier_id or ${USES_LOT})`)),
  ),
);

const writtenOfBatch = prepared((db, since: Param<number>, batch: Param<string>) =>
  selectWritten(db, since).innerJoin('batch', 'batch.id', 'entry.batch_id').where('batch.code', '=', batch),
);

interface WrittenRow {
  readonly kind: keyof typeof KIND_DEEDS;
  readonly at: string;
  readonly strips: number | null;
  readonly request_key: string;
  readonly person_id: number;
  readonly code: string;
  readonly who: string;
  readonly device_id: number | null;
}

function entriesOfGarment(reader: Reader, garment: string, { entry }: Pulse, asker: Asker): Change[] {
  return sayEntries(reader.all(writtenOfGarment(entry, garment)), asker);
}

function entriesOfBatch(reader: Reader, batch: string, { entry }: Pulse, asker: Asker): Change[] {
  return sayEntries(reader.all(writtenOfBatch(entry, batch)), asker);
}

/** A sentence a request: what it cut goes before what it held, kept or gave back along with that. */
function sayEntries(rows: readonly WrittenRow[], { personId, deviceId }: Asker): Change[] {
  const others = rows.filter((row) => row.person_id !== personId || row.device_id !== deviceId);
  return [...grouped(others, (row) => row.request_key).values()].flatMap((ofRequest) => {
    const row = ofRequest.find(({ kind }) => kind === 'cut') ?? ofRequest[0];
    return row ? [{ at: row.at, who: row.who, said: sayEntry(row) }] : [];
  });
}

function sayEntry({ kind, code, strips }: WrittenRow): string {
  if (kind === 'reversed') return `an entry of ${code} was undone`;
  const deed = `${code} ${KIND_DEEDS[kind]}`;
  return strips ? `${deed}, ${countOf(strips, 'strip', 'strips')}` : deed;
}

const flawsSince = prepared((db, since: Param<number>, garment: Param<string>) =>
  db
    .selectFrom('piece_flaw')
    .innerJoin('piece', 'piece.id', 'piece_flaw.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('person', 'person.id', 'piece_flaw.person_id')
    .select(['piece_flaw.at', 'piece_flaw.person_id', 'piece.code', 'person.name as who'])
    .where('piece_flaw.id', '>', since)
    .where(({ exists }) => exists(wantsOf(db, garment).where(sql<boolean>`${USES_LOT}`)))
    .limit(MOST_READ),
);
const widthsSince = prepared((db, since: Param<number>, garment: Param<string>) =>
  db
    .selectFrom('piece_width')
    .innerJoin('piece', 'piece.id', 'piece_width.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('person', 'person.id', 'piece_width.person_id')
    .select(['piece_width.at', 'piece_width.person_id', 'piece.code', 'person.name as who'])
    .where('piece_width.id', '>', since)
    .where(({ exists }) => exists(wantsOf(db, garment).where(sql<boolean>`${USES_LOT}`)))
    .limit(MOST_READ),
);

function changesOfPieces(reader: Reader, garment: string, { flaw, width }: Pulse, asker: Asker): Change[] {
  const isOther = (row: { readonly person_id: number }) => row.person_id !== asker.personId;
  return [
    ...reader
      .all(flawsSince(flaw, garment))
      .filter(isOther)
      .map((row) => ({ ...row, said: `a flaw was marked on ${row.code}` })),
    ...reader
      .all(widthsSince(width, garment))
      .filter(isOther)
      .map((row) => ({ ...row, said: `the width of ${row.code} was measured again` })),
  ];
}

const versionsSince = prepared((db, since: Param<number>, garment: Param<string>) =>
  db
    .selectFrom('garment_version')
    .innerJoin('garment', 'garment.id', 'garment_version.garment_id')
    .innerJoin('person', 'person.id', 'garment_version.person_id')
    .select(['garment_version.at', 'garment_version.person_id', 'garment_version.said', 'person.name as who'])
    .where('garment.code', '=', garment)
    .where('number', '>', since),
);

function versionsOf(reader: Reader, garment: string, { version }: Pulse, { personId }: Asker): Change[] {
  return reader
    .all(versionsSince(version, garment))
    .filter((row) => row.person_id !== personId)
    .map((row) => ({ ...row, said: row.said.replace(/\.$/, '') }));
}

const loggedSince = prepared((db, since: Param<number>, batch: Param<string>) =>
  db
    .selectFrom('batch_log')
    .innerJoin('batch', 'batch.id', 'batch_log.batch_id')
    .innerJoin('person', 'person.id', 'batch_log.person_id')
    .innerJoin('request', 'request.key', 'batch_log.request_key')
    .select(['batch_log.id', 'batch_log.at', 'batch_log.kind', 'batch_log.bath', 'batch_log.request_key'])
    .select(['batch_log.person_id', 'person.name as who', 'request.device_id'])
    .where('batch_log.id', '>', since)
    .where('batch.code', '=', batch)
    // That somebody has read the cautions changes nothing that another sees.
    .where('batch_log.kind', '<>', 'read')
    .orderBy('batch_log.id')
    .limit(MOST_READ),
);

/** A sentence a request, by the first row that it logged. */
function logOf(reader: Reader, batch: string, { log }: Pulse, { personId, deviceId }: Asker): Change[] {
  const rows = reader
    .all(loggedSince(log, batch))
    .filter((row) => row.person_id !== personId || row.device_id !== deviceId);
  if (rows.length === 0) return [];
  const pot = readAtThePot(reader, batch);
  const stands = new Map(pot.log.map((row) => [row.id, row]));
  return [...grouped(rows, (row) => row.request_key).values()].flatMap(([row]) => {
    if (!row) return [];
    const logged = stands.get(row.id);
    const steps = pot.baths.find(({ number }) => number === row.bath)?.steps ?? [];
    const what = logged ? sayLog(logged, steps) : 'something that was logged was taken back';
    const of = row.bath > 0 && pot.baths.length > 1 ? `bath ${row.bath}, ` : '';
    return [{ at: row.at, who: row.who, said: `${of}${what}` }];
  });
}
