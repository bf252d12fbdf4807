import { sql } from 'kysely';
import { z } from 'zod';
import type { Reader, Tx } from '../database/book.ts';
import { readStored } from '../database/stored.ts';
import { inForce } from './standing.ts';

/** Which request made an inspection stands in what was typed for it. */
const MADE_BY = sql<string | null>`json_extract(inspection.typed, '$.request_key')`;

interface Counted {
  readonly id: number;
  readonly piece_id: number;
  readonly kind: string;
  readonly at: string;
  readonly request_key: string;
}

/**
 * Flaws as they were found on what came: from the free end, so long along the piece; from the left edge, null where
 * it goes over the whole width; and the row among the flaws of the piece.
 */
const FOUND_FLAWS = z.array(
  z.object({
    fromTicks: z.number().int(),
    lengthTicks: z.number().int(),
    hole: z.boolean(),
    leftTicks: z.number().int().nullable(),
    what: z.string(),
    flawId: z.number().int(),
  }),
);
export type FoundFlaw = Readonly<z.output<typeof FOUND_FLAWS>[number]>;

export function storeFoundFlaws(flaws: readonly FoundFlaw[]): string {
  return JSON.stringify(FOUND_FLAWS.parse(flaws));
}

export function readFoundFlaws(json: string): FoundFlaw[] {
  return readStored(FOUND_FLAWS, json);
}

/** Inspections that stand: one that counted its piece anew goes when that count is undone. */
export function standingInspections(reader: Reader) {
  return reader.db.selectFrom('inspection').where(({ not, exists, selectFrom }) =>
    not(
      exists(
        selectFrom('entry')
          .select('entry.id')
          .whereRef('entry.piece_id', '=', 'inspection.piece_id')
          .where('entry.kind', '=', 'recounted')
          .where('entry.request_key', '=', MADE_BY)
          .where(({ not }) => not(inForce('entry'))),
      ),
    ),
  );
}

/** An inspection that was made after a piece was counted: it measured the piece as it was counted then. */
export function findLaterInspection(reader: Reader, entry: Counted) {
  if (entry.kind !== 'recounted') return undefined;
  const own = ownInspection(reader, entry.request_key);
  const later = standingInspections(reader)
    .innerJoin('person', 'person.id', 'inspection.person_id')
    .innerJoin('piece', 'piece.id', 'inspection.piece_id')
    .select(['inspection.at', 'person.name as person', 'piece.code'])
    .where('inspection.piece_id', '=', entry.piece_id)
    .orderBy('inspection.id')
    .limit(1);
  return reader.first(
    own ? later.where('inspection.id', '>', own.id) : later.where('inspection.at', '>', entry.at),
  );
}

/** Strikes the flaws that an inspection marked, and marks those again that it struck. Without one nothing is done. */
export function undoInspection(tx: Tx, requestKey: string): void {
  const own = ownInspection(tx, requestKey);
  if (!own) return;
  const earlier = tx.first(
    standingInspections(tx)
      .select('inspection.flaws')
      .where('inspection.piece_id', '=', own.piece_id)
      .where('inspection.id', '<', own.id)
      .orderBy('inspection.id', 'desc')
      .limit(1),
  );
  const flaws = tx.db.updateTable('piece_flaw');
  tx.run(
    flaws
      .set({ struck_at: tx.at, struck_by: tx.personId })
      .where('id', 'in', flawIds(readFoundFlaws(own.flaws)))
      .where('struck_at', 'is', null),
  );
  tx.run(
    flaws
      .set({ struck_at: null, struck_by: null })
      .where('id', 'in', flawIds(readFoundFlaws(earlier?.flaws ?? '[]')))
      .where('struck_at', '=', own.at),
  );
}

function ownInspection(reader: Reader, requestKey: string) {
  const counted = reader.db
    .selectFrom('entry')
    .select('piece_id')
    .where('request_key', '=', requestKey)
    .where('kind', '=', 'recounted');
  return reader.first(
    reader.db
      .selectFrom('inspection')
      .select(['id', 'piece_id', 'flaws', 'at'])
      .where('piece_id', 'in', counted)
      .where(MADE_BY, '=', requestKey),
  );
}

function flawIds(flaws: readonly FoundFlaw[]): number[] {
  return flaws.map(({ flawId }) => flawId);
}
