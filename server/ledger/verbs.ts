import * as rules from '../../src/ledger/entries.ts';
import { nextId, type Tx } from '../database/book.ts';
import { insertInto, type Param, prepared } from '../database/statements.ts';
import { showMoment } from '../kit/when.ts';
import { conflict, invalid, unknown } from '../refusal.ts';
import { allowedOrRefused, type Context, comingEntryId, post } from './post.ts';
import { inForce } from './standing.ts';
import { type PieceState, type Purpose, readHeldFor, readPiece } from './state.ts';

export interface PieceRef {
  readonly id: number;
  readonly code: string;
}

/** A length as it was read and as it was typed. */
export interface Measured {
  readonly lengthTicks: number;
  readonly typed: string;
}

interface NewPiece {
  readonly kind: 'bolt' | 'remnant';
  readonly lotId: number;
  readonly usableWidthTicks: number;
  readonly placeId: number | null;
  readonly parentId?: number;
  /** a code of the workroom's own; else one is given: B and R with a number for bolts and remnants */
  readonly code?: string;
}

type Where = { readonly placeId?: number | null };
type Why = { readonly why?: string };

/** A bolt or remnant comes onto the shelf. Gives the entry that it came by too. */
export function receivePiece(
  tx: Tx,
  piece: NewPiece & Measured & { readonly costMinor: number },
  context: Omit<Context, 'typed'> = {},
): PieceRef & { readonly entryId: number } {
  const ruling = rules.receive(piece.lengthTicks, piece.costMinor);
  if (!ruling.ok)
    throw invalid('length', 'A piece has a length above nothing and a cost of nothing or more.');
  const made = makePiece(tx, piece);
  const entryId = post(tx, made.id, ruling.drafts[0], { ...context, typed: piece.typed });
  return { ...made, entryId };
}

/** Splits a free length off to a piece of its own, in the same place unless another is given. */
export function splitPiece(tx: Tx, pieceId: number, asked: Measured & Where & Why): PieceRef {
  const piece = readPiece(tx, pieceId);
  const [off, joined] = allowedOrRefused(tx, piece, rules.split(piece, asked.lengthTicks), 'length');
  const made = makePiece(tx, remnantBeside(piece, { ...asked, usableWidthTicks: piece.usableWidthTicks }));
  const context = contextOf(asked);
  const offId = post(tx, piece.id, off, context, { pairId: comingEntryId(tx, 1) });
  post(tx, made.id, joined, context, { pairId: offId });
  return made;
}

/** Promises a free length to a tier; nobody else can cut it then. */
export function holdLength(tx: Tx, pieceId: number, tierId: number, asked: Measured & Why): void {
  holdFor(tx, pieceId, { tierId }, asked);
}

/** Promises a free length to another use: see `openOtherUse`. */
export function holdForUse(tx: Tx, pieceId: number, otherUseId: number, asked: Measured & Why): void {
  holdFor(tx, pieceId, { otherUseId }, asked);
}

function holdFor(tx: Tx, pieceId: number, purpose: Purpose, asked: Measured & Why): void {
  const piece = readPiece(tx, pieceId);
  const [draft] = allowedOrRefused(tx, piece, rules.hold(piece, asked.lengthTicks), 'length');
  post(tx, piece.id, draft, { ...contextOf(asked), ...purpose });
}

/** Gives length back that a tier held. */
export function releaseLength(tx: Tx, pieceId: number, tierId: number, asked: Measured & Why): void {
  releaseFor(tx, pieceId, { tierId }, asked);
}

/** Gives length back that was held for another use. */
export function releaseFromUse(tx: Tx, pieceId: number, otherUseId: number, asked: Measured & Why): void {
  releaseFor(tx, pieceId, { otherUseId }, asked);
}

function releaseFor(tx: Tx, pieceId: number, purpose: Purpose, asked: Measured & Why): void {
  const piece = readPiece(tx, pieceId);
  const held = readHeldFor(tx, pieceId, purpose);
  const [draft] = allowedOrRefused(tx, piece, rules.release(held, asked.lengthTicks), 'length');
  post(tx, piece.id, draft, { ...contextOf(asked), ...purpose });
}

/** Strips are counted where they are for a tier. */
export type Cut = Measured &
  Why &
  Kept &
  ({ readonly tierId: number; readonly strips: number } | { readonly otherUseId: number });

