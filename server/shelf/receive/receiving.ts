import { sql } from 'kysely';
import type { CostParts } from '../../../src/buying/landed.ts';
import type { Tx } from '../../database/book.ts';
import { nextId } from '../../database/book.ts';
import { insertInto, type Param, prepared } from '../../database/statements.ts';
import { receivePiece } from '../../ledger/verbs.ts';
import { unknown } from '../../refusal.ts';

/** One piece of a delivery, as it was measured. */
export interface ReceivedPiece {
  readonly kind: 'bolt' | 'remnant';
  readonly clothId: number;
  readonly shadeId: number;
  /** the mill's own lot, '' where the piece has none on it */
  readonly millLot: string;
  readonly lengthTicks: number;
  readonly typed: string;
  /** null: the cloth's usable width */
  readonly usableWidthTicks: number | null;
  /** for the whole piece, in minor units of the workroom's currency */
  readonly costMinor: number;
  readonly placeId: number | null;
  readonly orderLineId?: number;
}

/** A piece whose cost is known by parts, which add up to it; how the freight of its delivery was shared out. */
export interface LandedPiece extends ReceivedPiece {
  readonly parts: CostParts;
  readonly shareBy: 'value' | 'length';
}

export interface Delivery {
  readonly supplierId: number | null;
  readonly orderId?: number;
  readonly note?: string;
  readonly invoiceNumber?: string;
}

/**
 * Puts the pieces of one delivery on the shelf: its receipt, the lots where they are new, the pieces with codes
 * given in order, and their entries.
 */
export function receivePieces(tx: Tx, delivery: Delivery, pieces: readonly LandedPiece[]) {
  const receiptId = tx.run(
    tx.db.insertInto('receipt').values({
      order_id: delivery.orderId ?? null,
      supplier_id: delivery.supplierId,
      note: delivery.note ?? '',
      invoice_number: delivery.invoiceNumber ?? '',
      at: tx.at,
      person_id: tx.personId,
    }),
  ).lastId;
  const nameless = new Map<string, number>();
  const made = pieces.map((piece) => {
    const lotId = findLot(tx, piece, delivery.supplierId, nameless);
    const made = receivePiece(
      tx,
      {
        kind: piece.kind,
        lotId,
        usableWidthTicks: piece.usableWidthTicks ?? readUsableWidth(tx, piece.clothId),
        placeId: piece.placeId,
        lengthTicks: piece.lengthTicks,
        typed: piece.typed,
        costMinor: piece.costMinor,
      },
      { receiptId, ...(piece.orderLineId === undefined ? {} : { orderLineId: piece.orderLineId }) },
    );
    putCost(tx, made.entryId, piece);
    return made;
  });
  return { receiptId, pieces: made };
}

const newCost = insertInto('received_cost');

function putCost(tx: Tx, entryId: number, { parts, shareBy }: LandedPiece): void {
  tx.run(
    newCost({
      entry_id: entryId,
      cloth_minor: parts.clothMinor,
      cut_fees_minor: parts.cutFeesMinor,
      freight_minor: parts.freightMinor,
      tax_minor: parts.taxMinor,
      reclaimed_minor: parts.reclaimedMinor,
      share_by: shareBy,
    }),
  );
}

/**
 * The lot that a received piece belongs to. Pieces without the mill's lot on them are kept apart from everything
 * received before, because nobody can say that they match it: they share one new lot a delivery, cloth and shade.
 */
function findLot(
  tx: Tx,
  piece: ReceivedPiece,
  supplierId: number | null,
  nameless: Map<string, number>,
): number {
  if (piece.millLot !== '') {
    return knownMillLot(tx, piece, supplierId)?.id ?? makeMillLot(tx, piece, supplierId);
  }
  const same = `${piece.clothId}/${piece.shadeId}`;
  const lotId = nameless.get(same) ?? makeMillLot(tx, piece, supplierId);
  nameless.set(same, lotId);
  return lotId;
}

type LotKey = Pick<ReceivedPiece, 'clothId' | 'shadeId' | 'millLot'>;

/** The lot of the same cloth, shade, supplier and mill lot that is in the book already; letters' case is no matter. */
export function knownMillLot(reader: Pick<Tx, 'db' | 'first'>, piece: LotKey, supplierId: number | null) {
  return reader.first(
    reader.db
      .selectFrom('lot')
      .select(['id', 'code'])
      .where('cloth_id', '=', piece.clothId)
      .where('shade_id', '=', piece.shadeId)
      .where('origin', '=', 'mill')
      .where(sql`mill_lot collate nocase`, '=', piece.millLot)
      .where('supplier_id', supplierId === null ? 'is' : '=', supplierId)
      .orderBy('id'),
  );
}

function makeMillLot(tx: Tx, piece: LotKey, supplierId: number | null): number {
  return tx.run(
    tx.db.insertInto('lot').values({
      code: freshLotCode(tx),
      cloth_id: piece.clothId,
      shade_id: piece.shadeId,
      origin: 'mill',
      mill_lot: piece.millLot,
      supplier_id: supplierId,
      batch_id: null,
    }),
  ).lastId;
}

const lotWithCode = prepared((db, code: Param<string>) =>
  db.selectFrom('lot').select('id').where('code', '=', code),
);

/** L and the lot's number, or the next that is not taken. */
export function freshLotCode(tx: Tx): string {
  let number = nextId(tx, 'lot');
  const taken = (code: string) => tx.first(lotWithCode(code));
  while (taken(`L${number}`)) number += 1;
  return `L${number}`;
}

const usableWidthOf = prepared((db, clothId: Param<number>) =>
  db.selectFrom('cloth').select('usable_width_ticks').where('id', '=', clothId),
);

function readUsableWidth(tx: Tx, clothId: number): number {
  const cloth = tx.first(usableWidthOf(clothId));
  if (!cloth) throw unknown('such cloth');
  return cloth.usable_width_ticks;
}
