import type { Flaw } from '../cut-plan/job.ts';
import type { Direction } from '../garment/band.ts';
import type { StripDemand } from '../garment/need.ts';
import { fitStrips, type Stretch } from './strips.ts';

/** A piece that something may be taken of. Lengths in ticks; flaws as they lie from the free end. */
export interface TakePiece extends Stretch {
  /** What open garments will cut off its free end; 0 up to its free length. */
  readonly neededTicks: number;
}

/** What is asked for: one length, or strips of one size. */
export type Ask = { readonly kind: 'length'; readonly lengthTicks: number } | AskedStrips;

/** Sizes in ticks. */
export interface AskedStrips {
  readonly kind: 'strips';
  readonly count: number;
  readonly depthTicks: number;
  readonly stripLengthTicks: number;
  readonly direction: Direction;
}

/** A length cut off the free end of a piece, and what is free and to spare of it behind that, in ticks. */
export interface Taking {
  readonly pieceId: number;
  readonly lotId: number;
  readonly lengthTicks: number;
  /** the flaws in that length, from the free end; strips are cut clear of them */
  readonly flaws: readonly Flaw[];
  readonly freeAfterTicks: number;
  readonly spareAfterTicks: number;
}

/**
 * Where what is asked for can be taken from what is to spare, so that every garment keeps the length that it needs: of
 * one piece where it is a length (one without a flaw there, else the tightest), of one lot or of any where it is strips.
 * null where nothing has it. Flaws lie nearer to the free end after that, so that a garment may lose strips by them.
 */
export function takeSpare(pieces: readonly TakePiece[], ask: Ask, lots: 'one' | 'any'): Taking[] | null {
  return takeOf(pieces, ask, lots, (piece) => ({
    ...piece,
    lengthTicks: piece.lengthTicks - piece.neededTicks,
  }));
}

/**
 * The ways to take the same from all that is free, though garments need some of it: of a length each piece that has it,
 * of strips each lot that gives them, or all lots together. What takes least of what garments need comes first.
 */
export function takeFree(pieces: readonly TakePiece[], ask: Ask, lots: 'one' | 'any'): Taking[][] {
  const groups =
    ask.kind === 'length' ? pieces.map((piece) => [piece]) : lots === 'one' ? byLot(pieces) : [pieces];
  const needed = new Map(pieces.map((piece) => [piece.pieceId, piece.neededTicks]));
  const ways = groups.flatMap((group) => {
    const takings = takeOf(group, ask, lots, (piece) => piece);
    if (takings === null) return [];
    const ofNeeded = (taking: Taking) => takenOfNeeded(taking, needed.get(taking.pieceId) ?? 0);
    return [{ takings, neededTicks: takings.reduce((sum, taking) => sum + ofNeeded(taking), 0) }];
  });
  return ways.sort((a, b) => a.neededTicks - b.neededTicks).map(({ takings }) => takings);
}

/** How much of what garments need of a piece is among what is taken of it, in ticks. */
export function takenOfNeeded(
  { freeAfterTicks }: Pick<Taking, 'freeAfterTicks'>,
  neededTicks: number,
): number {
  return Math.max(0, neededTicks - freeAfterTicks);
}

function takeOf(
  pieces: readonly TakePiece[],
  ask: Ask,
  lots: 'one' | 'any',
  part: (piece: TakePiece) => Stretch,
): Taking[] | null {
  const byId = new Map(pieces.map((piece) => [piece.pieceId, piece]));
  const stretches = pieces.map(part).filter(({ lengthTicks }) => lengthTicks > 0);
  const cuts = ask.kind === 'length' ? cutLength(stretches, ask) : cutStrips(stretches, ask, lots);
  return (
    cuts &&
    [...cuts].map(([pieceId, lengthTicks]) => {
      const piece = byId.get(pieceId);
      const [free, needed, lotId] = [piece?.lengthTicks ?? 0, piece?.neededTicks ?? 0, piece?.lotId ?? 0];
      const freeAfterTicks = free - lengthTicks;
      const spareAfterTicks = Math.max(0, freeAfterTicks - needed);
      const flaws = ask.kind === 'length' && piece ? flawsWithin(piece, lengthTicks) : [];
      return { pieceId, lotId, lengthTicks, flaws, freeAfterTicks, spareAfterTicks };
    })
  );
}

function flawsWithin({ flaws = [] }: Stretch, lengthTicks: number): Flaw[] {
  return flaws.filter(({ fromTicks }) => fromTicks < lengthTicks);
}

/** Off a piece that has no flaw there, else off the tightest: remnants are used up first. */
function cutLength(
  stretches: readonly Stretch[],
  { lengthTicks }: { readonly lengthTicks: number },
): Map<number, number> | null {
  const [best] = stretches
    .filter((stretch) => stretch.lengthTicks >= lengthTicks)
    .sort(
      (a, b) =>
        flawsWithin(a, lengthTicks).length - flawsWithin(b, lengthTicks).length ||
        a.lengthTicks - b.lengthTicks ||
        a.pieceId - b.pieceId,
    );
  return best ? new Map([[best.pieceId, lengthTicks]]) : null;
}

function cutStrips(
  stretches: readonly Stretch[],
  ask: AskedStrips,
  lots: 'one' | 'any',
): Map<number, number> | null {
  const fit = fitStrips([demandOf(ask)], stretches, lots);
  return fit.missingStrips > 0 ? null : new Map(fit.ends.map(({ pieceId, endTicks }) => [pieceId, endTicks]));
}

/** Strips that are asked for, as they are fitted into pieces. */
export function demandOf({ count, depthTicks, stripLengthTicks, direction }: AskedStrips): StripDemand {
  return { tierId: 0, depthTicks, lengthTicks: stripLengthTicks, direction, count };
}

/**
 * The fewest lengths of one lot, or of any, that together are as long as what is asked for: to be joined with a seam.
 * The longest to spare come first. null where all that is to spare is too short.
 */
export function takeJoined(
  pieces: readonly TakePiece[],
  lengthTicks: number,
  lots: 'one' | 'any',
): Taking[] | null {
  const groups = lots === 'any' ? [pieces] : byLot(pieces);
  const found = groups.flatMap((group) => {
    let left = lengthTicks;
    const takings: Taking[] = [];
    const spare = group
      .map((piece) => ({ ...piece, spareTicks: piece.lengthTicks - piece.neededTicks }))
      .sort((a, b) => b.spareTicks - a.spareTicks || a.pieceId - b.pieceId);
    for (const { spareTicks, ...piece } of spare) {
      const { pieceId, lotId, lengthTicks: freeTicks } = piece;
      if (left === 0 || spareTicks <= 0) break;
      const taken = Math.min(left, spareTicks);
      left -= taken;
      const rests = { freeAfterTicks: freeTicks - taken, spareAfterTicks: spareTicks - taken };
      takings.push({ pieceId, lotId, lengthTicks: taken, flaws: flawsWithin(piece, taken), ...rests });
    }
    return left === 0 ? [takings] : [];
  });
  return found.reduce<Taking[] | null>(
    (best, takings) => (best === null || takings.length < best.length ? takings : best),
    null,
  );
}

function byLot(pieces: readonly TakePiece[]): TakePiece[][] {
  const lotIds = [...new Set(pieces.map(({ lotId }) => lotId))];
  return lotIds.map((id) => pieces.filter(({ lotId }) => lotId === id));
}
