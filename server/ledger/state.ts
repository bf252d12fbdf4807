import type { Balance } from '../../src/ledger/entries.ts';
import { freeTicks } from '../../src/ledger/entries.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { showMoment } from '../kit/when.ts';
import { readUnits } from '../kit/workroom.ts';
import { unknown } from '../refusal.ts';
import { KIND_WORDS } from './words.ts';

export interface PieceState extends Balance {
  readonly id: number;
  readonly code: string;
  readonly kind: 'bolt' | 'remnant';
  readonly lotId: number;
  readonly usableWidthTicks: number;
  readonly placeId: number | null;
}

/** A piece with its balances as they are now. @throws {Refusal} unknown */
export function readPiece(reader: Reader, pieceId: number): PieceState {
  const row = reader.first(reader.db.selectFrom('piece').selectAll().where('id', '=', pieceId));
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

/** What a tier holds of a piece, in ticks. */
export function readHeldForTier(reader: Reader, pieceId: number, tierId: number): number {
  const row = reader.first(
    reader.db
      .selectFrom('hold')
      .select('held_ticks')
      .where('piece_id', '=', pieceId)
      .where('tier_id', '=', tierId),
  );
  return row?.held_ticks ?? 0;
}

export interface HoldOfPiece {
  readonly tierId: number;
  readonly tierName: string;
  readonly garmentCode: string;
  readonly heldTicks: number;
}

/** Who holds what of a piece, the largest first. */
export function readHolds(reader: Reader, pieceId: number): HoldOfPiece[] {
  return reader.all(
    reader.db
      .selectFrom('hold')
      .innerJoin('tier', 'tier.id', 'hold.tier_id')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      .select([
        'tier.id as tierId',
        'tier.name as tierName',
        'garment.code as garmentCode',
        'hold.held_ticks as heldTicks',
      ])
      .where('hold.piece_id', '=', pieceId)
      .orderBy('hold.held_ticks', 'desc'),
  );
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
    parts.push(`${show(held.heldTicks)} is held for ${held.tierName} of ${held.garmentCode}.`);
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