interface Kept {
  /** what is kept beside the strips as a remnant; without it the rest is waste */
  readonly leftover?: {
    readonly lengthTicks: number;
    readonly widthTicks: number;
    readonly placeId: number | null;
    /** where it lay, from the free end before the cut and from the left edge; left out where that is not known */
    readonly alongTicks?: number;
    readonly acrossTicks?: number;
  };
}

/** Cuts a length for a tier or another use, out of what is held for it and then of what is free. */
export function cutLength(tx: Tx, pieceId: number, asked: Cut): { remnant: PieceRef | null } {
  const piece = readPiece(tx, pieceId);
  const purpose =
    'tierId' in asked ? { tierId: asked.tierId, strips: asked.strips } : { otherUseId: asked.otherUseId };
  const held = readHeldFor(tx, pieceId, purpose);
  const [draft] = allowedOrRefused(tx, piece, rules.cut(piece, held, asked.lengthTicks), 'length');
  const cutId = post(tx, piece.id, draft, { ...contextOf(asked), ...purpose });
  if (!asked.leftover) return { remnant: null };
  const { lengthTicks, widthTicks, placeId } = asked.leftover;
  if (lengthTicks <= 0) throw invalid('leftover_length', 'What is left: enter more than 0.');
  if (lengthTicks > asked.lengthTicks)
    throw invalid('leftover_length', 'What is left is longer than what was cut: enter less.');
  if (widthTicks <= 0) throw invalid('leftover_width', 'What is left: enter a width above 0.');
  if (widthTicks > piece.usableWidthTicks)
    throw invalid('leftover_width', 'What is left is wider than the piece: enter less.');
  const made = makePiece(tx, remnantBeside(piece, { placeId, usableWidthTicks: widthTicks }));
  post(tx, made.id, rules.keepLeftover(draft, piece.usableWidthTicks, asked.leftover), contextOf(asked), {
    pairId: cutId,
  });
  const { alongTicks, acrossTicks } = asked.leftover;
  if (alongTicks !== undefined && acrossTicks !== undefined) keepPlace(tx, made.id, alongTicks, acrossTicks);
  return { remnant: made };
}

/** Where a remnant lay, so that a flaw in it is known of it too. */
export function keepPlace(tx: Tx, pieceId: number, alongTicks: number, acrossTicks: number): void {
  const place = { piece_id: pieceId, along_ticks: alongTicks, across_ticks: acrossTicks };
  tx.run(tx.db.insertInto('remnant_from').values(place));
}

/** Sends a free length to a batch, or to a bath of it. Gives the entry's id, by which the length comes back. */
export function sendPieceToDye(
  tx: Tx,
  pieceId: number,
  batchId: number,
  asked: Measured & Why & { readonly bath?: number },
): number {
  const piece = readPiece(tx, pieceId);
  const [draft] = allowedOrRefused(tx, piece, rules.sendToDye(piece, asked.lengthTicks), 'length');
  const bath = asked.bath === undefined ? {} : { bath: asked.bath };
  return post(tx, piece.id, draft, { ...contextOf(asked), batchId, ...bath });
}

/** Sends a free length to several baths of a batch, each part of it an entry of its own; refused as a whole. */
export function sendPieceToBaths(
  tx: Tx,
  pieceId: number,
  batchId: number,
  asked: Measured &
    Why & { readonly baths: readonly { readonly bath: number; readonly lengthTicks: number }[] },
): void {
  const piece = readPiece(tx, pieceId);
  allowedOrRefused(tx, piece, rules.sendToDye(piece, asked.lengthTicks), 'length');
  const inAll = asked.baths.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
  if (inAll !== asked.lengthTicks) throw new Error('the parts of a length make the whole of it');
  for (const part of asked.baths) sendPieceToDye(tx, pieceId, batchId, { ...asked, ...part });
}

