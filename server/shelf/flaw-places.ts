import type { Reader } from '../database/book.ts';

/** A stretch of cloth that a piece is, in the piece that it came off: from the free end as it was before `entryId`. */
export interface Origin {
  readonly parentId: number;
  /** the first entry that took it off */
  readonly entryId: number;
  readonly alongTicks: number;
  readonly acrossTicks: number;
  readonly lengthTicks: number;
}

/** What takes cloth off the free end. A count or shrinkage only says that there is more or less of it. */
const TAKES = ['cut', 'split-off', 'sent-to-dye', 'written-off', 'returned'] as const;

/** The pieces named and all that they came off, each with its parent. */
export function readDescent(reader: Reader, pieceIds: readonly number[]): Map<number, number | null> {
  const parents = new Map<number, number | null>();
  let level = [...new Set(pieceIds)];
  while (level.length > 0) {
    const rows = reader.all(
      reader.db.selectFrom('piece').select(['id', 'parent_id']).where('id', 'in', level),
    );
    for (const { id, parent_id: parentId } of rows) parents.set(id, parentId);
    level = [...new Set(rows.flatMap(({ parent_id: id }) => (id === null || parents.has(id) ? [] : [id])))];
  }
  return parents;
}

export interface Take {
  readonly entryId: number;
  readonly lengthTicks: number;
}

/** What the standing entries of a piece took off its free end, in their order. */
export function readTakes(reader: Reader, pieceId: number): Take[] {
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .leftJoin('entry as undone', 'undone.reverses_id', 'entry.id')
      .select(['entry.id as entryId', 'entry.length_ticks as ticks'])
      .where('entry.piece_id', '=', pieceId)
      .where('entry.kind', 'in', TAKES)
      .where('undone.id', 'is', null)
      .orderBy('entry.id'),
  );
  return rows.map(({ entryId, ticks }) => ({ entryId, lengthTicks: 0 - ticks }));
}

/** How much standing entries took off the free end of a piece in all, in ticks. */
export function readTakenTicks(reader: Reader, pieceId: number): number {
  return readTakes(reader, pieceId).reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
}

/** Where a piece lay in the piece that it came off; null for a bolt, and for a remnant whose place was not kept. */
export function readOrigin(reader: Reader, pieceId: number): Origin | null {
  const came = reader.first(
    reader.db
      .selectFrom('entry')
      .innerJoin('entry as off', 'off.id', 'entry.pair_id')
      .select([
        'entry.length_ticks as lengthTicks',
        'off.id as entryId',
        'off.kind',
        'off.piece_id as parentId',
        'off.request_key as requestKey',
      ])
      .where('entry.piece_id', '=', pieceId)
      .orderBy('entry.id')
      .limit(1),
  );
  if (!came) return null;
  const { parentId, entryId, lengthTicks } = came;
  // What was split off or sent to dye was the free end as it was then.
  if (came.kind !== 'cut') return { parentId, entryId, lengthTicks, alongTicks: 0, acrossTicks: 0 };
  const place = reader.first(
    reader.db.selectFrom('remnant_from').selectAll().where('piece_id', '=', pieceId),
  );
  if (!place) return null;
  return {
    parentId,
    entryId: readFirstCut(reader, parentId, came.requestKey) ?? entryId,
    lengthTicks,
    alongTicks: place.along_ticks,
    acrossTicks: place.across_ticks,
  };
}

/** A lay that several tiers share is entered as a cut each: all of them lie before its remnants. */
function readFirstCut(reader: Reader, pieceId: number, requestKey: string): number | undefined {
  return reader.first(
    reader.db
      .selectFrom('entry')
      .select('id')
      .where('request_key', '=', requestKey)
      .where('piece_id', '=', pieceId)
      .where('kind', '=', 'cut')
      .orderBy('id')
      .limit(1),
  )?.id;
}
