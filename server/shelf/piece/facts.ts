import { sql } from 'kysely';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { costOf, showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { sayLot } from '../../kit/choices.ts';
import { garmentPath, piecePath, tierPlace } from '../../kit/paths.ts';
import { shapeTape } from '../../kit/tape.ts';
import { lengthUnit } from '../../kit/units.ts';
import { inForce } from '../../ledger/standing.ts';
import { type HoldOfPiece, readHolds } from '../../ledger/state.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Needed } from '../lengths.ts';
import { middleOf, readFlawsOf } from './flaws.ts';
import { type PieceRecord, selectPieces, shapeShelfPieces } from './list.ts';

/** A piece by its code, whatever the case of its letters. */
export function findPiece(reader: Reader, code: string) {
  return reader.first(pieceOfCode(code)) ?? reader.first(pieceOfAnyCase(code));
}

const pieceOfCode = prepared((db, code: Param<string>) =>
  db.selectFrom('piece').select(['id', 'code']).where('code', '=', code),
);
const pieceOfAnyCase = prepared((db, code: Param<string>) =>
  db
    .selectFrom('piece')
    .select(['id', 'code'])
    .where(sql`code collate nocase`, '=', code)
    .orderBy('id')
    .limit(1),
);

const pieceIdOf = prepared((db, code: Param<string>) =>
  db.selectFrom('piece').select('id').where('code', '=', code),
);

/** @throws {Refusal} unknown */
export function readPieceId(reader: Reader, code: string): number {
  const found = reader.first(pieceIdOf(code));
  if (!found) throw unknown(`piece ${code.slice(0, 40)}`);
  return found.id;
}

const pieceWithCost = prepared((db, pieceId: Param<number>) =>
  selectPieces(db)
    .leftJoin('piece as parent', 'parent.id', 'piece.parent_id')
    .select(['piece.cost_minor', 'parent.code as parent_code'])
    .where('piece.id', '=', pieceId),
);

/** A piece with all that is known of it beside its ledger. */
export function readPieceFacts(reader: Reader, pieceId: number, asker: Asker, needed: Needed) {
  const { units, currency, seesPrices } = asker;
  const row = reader.first(pieceWithCost(pieceId));
  if (!row) throw unknown('such piece');
  const [shaped] = shapeShelfPieces(reader, [row], units, needed);
  if (!shaped) throw new Error('one piece is shaped to one row');
  const cameTicks = readCame(reader, pieceId);
  const tapeMaxTicks = Math.max(1, cameTicks, row.on_hand_ticks);
  return {
    ...shaped,
    lotSaid: sayLot({ code: row.lot_code, origin: row.origin, mill_lot: row.mill_lot }),
    /** bought in this shade, so that a supplier might take it back */
    millBought: row.origin === 'mill',
    /** as long as it came; what is gone of it since is drawn dashed */
    cameTicks,
    came: showLength(cameTicks, units, 'down'),
    tape: shapeFullTape(reader, { ...row, neededTicks: shaped.neededTicks }, cameTicks, tapeMaxTicks, units),
    tapeMaxTicks,
    // Who is told no prices has none of these three.
    costMinor: seesPrices ? row.cost_minor : null,
    cost: seesPrices ? showMoney(row.cost_minor, currency) : '',
    /** "€3.20 per m"; '' where nothing is left or nothing was paid */
    costPerLength: seesPrices ? sayCostPerLength(row, units, currency) : '',
    parent: row.parent_code === null ? null : { code: row.parent_code, href: piecePath(row.parent_code) },
    remnants: readRemnants(reader, pieceId, units),
    holds: readHolds(reader, pieceId).map((hold) => ({
      heldTicks: hold.heldTicks,
      held: showLength(hold.heldTicks, units, 'down'),
      /** "Tier 1 of G3", "repair of G3 Plum skirt: torn ruffle" */
      heldFor: hold.heldFor,
      /** the tier or the garment; '' for a use without a garment */
      href: placeOf(hold),
      /** null where it is held for a tier */
      otherUseId: hold.otherUseId,
    })),
  };
}

export type PieceFacts = ReturnType<typeof readPieceFacts>;

function placeOf({ garmentCode, tierId }: HoldOfPiece): string {
  if (garmentCode === null) return '';
  return tierId === null ? garmentPath(garmentCode) : tierPlace(garmentCode, tierId);
}

const firstEntryOf = prepared((db, pieceId: Param<number>) =>
  db
    .selectFrom('entry')
    .select(['length_ticks', inForce('entry').as('in_force')])
    .where('entry.piece_id', '=', pieceId)
    .orderBy('entry.id')
    .limit(1),
);

/** The length that the piece came with, unless its coming was undone. */
function readCame(reader: Reader, pieceId: number): number {
  const first = reader.first(firstEntryOf(pieceId));
  return first?.in_force ? first.length_ticks : 0;
}

function shapeFullTape(
  reader: Reader,
  row: PieceRecord & { readonly neededTicks: number },
  cameTicks: number,
  maxTicks: number,
  units: Units,
) {
  return shapeTape({
    name: row.code,
    onHandTicks: row.on_hand_ticks,
    heldTicks: row.held_ticks,
    neededTicks: row.neededTicks,
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

const remnantsOf = prepared((db, pieceId: Param<number>) =>
  db
    .selectFrom('piece')
    .select(['code', 'on_hand_ticks'])
    .where('parent_id', '=', pieceId)
    .where('on_hand_ticks', '>', 0)
    .orderBy('id', 'desc')
    .limit(MOST_REMNANTS),
);

/** What came off the piece and is still on the shelf, the newest first. */
function readRemnants(reader: Reader, pieceId: number, units: Units) {
  const rows = reader.all(remnantsOf(pieceId));
  return rows.map((row) => ({
    code: row.code,
    href: piecePath(row.code),
    onHand: showLength(row.on_hand_ticks, units, 'down'),
  }));
}
