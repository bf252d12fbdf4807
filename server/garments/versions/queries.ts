import type { Answer, Reader, Tx } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { inForce } from '../../ledger/standing.ts';
import { unknown } from '../../refusal.ts';
import { type Garment, readGarment } from '../garment/records.ts';
import { refuseFinished } from '../garment/refusals.ts';
import { stripRowsOf } from '../garment/strip-rows.ts';
import { clothIdsOf, readClothWays, readUsableWidths } from '../garment/worked.ts';
import { clothsOfParts } from '../parts/cut.ts';
import { readSnapshot, type Snapshot, writeSnapshot } from './snapshot.ts';

/** A kept version of a garment: what it was after a change. */
export interface GarmentVersion {
  readonly number: number;
  readonly at: string;
  readonly by: string;
  /** what was changed, in a sentence */
  readonly said: string;
  /** the last entry of the ledger before the change */
  readonly afterEntryId: number;
  readonly snapshot: Snapshot;
}

/** Where cutting began: the first cut that was not undone, and the version that was in force then. */
export interface CutFromVersion {
  readonly at: string;
  /** null where no versions were kept yet */
  readonly number: number | null;
}

/**
 * A garment that is about to be changed. One of which no version was kept yet, since it is older than the keeping,
 * is kept as it stands first. @throws {Refusal} unknown, conflict where it is finished
 */
export function openForChange(tx: Tx, code: string): Garment {
  const garment = readGarment(tx, code);
  refuseFinished(garment);
  if (lastNumber(tx, garment.id) === 0) put(tx, garment, 1, 'As it stood before versions were kept.', 0);
  return garment;
}

/** Keeps a garment as it stands after a change; nothing is kept where nothing changed. Gives the answer back. */
export function keepVersion(tx: Tx, code: string, answer: Answer): Answer {
  const garment = readGarment(tx, code);
  const last = lastNumber(tx, garment.id);
  const entry = tx.first(tx.db.selectFrom('entry').select((of) => of.fn.max<number | null>('id').as('id')));
  put(tx, garment, last + 1, answer.said, entry?.id ?? 0);
  return answer;
}

function put(tx: Tx, garment: Garment, number: number, said: string, afterEntryId: number): void {
  const snapshot = writeSnapshot(
    garment,
    readUsableWidths(tx, clothsOf(garment)),
    readClothWays(tx, clothsOf(garment)),
  );
  const last = tx.first(versionOfNumber(garment.id, number - 1));
  if (last?.snapshot === snapshot) return;
  tx.run(
    tx.db.insertInto('garment_version').values({
      garment_id: garment.id,
      number,
      at: tx.at,
      person_id: tx.personId,
      said: said.slice(0, 1000),
      after_entry_id: afterEntryId,
      snapshot,
    }),
  );
}

/** The cloths of a garment, those of colour blocks and of parts included. */
export function clothsOf(garment: Garment): number[] {
  const ids = [...garment.tiers.flatMap(clothIdsOf), ...clothsOfParts(garment)];
  return [...new Set(ids)].sort((a, b) => a - b);
}

/** A stretch of the versions of a garment by their numbers, the first first. */
export function readGarmentVersions(
  reader: Reader,
  garmentId: number,
  from: number,
  to: number,
): GarmentVersion[] {
  return reader.all(versionsBetween(garmentId, from, to)).map(asVersion);
}

/** The numbers of all versions of a garment and when they were kept, without what was kept. */
export function readVersionTimes(reader: Reader, garmentId: number): { number: number; at: string }[] {
  return reader.all(
    reader.db
      .selectFrom('garment_version')
      .select(['number', 'at'])
      .where('garment_id', '=', garmentId)
      .orderBy('number'),
  );
}

/** @throws {Refusal} unknown */
export function readVersion(reader: Reader, garment: Garment, number: number): GarmentVersion {
  const version = versionNumbered(reader, garment.id, number);
  if (!version) throw unknown(`version ${number} of ${garment.code}`);
  return version;
}

/** Several parts of a page are told from the same version. */
const versionNumbered = keptUntilWritten(
  (reader, garmentId: number, number: number): GarmentVersion | null => {
    const row = reader.first(versionOfNumber(garmentId, number));
    return row ? asVersion(row) : null;
  },
);

const lastNumberOf = prepared((db, garmentId: Param<number>) =>
  db
    .selectFrom('garment_version')
    .select((of) => of.fn.max<number | null>('number').as('number'))
    .where('garment_id', '=', garmentId),
);

/** The number of the version in force: 0 where none was kept yet. */
export function lastNumber(reader: Reader, garmentId: number): number {
  const row = reader.first(lastNumberOf(garmentId));
  return row?.number ?? 0;
}

/** The version that was in force when an entry was made; null where none was kept yet. */
export const versionAt = keptUntilWritten(
  (reader, garmentId: number, entryId: number): GarmentVersion | null => {
    const row = reader.first(numberBefore(garmentId, entryId));
    return row ? versionNumbered(reader, garmentId, row.number) : null;
  },
);

const firstCutOf = prepared((db, tierIds: Param<readonly number[]>) =>
  db
    .selectFrom('entry')
    .select(['entry.id', 'entry.at'])
    .where('entry.kind', '=', 'cut')
    .where('entry.tier_id', 'in', inList(tierIds))
    .where(inForce('entry'))
    .orderBy('entry.id')
    .limit(1),
);

/** From which version cutting began; null where nothing is cut. It follows from the ledger, so undo lifts it again. */
export function readCutFrom(reader: Reader, garment: Garment): CutFromVersion | null {
  const tierIds = stripRowsOf(garment).map(({ id }) => id);
  if (tierIds.length === 0) return null;
  const first = reader.first(firstCutOf(tierIds));
  if (!first) return null;
  return { at: first.at, number: versionAt(reader, garment.id, first.id)?.number ?? null };
}

function versionRows(db: Reader['db'], garmentId: Param<number>) {
  return db
    .selectFrom('garment_version')
    .innerJoin('person', 'person.id', 'garment_version.person_id')
    .select(['number', 'at', 'person.name as by', 'said', 'after_entry_id as afterEntryId', 'snapshot'])
    .where('garment_id', '=', garmentId);
}

const versionsBetween = prepared((db, garmentId: Param<number>, from: Param<number>, to: Param<number>) =>
  versionRows(db, garmentId).where('number', '>=', from).where('number', '<=', to).orderBy('number'),
);
const versionOfNumber = prepared((db, garmentId: Param<number>, number: Param<number>) =>
  versionRows(db, garmentId).where('number', '=', number),
);
const numberBefore = prepared((db, garmentId: Param<number>, entryId: Param<number>) =>
  db
    .selectFrom('garment_version')
    .select('number')
    .where('garment_id', '=', garmentId)
    .where('after_entry_id', '<', entryId)
    .orderBy('number', 'desc')
    .limit(1),
);

function asVersion({
  snapshot,
  ...row
}: Omit<GarmentVersion, 'snapshot'> & { readonly snapshot: string }): GarmentVersion {
  return { ...row, snapshot: readSnapshot(snapshot) };
}