/** A sent length comes back as a piece of a new lot, as measured; 0 ticks is a spoiled length. */
export function bringBackFromDye(
  tx: Tx,
  sentEntryId: number,
  back: {
    readonly measuredTicks: number;
    readonly typed: string;
    readonly lotId: number;
    readonly usableWidthTicks: number;
    /** what its dyeing cost, which the piece carries on */
    readonly dyeingMinor?: number;
  } & Where &
    Why,
): PieceRef {
  const sent = tx.first(tx.db.selectFrom('entry').selectAll().where('id', '=', sentEntryId));
  if (sent?.kind !== 'sent-to-dye' || sent.batch_id === null) throw unknown('such length at the dye bench');
  if (back.measuredTicks < 0) throw invalid('length', 'Enter 0 or more.');
  const source = readPiece(tx, sent.piece_id);
  refuseIfNotInPot(tx, sentEntryId, source.code);
  const made = makePiece(tx, {
    kind: source.kind,
    lotId: back.lotId,
    usableWidthTicks: back.usableWidthTicks,
    placeId: back.placeId ?? source.placeId,
    parentId: source.id,
  });
  const deltas = { lengthTicks: sent.length_ticks, heldTicks: sent.held_ticks, costMinor: sent.cost_minor };
  const drafts = rules.backFromDye({ ...deltas, heldTicks: 0 }, back.measuredTicks, back.dyeingMinor);
  for (const draft of drafts) {
    const links = draft.kind === 'back-from-dye' ? { pairId: sentEntryId } : {};
    const bath = sent.bath === null ? {} : { bath: sent.bath };
    post(tx, made.id, draft, { ...contextOf(back), batchId: sent.batch_id, ...bath }, links);
  }
  return made;
}

/** A sent length comes back once, and not at all where its sending was undone. */
function refuseIfNotInPot(tx: Tx, sentEntryId: number, sourceCode: string): void {
  const since = tx.first(
    tx.db
      .selectFrom('entry')
      .innerJoin('person', 'person.id', 'entry.person_id')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .select(['entry.kind', 'entry.at', 'person.name as person', 'piece.code'])
      .where((where) =>
        where.or([where('entry.pair_id', '=', sentEntryId), where('entry.reverses_id', '=', sentEntryId)]),
      )
      .where(inForce('entry')),
  );
  if (!since) return;
  const what =
    since.kind === 'reversed'
      ? `That length of ${sourceCode} is not at the dye bench: its sending was undone`
      : `That length of ${sourceCode} came back already as ${since.code}: it was entered`;
  throw conflict(`${what} by ${since.person}, ${showMoment(since.at)}.`);
}

/** Puts a counted length in the place of the booked one. */
export function recountPiece(tx: Tx, pieceId: number, asked: Measured & Why): void {
  const piece = readPiece(tx, pieceId);
  const [draft] = allowedOrRefused(tx, piece, rules.recount(piece, asked.lengthTicks), 'length');
  post(tx, piece.id, draft, contextOf(asked));
}

/** Writes off a free length; the reason is asked for. */
export function writeOffLength(tx: Tx, pieceId: number, asked: Measured & { readonly why: string }): void {
  const piece = readPiece(tx, pieceId);
  const [draft] = allowedOrRefused(tx, piece, rules.writeOff(piece, asked.lengthTicks), 'length');
  post(tx, piece.id, draft, contextOf(asked));
}

/** Sends a free length back to the supplier. Gives the entry, and what the length cost. */
export function returnLength(
  tx: Tx,
  pieceId: number,
  asked: Measured & Why,
): { readonly entryId: number; readonly costMinor: number } {
  const piece = readPiece(tx, pieceId);
  const [draft] = allowedOrRefused(tx, piece, rules.returnToSupplier(piece, asked.lengthTicks), 'length');
  const entryId = post(tx, piece.id, draft, contextOf(asked));
  return { entryId, costMinor: -draft.costMinor };
}

const pieceWithCode = prepared((db, code: Param<string>) =>
  db.selectFrom('piece').select('id').where('code', '=', code),
);

const newPiece = insertInto('piece');

export function makePiece(tx: Tx, piece: NewPiece): PieceRef {
  const code = piece.code ?? `${piece.kind === 'bolt' ? 'B' : 'R'}${nextId(tx, 'piece')}`;
  if (tx.first(pieceWithCode(code))) {
    throw conflict(`There is a piece ${code} already: give this one another code.`);
  }
  const { lastId } = tx.run(
    newPiece({
      code,
      kind: piece.kind,
      lot_id: piece.lotId,
      usable_width_ticks: piece.usableWidthTicks,
      place_id: piece.placeId,
      parent_id: piece.parentId ?? null,
    }),
  );
  return { id: lastId, code };
}

export function remnantBeside(
  piece: PieceState,
  made: Where & { readonly usableWidthTicks: number },
): NewPiece {
  return {
    kind: 'remnant',
    lotId: piece.lotId,
    usableWidthTicks: made.usableWidthTicks,
    placeId: made.placeId === undefined ? piece.placeId : made.placeId,
    parentId: piece.id,
  };
}

export function contextOf(asked: { readonly why?: string; readonly typed: string }): Context {
  return asked.why === undefined ? { typed: asked.typed } : { why: asked.why, typed: asked.typed };
}
