import type { Flaw } from '../../../src/cut-plan/job.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { type FlawTake, type Origin, readDescent, readOrigins, readTakes } from './flaw-places.ts';

/** A flaw as it lies on a piece now: in ticks from the free end and from the left edge, cut to the cloth there is. */
export interface PieceFlaw extends Flaw {
  readonly id: number;
  readonly what: string;
  readonly at: string;
  readonly by: string;
}

/** Where a flaw notches a tape. */
export function middleOf({ fromTicks, toTicks }: Pick<Flaw, 'fromTicks' | 'toTicks'>): number {
  return Math.floor((fromTicks + toTicks) / 2);
}

type Marked = ReturnType<typeof readMarked>[number];

/**
 * The flaws on each of some pieces, those nearest the free end first; a piece without any has no entry. A flaw that
 * was marked before its cloth was split off, dyed or kept beside a cut is found on the piece that has it now; one
 * that was struck out or whose cloth is cut away is not found.
 */
export function readFlaws(reader: Reader, pieceIds: readonly number[]): Map<number, PieceFlaw[]> {
  const parents = readDescent(reader, pieceIds);
  const marked = new Map<number, Marked[]>();
  for (const flaw of readMarked(reader, [...parents.keys()])) {
    marked.set(flaw.pieceId, [...(marked.get(flaw.pieceId) ?? []), flaw]);
  }
  if (marked.size === 0) return new Map();
  const found = new Map<number, PieceFlaw[]>();
  const mayHave = pieceIds.filter((id) => marked.has(id) || hasMarkedAbove(id, parents, marked));
  const line = [...new Set(mayHave.flatMap((id) => [id, ...ancestorsOf(id, parents)]))];
  const cloth = { parents, marked, takes: readTakes(reader, line), origins: readOrigins(reader, line) };
  for (const piece of readSizes(reader, mayHave)) {
    const flaws = flawsOf(piece.id, cloth, Number.MAX_SAFE_INTEGER)
      .map(({ pieceId: _marked, afterEntryId: _after, ...flaw }) => ({
        ...flaw,
        fromTicks: Math.max(0, flaw.fromTicks),
        toTicks: Math.min(piece.lengthTicks, flaw.toTicks),
        leftTicks: Math.max(0, flaw.leftTicks),
        rightTicks: Math.min(piece.widthTicks, flaw.rightTicks),
      }))
      .filter((flaw) => flaw.fromTicks < flaw.toTicks && flaw.leftTicks < flaw.rightTicks)
      .sort((a, b) => a.fromTicks - b.fromTicks || a.leftTicks - b.leftTicks || a.id - b.id);
    if (flaws.length > 0) found.set(piece.id, flaws);
  }
  return found;
}

/** The flaws of one piece. */
export function readFlawsOf(reader: Reader, pieceId: number): PieceFlaw[] {
  return readFlaws(reader, [pieceId]).get(pieceId) ?? [];
}

const markedOn = prepared((db, pieceIds: Param<readonly number[]>) =>
  db
    .selectFrom('piece_flaw')
    .innerJoin('person', 'person.id', 'piece_flaw.person_id')
    .select([
      'piece_flaw.id',
      'piece_flaw.piece_id as pieceId',
      'piece_flaw.from_ticks as fromTicks',
      'piece_flaw.to_ticks as toTicks',
      'piece_flaw.left_ticks as leftTicks',
      'piece_flaw.right_ticks as rightTicks',
      'piece_flaw.after_entry_id as afterEntryId',
      'piece_flaw.what',
      'piece_flaw.at',
      'person.name as by',
    ])
    .where('piece_flaw.piece_id', 'in', inList(pieceIds))
    .where('piece_flaw.struck_at', 'is', null),
);

function readMarked(reader: Reader, pieceIds: readonly number[]) {
  if (pieceIds.length === 0) return [];
  return reader.all(markedOn(pieceIds));
}

const sizesOf = prepared((db, pieceIds: Param<readonly number[]>) =>
  db
    .selectFrom('piece')
    .select(['id', 'on_hand_ticks as lengthTicks', 'usable_width_ticks as widthTicks'])
    .where('id', 'in', inList(pieceIds))
    .where('on_hand_ticks', '>', 0),
);

function readSizes(reader: Reader, pieceIds: readonly number[]) {
  if (pieceIds.length === 0) return [];
  return reader.all(sizesOf([...new Set(pieceIds)]));
}

/** Pieces with all that they came off, what was marked on them, and how they were cut up. */
interface Cloth {
  readonly parents: ReadonlyMap<number, number | null>;
  readonly marked: ReadonlyMap<number, readonly Marked[]>;
  readonly takes: ReadonlyMap<number, readonly FlawTake[]>;
  readonly origins: ReadonlyMap<number, Origin>;
}

/**
 * What was marked on a piece or on what it came off, from its free end as it was before an entry of it. What was
 * marked later than that is not of the cloth that this entry took.
 */
function flawsOf(pieceId: number, cloth: Cloth, beforeEntryId: number): Marked[] {
  const { parents, marked } = cloth;
  const takes = cloth.takes.get(pieceId) ?? [];
  const nearer = (flaw: Marked, afterEntryId: number) =>
    moved(flaw, takenBetween(takes, afterEntryId, beforeEntryId), 0);
  const own = (marked.get(pieceId) ?? [])
    .filter(({ afterEntryId }) => afterEntryId < beforeEntryId)
    .map((flaw) => nearer(flaw, flaw.afterEntryId));
  if (!hasMarkedAbove(pieceId, parents, marked)) return own;
  const origin = cloth.origins.get(pieceId);
  if (!origin) return own;
  const end = origin.alongTicks + origin.lengthTicks;
  const inherited = flawsOf(origin.parentId, cloth, origin.entryId)
    .filter((flaw) => flaw.fromTicks < end && flaw.toTicks > origin.alongTicks)
    .map((flaw) => ({ ...flaw, toTicks: Math.min(end, flaw.toTicks) }))
    .map((flaw) => moved(flaw, origin.alongTicks, origin.acrossTicks));
  return [...own, ...inherited.map((flaw) => nearer(flaw, 0))];
}

function takenBetween(takes: readonly FlawTake[], afterEntryId: number, beforeEntryId: number): number {
  return takes
    .filter(({ entryId }) => entryId > afterEntryId && entryId < beforeEntryId)
    .reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
}

function moved(flaw: Marked, alongTicks: number, acrossTicks: number): Marked {
  return {
    ...flaw,
    fromTicks: flaw.fromTicks - alongTicks,
    toTicks: flaw.toTicks - alongTicks,
    leftTicks: flaw.leftTicks - acrossTicks,
    rightTicks: flaw.rightTicks - acrossTicks,
  };
}

function hasMarkedAbove(
  pieceId: number,
  parents: ReadonlyMap<number, number | null>,
  marked: ReadonlyMap<number, readonly Marked[]>,
): boolean {
  return ancestorsOf(pieceId, parents).some((id) => marked.has(id));
}

function ancestorsOf(pieceId: number, parents: ReadonlyMap<number, number | null>): number[] {
  const above: number[] = [];
  for (let id = parents.get(pieceId) ?? null; id !== null; id = parents.get(id) ?? null) above.push(id);
  return above;
}
