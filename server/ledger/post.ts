import type { Denial, Draft, Ruling } from '../../src/ledger/entries.ts';
import { showLength } from '../../src/quantity/length-show.ts';
import { nextId, type Tx } from '../database/book.ts';
import { insertInto } from '../database/statements.ts';
import { readUnits } from '../kit/workroom.ts';
import { conflict, invalid, type Refusal } from '../refusal.ts';
import { type PieceState, tellState } from './state.ts';

/** What an entry says beside its three numbers. */
export interface Context {
  readonly why?: string;
  /** the length as it was typed */
  readonly typed?: string;
  readonly tierId?: number;
  readonly otherUseId?: number;
  readonly strips?: number;
  readonly batchId?: number;
  /** the bath of that batch */
  readonly bath?: number;
  readonly receiptId?: number;
  readonly orderLineId?: number;
}

interface Links {
  readonly pairId?: number;
  readonly reversesId?: number;
}

const newEntry = insertInto('entry');

/** Puts one entry at the end of the ledger; the file's triggers move the balances. Gives its id. */
export function post(
  tx: Tx,
  pieceId: number,
  draft: Draft,
  context: Context = {},
  links: Links = {},
): number {
  const { lastId } = tx.run(
    newEntry({
      piece_id: pieceId,
      kind: draft.kind,
      length_ticks: draft.lengthTicks,
      held_ticks: draft.heldTicks,
      cost_minor: draft.costMinor,
      at: tx.at,
      person_id: tx.personId,
      why: context.why ?? '',
      typed: context.typed ?? '',
      request_key: tx.requestKey,
      tier_id: context.tierId ?? null,
      other_use_id: context.otherUseId ?? null,
      strips: context.strips ?? null,
      batch_id: context.batchId ?? null,
      receipt_id: context.receiptId ?? null,
      order_line_id: context.orderLineId ?? null,
      pair_id: links.pairId ?? null,
      reverses_id: links.reversesId ?? null,
      bath: context.bath ?? null,
    }),
  );
  return lastId;
}

/** The id that the entry after the next `skip` ones will get, for entries that name their pair in advance. */
export function comingEntryId(tx: Tx, skip: number): number {
  return nextId(tx, 'entry') + skip;
}

/** The drafts of a ruling, or the refusal in words. `field` is where the length was typed. */
export function allowedOrRefused<T>(tx: Tx, piece: PieceState, ruling: Ruling<T>, field: string): T {
  if (ruling.ok) return ruling.drafts;
  throw refuse(tx, piece, ruling.denial, field);
}

function refuse(tx: Tx, piece: PieceState, denial: Denial, field: string): Refusal {
  const units = readUnits(tx, tx.personId);
  const show = (ticks: number) => showLength(ticks, units, 'down');
  const state = () => tellState(tx, piece.id, tx.personId);
  switch (denial.why) {
    case 'not-positive':
      return invalid(field, 'Enter more than 0.');
    case 'more-than-free':
      return conflict(
        `${show(denial.askedTicks)} was asked of ${piece.code}, and ${show(denial.freeTicks)} can be had. ${state()}`,
      );
    case 'more-than-held':
      return conflict(
        `${show(denial.askedTicks)} was to be released of ${piece.code}, and ${show(denial.heldTicks)} is held. ${state()}`,
      );
    case 'below-held':
      return conflict(
        `The count of ${show(denial.countedTicks)} is less than the ${show(denial.heldTicks)} that is held of ${piece.code}. Release first. ${state()}`,
      );
    case 'whole-piece':
      return invalid(
        field,
        `That is the whole of ${piece.code}: enter less, so that something is left to split it from.`,
      );
    case 'no-difference':
      return invalid(field, `The count agrees with the book: ${piece.code} needs no entry.`);
  }
}
