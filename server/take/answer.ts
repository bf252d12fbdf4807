import { fitStrips } from '../../src/fit/strips.ts';
import {
  type Ask,
  demandOf,
  type TakePiece,
  type Taking,
  takeFree,
  takeJoined,
  takenOfNeeded,
  takeSpare,
} from '../../src/fit/take.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import type { Reader } from '../database/book.ts';
import { stripRowsOf } from '../garments/garment/strip-rows.ts';
import { grouped } from '../kit/grouped.ts';
import { garmentPath } from '../kit/paths.ts';
import { needWithout, readNeeds } from '../short/queries.ts';
import { readTakePieces } from '../short/spare.ts';
import type { NeedLine } from '../short/work-out.ts';

/** Strips that a tier or part of a garment would be short of on top of what it is short of now. */
export interface Lost {
  readonly garmentCode: string;
  readonly garmentName: string;
  readonly tierName: string;
  readonly href: string;
  readonly strips: number;
  /** true where the planner might cut more than the hand rule that counted them */
  readonly isEstimate: boolean;
}

/** Whether what is asked for can be taken of one cloth and shade. */
export interface TakeAnswer extends ClothShade {
  /**
   * from what is to spare; from what open garments need, who may find it elsewhere or, looked at closely, lose strips;
   * or not from what is free
   */
  readonly may: 'spare' | 'perhaps' | 'costs' | 'no';
  /** what would be cut; none where it cannot */
  readonly takings: readonly Taking[];
  readonly lost: readonly Lost[];
  /** what garments need of what would be cut, in ticks */
  readonly neededTicks: number;
  /** the longest free length, and the usable width of the widest free piece, in ticks */
  readonly longestFreeTicks: number;
  readonly widestFreeTicks: number;
  /** of the strips asked for, those that what is free would give; 0 where a length is asked for */
  readonly mostStrips: number;
  /** for a length that no piece has: lengths to spare that make it with seams; null where they do not */
  readonly joined: readonly Taking[] | null;
  /** whether several lots would do where one lot does not */
  readonly anyLots: boolean;
}

// How many ways of taking it are looked at for one that costs no garment anything: each shares the cloth out anew.
const MOST_WAYS = 4;

/**
 * The answers for every cloth and shade that is on the shelf and asked for, in the order in which they are given. Who
 * would lose what is looked at where there is but one: of many it would take long.
 */
export function answerTake(
  reader: Reader,
  of: readonly ClothShade[],
  ask: Ask,
  lots: 'one' | 'any',
): TakeAnswer[] {
  const clothIds = [...new Set(of.map(({ clothId }) => clothId))];
  const shadeIds = [...new Set(of.map(({ shadeId }) => shadeId))];
  const pieces = grouped(readTakePieces(reader, { clothIds, shadeIds }), needKey);
  return of.map((need) => {
    const ofNeed = pieces.get(needKey(need)) ?? [];
    const answer = answerOf(need, ofNeed, ask, lots);
    if (answer.may !== 'perhaps' || of.length > 1) return answer;
    return lookClosely(reader, answer, [answer.takings, ...takeFree(ofNeed, ask, lots)]);
  });
}

function answerOf(
  { clothId, shadeId }: ClothShade,
  pieces: readonly TakePiece[],
  ask: Ask,
  lots: 'one' | 'any',
): TakeAnswer {
  const spare = takeSpare(pieces, ask, lots);
  const free = spare ?? takeFree(pieces, ask, lots)[0] ?? null;
  const facts = factsOf(pieces, ask, lots, { isSpare: spare !== null, isFree: free !== null });
  const answer = { clothId, shadeId, ...facts, takings: free ?? [], lost: [], neededTicks: 0 };
  if (free === null) return { ...answer, may: 'no' };
  const keepsAll = spare !== null && !spare.some(({ pieceId }) => isFlawedAndNeeded(pieces, pieceId));
  if (keepsAll) return { ...answer, may: 'spare' };
  const needed = new Map(pieces.map((piece) => [piece.pieceId, piece.neededTicks]));
  const ofNeeded = free.map((taking) => takenOfNeeded(taking, needed.get(taking.pieceId) ?? 0));
  return { ...answer, may: 'perhaps', neededTicks: ofNeeded.reduce((sum, ticks) => sum + ticks, 0) };
}

