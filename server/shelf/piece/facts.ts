import { sql } from 'kysely';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { costOf, showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { sayLot } from '../../kit/choices.ts';
import { garmentPath, piecePath, tierPlace } from '../../kit/paths.ts';
import { shapeTape, type Tape } from '../../kit/tape.ts';
import { lengthUnit } from '../../kit/units.ts';
import { inForce } from '../../ledger/standing.ts';
import { type HoldOfPiece, readHolds } from '../../ledger/state.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { middleOf, readFlawsOf } from './flaws.ts';
import { type PieceRecord, type PieceRow, selectPieces, shapeShelfPieces } from './list.ts';

/** A piece with all that is known of it beside its ledger. */
export interface PieceFacts extends PieceRow {
  readonly lotSaid: string;
  /** bought in this shade, so that a supplier might take it back */
  readonly millBought: boolean;
  /** as long as it came, in ticks; what is gone of it since is drawn dashed */
  readonly cameTicks: number;
  readonly came: string;
  readonly tape: Tape;
  readonly tapeMaxTicks: number;
  readonly costMinor: number;
  readonly cost: string;
  /** "€3.20 per m"; '' where nothing is left or nothing was paid */
  readonly costPerLength: string;
  readonly parent: { readonly code: string; readonly href: string } | null;
  readonly remnants: readonly { readonly code: string; readonly href: string; readonly onHand: string }[];
  readonly holds: readonly Hold[];
}

export interface Hold {
  readonly heldTicks: number;
  readonly held: string;
  /** "Tier 1 of G3", "repair of G3 Plum skirt: torn ruffle" */
  readonly heldFor: string;
  /** the tier or the garment; '' for a use without a garment */
  readonly href: string;
  /** null where it is held for a tier */
  readonly otherUseId: number | null;
}

/** A piece by its code, whatever the case of its letters. */
export function findPiece(reader: Reader, code: string) {
  const byCode = reader.db.selectFrom('piece').select(['id', 'code']);
  return (
    reader.first(byCode.where('code', '=', code)) ??
    reader.first(byCode.where(sql`code collate nocase`, '=', code).orderBy('id').limit(1))
  );
}

/** @throws {Refusal} unknown */
export function readPieceId(reader: Reader, code: string): number {
  const found = reader.first(reader.db.selectFrom('piece').select('id').where('code', '=', code));
  if (!found) throw unknown(`piece ${code.slice(0, 40)}`);
  return found.id;
}

export function readPieceFacts(reader: Reader, pieceId: number, asker: Asker): PieceFacts {
  const { units, currency } = asker;
  const row = reader.first(
    selectPieces(reader)
      .leftJoin('piece as parent', 'parent.id', 'piece.parent_id')
      .select(['piece.cost_minor', 'parent.code as parent_code'])
      .where('piece.id', '=', pieceId),
  );
  if (!row) throw unknown('such piece');
  const [shaped] = shapeShelfPieces(reader, [row], units);
  if (!shaped) throw new Error('one piece is shaped to one row');
  const cameTicks = readCame(reader, pieceId);
  const tapeMaxTicks = Math.max(1, cameTicks, row.on_hand_ticks);
  return {
    ...shaped,
    lotSaid: sayLot({ code: row.lot_code, origin: row.origin, mill_lot: row.mill_lot }),
    millBought: row.origin === 'mill',
    cameTicks,
    came: showLength(cameTicks, units, 'down'),
    tape: shapeFullTape(reader, row, cameTicks, tapeMaxTicks, units),
    tapeMaxTicks,
    costMinor: row.cost_minor,
    cost: showMoney(row.cost_minor, currency),
    costPerLength: sayCostPerLength(row, units, currency),
    parent: row.parent_code === null ? null : { code: row.parent_code, href: piecePath(row.parent_code) },
    remnants: readRemnants(reader, pieceId, units),
    holds: readHolds(reader, pieceId).map((hold) => ({
      heldTicks: hold.heldTicks,
      held: showLength(hold.heldTicks, units, 'down'),
      heldFor: hold.heldFor,
      href: placeOf(hold),
      otherUseId: hold.otherUseId,
    })),
  };
}

function placeOf({ garmentCode, tierId }: HoldOfPiece): string {
  if (garmentCode === null) return '';
  return tierId === null ? garmentPath(garmentCode) : tierPlace(garmentCode, tierId);
}

/** The length that the piece came with, unless its coming was undone. */
function readCame(reader: Reader, pieceId: number): number {
  const first = reader.first(
    reader.db
      .selectFrom('entry')
      .select(['length_ticks', inForce('entry').as('in_force')])
      .where('entry.piece_id', '=', pieceId)
      .orderBy('entry.id')
      .limit(1),
  );
  return first?.in_force ? first.length_ticks : 0;
}

function shapeFullTape(
  reader: Reader,
  row: PieceRecord,
  cameTicks: number,
  maxTicks: number,
  units: Units,
): Tape {
  return shapeTape({
    name: row.code,
    onHandTicks: row.on_hand_ticks,
    heldTicks: row.held_ticks,
    usedTicks: Math.max(0, cameTicks - row.on_hand_ticks),
    flawsAtTicks: readFlawsOf(reader, row.id).map(middleOf),
    maxTicks,
    units,
  });
}

function sayCostPerLength(
  row: { readonly cost_minor: number; readonly on_hand_ticks: number },
  units: Units,
  currency: string,
): string {
  if (row.on_hand_ticks === 0 || row.cost_minor === 0) return '';
  const unit = lengthUnit(units);
  const minor = costOf(TICKS_PER[unit], { minor: row.cost_minor, perTicks: row.on_hand_ticks });
  return `${showMoney(minor, currency)} per ${unit}`;
}

const MOST_REMNANTS = 50;

/** What came off the piece and is still on the shelf, the newest first. */
function readRemnants(reader: Reader, pieceId: number, units: Units) {
  const rows = reader.all(
    reader.db
      .selectFrom('piece')
      .select(['code', 'on_hand_ticks'])
      .where('parent_id', '=', pieceId)
      .where('on_hand_ticks', '>', 0)
      .orderBy('id', 'desc')
      .limit(MOST_REMNANTS),
  );
  return rows.map((row) => ({
    code: row.code,
    href: piecePath(row.code),
    onHand: showLength(row.on_hand_ticks, units, 'down'),
  }));
}
