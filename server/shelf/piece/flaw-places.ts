import { TAKING_KINDS } from '../../../src/ledger/entries.ts';
import type { Reader } from '../../database/book.ts';
import { inForce } from '../../ledger/standing.ts';

/** A stretch of cloth that a piece is, in the piece that it came off: from the free end as it was before `entryId`. */
export interface Origin {
  readonly parentId: number;
  /** the first entry that took it off */
  readonly entryId: number;
  readonly alongTicks: number;
  readonly acrossTicks: number;
  readonly lengthTicks: number;
}

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

export interface FlawTake {
  readonly entryId: number;
  readonly lengthTicks: number;
}

/** What the standing entries of each of some pieces took off its free end, in their order. */
export function readTakes(reader: Reader, pieceIds: readonly number[]): Map<number, FlawTake[]> {
  if (pieceIds.length === 0) return new Map();
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .select(['entry.id as entryId', 'entry.piece_id as pieceId', 'entry.length_ticks as ticks'])
      .where('entry.piece_id', 'in', [...pieceIds])
      .where('entry.kind', 'in', TAKING_KINDS)
      .where(inForce('entry'))
      .orderBy('entry.id'),
  );
  const takes = new Map<number, FlawTake[]>(pieceIds.map((id) => [id, []]));
  for (const { entryId, pieceId, ticks } of rows) {
    takes.get(pieceId)?.push({ entryId, lengthTicks: 0 - ticks });
  }
  return takes;
}

/** How much standing entries took off the free end of each of some pieces in all, in ticks. */
export function readTakenTicks(reader: Reader, pieceIds: readonly number[]): Map<number, number> {
  const takes = readTakes(reader, pieceIds);
  return new Map(
    [...takes].map(([id, of]) => [id, of.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0)]),
  );
}

/** Where pieces lay in those they came off; nothing for a bolt, and for a remnant whose place was not kept. */
export function readOrigins(reader: Reader, pieceIds: readonly number[]): Map<number, Origin> {
  if (pieceIds.length === 0) return new Map();
  const first = reader.db
    .selectFrom('entry')
    .select((of) => of.fn.min('id').as('id'))
    .where('piece_id', 'in', [...pieceIds])
    .where('pair_id', 'is not', null)
    .groupBy('piece_id');
  const came = reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('entry as off', 'off.id', 'entry.pair_id')
      .leftJoin('remnant_from as place', 'place.piece_id', 'entry.piece_id')
      .select([
        'entry.piece_id as pieceId',
        'entry.length_ticks as lengthTicks',
        'off.id as entryId',
        'off.kind',
        'off.piece_id as parentId',
        'off.request_key as requestKey',
        'place.along_ticks as alongTicks',
        'place.across_ticks as acrossTicks',
      ])
      .where('entry.id', 'in', first),
  );
  const cuts = readFirstCuts(reader, came);
  return new Map(
    came.flatMap(({ pieceId, kind, requestKey, alongTicks, acrossTicks, ...origin }): [number, Origin][] => {
      // What was split off or sent to dye was the free end as it was then.
      if (kind !== 'cut') return [[pieceId, { ...origin, alongTicks: 0, acrossTicks: 0 }]];
      if (alongTicks === null || acrossTicks === null) return [];
      const entryId = cuts.get(`${origin.parentId} ${requestKey}`) ?? origin.entryId;
      return [[pieceId, { ...origin, entryId, alongTicks, acrossTicks }]];
    }),
  );
}

/** A lay that several tiers share is entered as a cut each: all of them lie before its remnants. */
function readFirstCuts(
  reader: Reader,
  came: readonly { readonly kind: string; readonly parentId: number; readonly requestKey: string }[],
): Map<string, number> {
  const cuts = came.filter(({ kind }) => kind === 'cut');
  if (cuts.length === 0) return new Map();
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .select((of) => ['request_key', 'piece_id', of.fn.min<number>('id').as('id')])
      .where('request_key', 'in', [...new Set(cuts.map(({ requestKey }) => requestKey))])
      .where('kind', '=', 'cut')
      .groupBy(['request_key', 'piece_id']),
  );
  return new Map(rows.map((row) => [`${row.piece_id} ${row.request_key}`, row.id]));
}
