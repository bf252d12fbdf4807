import type { Balance } from '../../src/ledger/entries.ts';
import { freeTicks } from '../../src/ledger/entries.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { showMoment } from '../kit/when.ts';
import { readUnits } from '../kit/workroom.ts';
import { unknown } from '../refusal.ts';
import { OTHER_USE_FACTS, sayOtherUse } from './other-use.ts';
import { readTierNames } from './tier-names.ts';
import { KIND_WORDS } from './words.ts';

export interface PieceState extends Balance {
  readonly id: number;
  readonly code: string;
  readonly kind: 'bolt' | 'remnant';
  readonly lotId: number;
  readonly usableWidthTicks: number;
  readonly placeId: number | null;
}

const pieceRow = prepared((db, pieceId: Param<number>) =>
  db.selectFrom('piece').selectAll().where('id', '=', pieceId),
);

/** A piece with its balances as they are now. @throws {Refusal} unknown */
export function readPiece(reader: Reader, pieceId: number): PieceState {
  const row = reader.first(pieceRow(pieceId));
  if (!row) throw unknown('such piece');
  return {
    id: row.id,
    code: row.code,
    kind: row.kind,
    lotId: row.lot_id,
    usableWidthTicks: row.usable_width_ticks,
    placeId: row.place_id,
    onHandTicks: row.on_hand_ticks,
    heldTicks: row.held_ticks,
    costMinor: row.cost_minor,
  };
}

/** "4.2 m of B12 is left." */
export function sayLeft(reader: Reader, pieceId: number, units: Units): string {
  const { code, onHandTicks } = readPiece(reader, pieceId);
  return `${showLength(onHandTicks, units, 'down')} of ${code} is left.`;
}

/** What a length is cut or held for: the strips of a tier, or another use. */
export type Purpose = { readonly tierId: number } | { readonly otherUseId: number };

const heldForTier = prepared((db, pieceId: Param<number>, tierId: Param<number>) =>
  db.selectFrom('hold').select('held_ticks').where('piece_id', '=', pieceId).where('tier_id', '=', tierId),
);
const heldForOtherUse = prepared((db, pieceId: Param<number>, useId: Param<number>) =>
  db
    .selectFrom('hold')
    .select('held_ticks')
    .where('piece_id', '=', pieceId)
    .where('other_use_id', '=', useId),
);

/** What is held of a piece for a tier or another use, in ticks. */
export function readHeldFor(reader: Reader, pieceId: number, purpose: Purpose): number {
  const row = reader.first(
    'tierId' in purpose ? heldForTier(pieceId, purpose.tierId) : heldForOtherUse(pieceId, purpose.otherUseId),
  );
  return row?.held_ticks ?? 0;
}

/** What a tier holds of a piece, in ticks. */
export function readHeldForTier(reader: Reader, pieceId: number, tierId: number): number {
  return readHeldFor(reader, pieceId, { tierId });
}

export interface HoldOfPiece {
  /** null where it is held for another use */
  readonly tierId: number | null;
  /** null where it is held for a tier */
  readonly otherUseId: number | null;
  /** "Tier 1 of G3", "repair of G3 Plum skirt: torn ruffle" */
  readonly heldFor: string;
  /** the garment of the tier or of the use */
  readonly garmentCode: string | null;
  readonly heldTicks: number;
}

const holdsOf = prepared((db, pieceId: Param<number>) =>
  db
    .selectFrom('hold')
    .leftJoin('tier', 'tier.id', 'hold.tier_id')
    .leftJoin('garment', 'garment.id', 'tier.garment_id')
    .leftJoin('other_use', 'other_use.id', 'hold.other_use_id')
    .leftJoin('garment as use_garment', 'use_garment.id', 'other_use.garment_id')
    .select(['hold.tier_id as tierId', 'hold.other_use_id as otherUseId', 'hold.held_ticks as heldTicks'])
    .select(['garment.code as garmentCode', ...OTHER_USE_FACTS])
    .where('hold.piece_id', '=', pieceId)
    .orderBy('hold.held_ticks', 'desc'),
);

/** What is held of a piece for whom, the largest first. */
export function readHolds(reader: Reader, pieceId: number): HoldOfPiece[] {
  const rows = reader.all(holdsOf(pieceId));
  const tierName = readTierNames(
    reader,
    rows.map(({ tierId }) => tierId),
  );
  return rows.map(({ tierId, otherUseId, garmentCode, heldTicks, ...use }) => ({
    tierId,
    otherUseId,
    heldFor: otherUseId === null ? `${tierName(tierId)} of ${garmentCode}` : sayOtherUse(use),
    garmentCode: garmentCode ?? use.useGarmentCode,
    heldTicks,
  }));
}

/**
 * What stands in the way, for the person who was refused: what is left, who holds the rest, and who last
 * changed the piece, when.
 */
export function tellState(reader: Reader, pieceId: number, personId: number): string {
  const piece = readPiece(reader, pieceId);
  const units = readUnits(reader, personId);
  const show = (ticks: number) => showLength(ticks, units, 'down');
  const parts = [
    `${show(piece.onHandTicks)} of ${piece.code} is on hand and ${show(freeTicks(piece))} free.`,
  ];
  for (const held of readHolds(reader, pieceId)) {
    parts.push(`${show(held.heldTicks)} is held for ${held.heldFor}.`);
  }
  const last = readLastEntry(reader, pieceId);
  if (last) {
    parts.push(
      `Last entry: ${KIND_WORDS[last.kind].toLowerCase()} by ${last.person}, ${showMoment(last.at)}.`,
    );
  }
  return parts.join(' ');
}

function readLastEntry(reader: Reader, pieceId: number) {
  return reader.first(
    reader.db
      .selectFrom('entry')
      .innerJoin('person', 'person.id', 'entry.person_id')
      .select(['entry.kind', 'entry.at', 'person.name as person'])
      .where('entry.piece_id', '=', pieceId)
      .orderBy('entry.id', 'desc')
      .limit(1),
  );
}
