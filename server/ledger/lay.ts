import * as rules from '../../src/ledger/entries.ts';
import type { Tx } from '../database/book.ts';
import { allowedOrRefused, post } from './post.ts';
import { readHeldForTier, readHolds, readPiece } from './state.ts';
import { contextOf, keepPlace, makePiece, type PieceRef, remnantBeside } from './verbs.ts';

/** What a lay takes off its piece for one tier. */
export interface TierOfLay {
  readonly tierId: number;
  readonly strips: number;
  readonly lengthTicks: number;
  /** what of the tier's hold is for this lay; the rest of it is for other lays */
  readonly heldTicks: number;
}

/** A remnant kept beside the strips, and where it lay: from the free end before the lay, and from the left edge. */
export interface RestOfLay {
  readonly lengthTicks: number;
  readonly widthTicks: number;
  readonly alongTicks: number;
  readonly acrossTicks: number;
  readonly placeId: number | null;
}

export interface AskedLay {
  readonly tiers: readonly TierOfLay[];
  /** place in `tiers` of the cut beside which what is kept is entered */
  readonly carrier: number;
  readonly rests: readonly RestOfLay[];
  /** tiers whose holds on this piece may give way where more was used than planned */
  readonly mayGive: readonly number[];
  readonly typed: string;
  readonly why?: string;
}

/**
 * Cuts one lay: a cut for each of its tiers, whose lengths add up to what the lay takes, and what is kept beside the
 * strips as remnants of their own width. Of what each tier holds, the part for this lay goes and the rest stays, as
 * far as there is cloth for it.
 *
 * @throws {Refusal} conflict, where the piece does not give the length
 */
export function cutLay(tx: Tx, pieceId: number, asked: AskedLay): PieceRef[] {
  releaseUnused(tx, pieceId, asked);
  releaseForMore(tx, pieceId, asked);
  const cuts = asked.tiers.map((tier) => cutForOne(tx, pieceId, tier, asked));
  for (const { tier, tookTicks } of cuts) holdAgain(tx, pieceId, tier, tookTicks);
  const carrier = cuts[asked.carrier];
  if (!carrier) throw new Error('a lay has tiers');
  return asked.rests.map((rest) => keepRest(tx, pieceId, carrier, rest, asked));
}

/** A tier that gets less length than was held for it gives the difference back. */
function releaseUnused(tx: Tx, pieceId: number, asked: AskedLay): void {
  for (const { tierId, lengthTicks, heldTicks } of asked.tiers) {
    const held = readHeldForTier(tx, pieceId, tierId);
    release(tx, pieceId, tierId, Math.min(held, heldTicks) - lengthTicks);
  }
}

/** Where more is taken than the lay's tiers hold and is free, holds for lays that follow give way. */
function releaseForMore(tx: Tx, pieceId: number, asked: AskedLay): void {
  const wanted = new Map(asked.tiers.map(({ tierId, lengthTicks }) => [tierId, lengthTicks]));
  const holds = new Map(readHolds(tx, pieceId).map(({ tierId, heldTicks }) => [tierId, heldTicks]));
  const fromFree = [...wanted].reduce(
    (sum, [tierId, ticks]) => sum + Math.max(0, ticks - (holds.get(tierId) ?? 0)),
    0,
  );
  let missing = fromFree - rules.freeTicks(readPiece(tx, pieceId));
  for (const tierId of asked.mayGive) {
    if (missing <= 0) return;
    const spare = (holds.get(tierId) ?? 0) - (wanted.get(tierId) ?? 0);
    const given = Math.min(missing, Math.max(0, spare));
    release(tx, pieceId, tierId, given);
    missing -= given;
  }
}

function release(tx: Tx, pieceId: number, tierId: number, lengthTicks: number): void {
  if (lengthTicks <= 0) return;
  const ruling = rules.release(readHeldForTier(tx, pieceId, tierId), lengthTicks);
  const [draft] = allowedOrRefused(tx, readPiece(tx, pieceId), ruling, 'length');
  post(tx, pieceId, draft, { tierId });
}

interface CutOfLay {
  readonly tier: TierOfLay;
  readonly entryId: number;
  readonly draft: rules.Draft;
  /** what the cut took of the tier's hold */
  readonly tookTicks: number;
}

function cutForOne(tx: Tx, pieceId: number, tier: TierOfLay, asked: AskedLay): CutOfLay {
  const piece = readPiece(tx, pieceId);
  const held = readHeldForTier(tx, pieceId, tier.tierId);
  const [draft] = allowedOrRefused(tx, piece, rules.cut(piece, held, tier.lengthTicks), 'length');
  const context = { ...contextOf(asked), tierId: tier.tierId, strips: tier.strips };
  return { tier, draft, tookTicks: -draft.heldTicks, entryId: post(tx, pieceId, draft, context) };
}

/** A cut takes from the tier's hold first: what it took of other lays' parts is held again. */
function holdAgain(tx: Tx, pieceId: number, tier: TierOfLay, tookTicks: number): void {
  const piece = readPiece(tx, pieceId);
  const lengthTicks = Math.min(tookTicks - tier.heldTicks, rules.freeTicks(piece));
  if (lengthTicks <= 0) return;
  const [draft] = allowedOrRefused(tx, piece, rules.hold(piece, lengthTicks), 'length');
  post(tx, pieceId, draft, { tierId: tier.tierId });
}

function keepRest(tx: Tx, pieceId: number, carrier: CutOfLay, rest: RestOfLay, asked: AskedLay): PieceRef {
  const piece = readPiece(tx, pieceId);
  const made = makePiece(
    tx,
    remnantBeside(piece, { placeId: rest.placeId, usableWidthTicks: rest.widthTicks }),
  );
  const draft = rules.keepLeftover(carrier.draft, piece.usableWidthTicks, rest);
  post(tx, made.id, draft, contextOf(asked), { pairId: carrier.entryId });
  keepPlace(tx, made.id, rest.alongTicks, rest.acrossTicks);
  return made;
}
