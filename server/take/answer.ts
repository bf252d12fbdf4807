import {
  type Ask,
  type TakePiece,
  type Taking,
  takeFree,
  takeJoined,
  takeSpare,
} from '../../src/fit/take.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import type { Reader } from '../database/book.ts';
import { grouped } from '../kit/grouped.ts';
import { needWithout, readNeeds, type ShortLine } from '../short/queries.ts';
import { readTakePieces } from '../short/spare.ts';

/** Strips that a garment's tier would be short of on top of what it is short of now. */
export interface Lost {
  readonly garmentCode: string;
  readonly garmentName: string;
  readonly tierId: number;
  readonly tierName: string;
  readonly strips: number;
}

/** Whether what is asked for can be taken of one cloth and shade. */
export interface TakeAnswer extends ClothShade {
  /** from what is to spare; from what open garments need; or not from what is free */
  readonly may: 'spare' | 'costs' | 'no';
  /** what would be cut; none where it cannot */
  readonly takings: readonly Taking[];
  readonly lost: readonly Lost[];
  /** the longest free length, in ticks */
  readonly longestFreeTicks: number;
  /** for a length that no piece has: lengths to spare that make it with seams; null where they do not */
  readonly joined: readonly Taking[] | null;
  /** whether strips could be taken from several lots */
  readonly anyLots: boolean;
  readonly pieces: readonly TakePiece[];
}

/** The answers for every cloth and shade that is on the shelf and asked for, in the order in which they are given. */
export function answerTake(
  reader: Reader,
  of: readonly ClothShade[],
  ask: Ask,
  lots: 'one' | 'any',
): TakeAnswer[] {
  const clothIds = [...new Set(of.map(({ clothId }) => clothId))];
  const shadeIds = [...new Set(of.map(({ shadeId }) => shadeId))];
  const pieces = grouped(readTakePieces(reader, { clothIds, shadeIds }), needKey);
  const lines = new Map(
    readNeeds(reader, { whole: true }).lines.map((line) => [
      needKey({ clothId: line.cloth.id, shadeId: line.shade.id }),
      line,
    ]),
  );
  return of.map((need) =>
    answerOf(reader, need, pieces.get(needKey(need)) ?? [], ask, lots, lines.get(needKey(need))),
  );
}

function answerOf(
  reader: Reader,
  need: ClothShade,
  pieces: readonly TakePiece[],
  ask: Ask,
  lots: 'one' | 'any',
  before: ShortLine | undefined,
): TakeAnswer {
  const { clothId, shadeId } = need;
  const spare = takeSpare(pieces, ask, lots);
  const free = spare ?? takeFree(pieces, ask, lots);
  const facts = {
    clothId,
    shadeId,
    pieces,
    longestFreeTicks: Math.max(0, ...pieces.map(({ lengthTicks }) => lengthTicks)),
    joined: free === null && ask.kind === 'length' ? takeJoined(pieces, ask.lengthTicks, lots) : null,
    anyLots: lots === 'one' && ask.kind === 'strips' && takeSpare(pieces, ask, 'any') !== null,
  };
  if (free === null) return { ...facts, may: 'no', takings: [], lost: [] };
  if (spare !== null || before === undefined) return { ...facts, may: 'spare', takings: free, lost: [] };
  const taken = new Map(free.map(({ pieceId, lengthTicks }) => [pieceId, lengthTicks]));
  const after = needWithout(reader, need, taken);
  const lost = lostBetween(before, after);
  const takings = free.map((taking) => ({
    ...taking,
    spareAfterTicks: taking.freeAfterTicks - (after?.needed.get(taking.pieceId)?.neededTicks ?? 0),
  }));
  // Garments may find what they need in other pieces.
  return { ...facts, may: lost.length === 0 ? 'spare' : 'costs', takings, lost };
}

function lostBetween(before: ShortLine, after: Pick<ShortLine, 'shares'> | null): Lost[] {
  return before.shares.flatMap(({ garment, need, short }) => {
    const then = after?.shares.find((share) => share.garment.id === garment.id)?.short;
    return need.demands.flatMap(({ tierId }, place) => {
      const strips = (then?.shortOf[place]?.count ?? 0) - (short.shortOf[place]?.count ?? 0);
      if (strips <= 0) return [];
      const tierName = garment.tiers.find(({ id }) => id === tierId)?.name ?? '';
      return [{ garmentCode: garment.code, garmentName: garment.name, tierId, tierName, strips }];
    });
  });
}
