import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';

const suppliesOfReceipts = prepared((db, receiptIds: Param<readonly number[]>) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
    .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
    .leftJoin('supply_entry as undone', 'undone.reverses_id', 'supply_entry.id')
    .select(['supply_entry.receipt_id', 'supply_entry.amount', 'supply_entry.cost_minor'])
    .select(['supply.id as supplyId', 'supply.name', 'supply.measure'])
    .leftJoin('supply_received_cost as parts', 'parts.supply_entry_id', 'supply_entry.id')
    .select(['supply_lot.lot', 'supply_lot.on_hand', 'undone.id as undone_id'])
    .select(['parts.freight_minor', 'parts.tax_minor', 'parts.reclaimed_minor'])
    .where('supply_entry.receipt_id', 'in', inList(receiptIds))
    .orderBy('supply_entry.id'),
);

/** What came of supplies with some deliveries, what was undone since too. */
export function readReceivedSupplies(reader: Reader, receiptIds: readonly number[]) {
  if (receiptIds.length === 0) return [];
  return reader.all(suppliesOfReceipts(receiptIds)).map((row) => ({
    receiptId: row.receipt_id ?? 0,
    supplyId: row.supplyId,
    name: row.name,
    measure: row.measure,
    lot: row.lot,
    amount: row.amount,
    costMinor: row.cost_minor,
    /** of the cost; nothing where it came before costs were kept by parts */
    freightMinor: row.freight_minor ?? 0,
    taxMinor: row.tax_minor ?? 0,
    reclaimedMinor: row.reclaimed_minor ?? 0,
    onHand: row.on_hand,
    isUndone: row.undone_id !== null,
  }));
}
