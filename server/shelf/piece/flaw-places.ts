import { TAKING_KINDS } from '../../../src/ledger/entries.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
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

const parentsOf = prepared((db, ids: Param<readonly number[]>) =>
  db.selectFrom('piece').select(['id', 'parent_id']).where('id', 'in', inList(ids)),
);

/** The pieces named and all that they came off, each with its parent. */
export function readDescent(reader: Reader, pieceIds: readonly number[]): Map<number, number | null> {
  const parents = new Map<number, number | null>();
  let level = [...new Set(pieceIds)];
  while (level.length > 0) {
    const rows = reader.all(parentsOf(level));
    for (const { id, parent_id: parentId } of rows) parents.set(id, parentId);
    level = [...new Set(rows.flatMap(({ parent_id: id }) => (id === null || parents.has(id) ? [] : [id])))];
  }
  return parents;
}

export interface FlawTake {
  readonly entryId: number;
  readonly lengthTicks: number;
}

const takesOf = prepared((db, ids: Param<readonly number[]>) =>
  db
    .selectFrom('entry')
    .select(['entry.id as entryId', 'entry.piece_id as pieceId', 'entry.length_ticks as ticks'])
    .where('entry.piece_id', 'in', inList(ids))
    .where('entry.kind', 'in', TAKING_KINDS)
    .where(inForce('entry'))
    .orderBy('entry.id'),
);

/** What the standing entries of each of some pieces took off its free end, in their order. */
export function readTakes(reader: Reader, pieceIds: readonly number[]): Map<number, FlawTake[]> {
  if (pieceIds.length === 0) return new Map();
  const rows = reader.all(takesOf([...pieceIds]));
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

const comingsOf = prepared((db, pieceIds: Param<readonly number[]>) =>
  db
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
    .where('entry.id', 'in', (of) =>
      of
        .selectFrom('entry')
        .select((first) => first.fn.min('id').as('id'))
        .where('piece_id', 'in', inList(pieceIds))
        .where('pair_id', 'is not', null)
        .groupBy('piece_id'),
    ),
);

/** Where pieces lay in those they came off; nothing for a bolt, and for a remnant whose place was not kept. */
export function readOrigins(reader: Reader, pieceIds: readonly number[]): Map<number, Origin> {
  if (pieceIds.length === 0) return new Map();
  const came = reader.all(comingsOf(pieceIds));
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

const firstCutsOf = prepared((db, requestKeys: Param<readonly string[]>) =>
  db
    .selectFrom('entry')
    .select((of) => ['request_key', 'piece_id', of.fn.min<number>('id').as('id')])
    .where('request_key', 'in', inList(requestKeys))
    .where('kind', '=', 'cut')
    .groupBy(['request_key', 'piece_id']),
);

/** A lay that several tiers share is entered as a cut each: all of them lie before its remnants. */
function readFirstCuts(
  reader: Reader,
  came: readonly { readonly kind: string; readonly parentId: number; readonly requestKey: string }[],
): Map<string, number> {
  const cuts = came.filter(({ kind }) => kind === 'cut');
  if (cuts.length === 0) return new Map();
  const rows = reader.all(firstCutsOf([...new Set(cuts.map(({ requestKey }) => requestKey))]));
  return new Map(rows.map((row) => [`${row.piece_id} ${row.request_key}`, row.id]));
}