/** The first way that costs no garment anything, who may find what it needs elsewhere; else what costs least. */
function lookClosely(reader: Reader, answer: TakeAnswer, ways: readonly (readonly Taking[])[]): TakeAnswer {
  const { lines } = readNeeds(reader, { of: new Set([needKey(answer)]) });
  const isQuestion = ({ cloth, shade }: NeedLine) =>
    needKey({ clothId: cloth.id, shadeId: shade.id }) === needKey(answer);
  const before = lines.find(isQuestion);
  const distinct = new Map(ways.map((takings) => [takings.map(({ pieceId }) => pieceId).join(), takings]));
  let best: TakeAnswer | null = null;
  for (const takings of [...distinct.values()].slice(0, MOST_WAYS)) {
    const taken = new Map(takings.map(({ pieceId, lengthTicks }) => [pieceId, lengthTicks]));
    const after = needWithout(reader, answer, taken);
    const lost = before ? lostBetween(before, after) : [];
    const spareAfter = ({ pieceId, freeAfterTicks }: Taking) =>
      freeAfterTicks - (after?.needed.get(pieceId)?.neededTicks ?? 0);
    const rests = takings.map((taking) => ({ ...taking, spareAfterTicks: spareAfter(taking) }));
    if (lost.length === 0) return { ...answer, may: 'spare', takings: rests };
    if (best === null || stripsOf(lost) < stripsOf(best.lost))
      best = { ...answer, may: 'costs', takings: rests, lost };
  }
  return best ?? answer;
}

function stripsOf(lost: readonly Lost[]): number {
  return lost.reduce((sum, { strips }) => sum + strips, 0);
}

/** Whether flaws of a piece come nearer to what garments need of it when something is cut off. */
function isFlawedAndNeeded(pieces: readonly TakePiece[], pieceId: number): boolean {
  const piece = pieces.find((one) => one.pieceId === pieceId);
  return piece !== undefined && piece.neededTicks > 0 && (piece.flaws ?? []).length > 0;
}

/** What is told of the pieces where what is to spare is not enough, or not even what is free. */
function factsOf(
  pieces: readonly TakePiece[],
  ask: Ask,
  lots: 'one' | 'any',
  { isSpare, isFree }: { readonly isSpare: boolean; readonly isFree: boolean },
) {
  const joinedOf = (of: 'one' | 'any') =>
    ask.kind === 'length' && !isFree ? takeJoined(pieces, ask.lengthTicks, of) : null;
  const joined = joinedOf(lots);
  const ofSeveral = ask.kind === 'length' ? joinedOf('any') : takeSpare(pieces, ask, 'any');
  return {
    longestFreeTicks: Math.max(0, ...pieces.map(({ lengthTicks }) => lengthTicks)),
    widestFreeTicks: Math.max(0, ...pieces.map(({ usableWidthTicks }) => usableWidthTicks)),
    mostStrips: ask.kind === 'strips' && !isFree ? fitStrips([demandOf(ask)], pieces, lots).madeStrips : 0,
    joined,
    anyLots: lots === 'one' && !isSpare && joined === null && ofSeveral !== null,
  };
}

function lostBetween(before: NeedLine, after: Pick<NeedLine, 'shares'> | null): Lost[] {
  return before.shares.flatMap(({ garment, need, short }) => {
    const then = after?.shares.find((share) => share.garment.id === garment.id)?.short;
    return need.demands.flatMap(({ tierId }, place) => {
      const strips = (then?.shortOf[place]?.count ?? 0) - (short.shortOf[place]?.count ?? 0);
      if (strips <= 0) return [];
      const row = stripRowsOf(garment).find(({ id }) => id === tierId);
      const [tierName, href] = [row?.name ?? '', row?.href ?? garmentPath(garment.code)];
      const isEstimate = then?.by === 'hand rule';
      return [{ garmentCode: garment.code, garmentName: garment.name, tierName, href, strips, isEstimate }];
    });
  });
}
