import { type SupplyMeasure, showSupplyAmount } from '../../src/supply/amount.ts';
import type { Findings } from './findings.ts';

interface UnevenLot {
  readonly supply: string;
  readonly lot: string;
  readonly measure: SupplyMeasure;
  readonly onHand: number;
  readonly costMinor: number;
  readonly amountSum: number;
  readonly costSum: number;
}

/** Adds up every entry of supplies by its lot, in one pass over the index that covers it, and compares. */
export function findUnevenSupplies(findings: Findings): void {
  findings.collect<UnevenLot>(
    `SELECT supply.name AS supply, supply_lot.lot, supply.measure, supply_lot.on_hand AS onHand,
       supply_lot.cost_minor AS costMinor, coalesce(summed.amount, 0) AS amountSum,
       coalesce(summed.cost, 0) AS costSum
     FROM supply_lot JOIN supply ON supply.id = supply_lot.supply_id LEFT JOIN (
       SELECT supply_lot_id, sum(amount) AS amount, sum(cost_minor) AS cost
       FROM supply_entry GROUP BY supply_lot_id) AS summed ON summed.supply_lot_id = supply_lot.id
     WHERE supply_lot.on_hand <> coalesce(summed.amount, 0) OR supply_lot.cost_minor <> coalesce(summed.cost, 0)`,
    (row) => {
      const { measure } = row;
      const show = (amount: number) => showSupplyAmount(amount, measure, findings.units, 'near');
      const told = [
        row.onHand === row.amountSum
          ? ''
          : `shows ${show(row.onHand)} on hand where its entries add up to ${show(row.amountSum)}`,
        row.costMinor === row.costSum
          ? ''
          : `shows a cost of ${findings.money(row.costMinor)} where its entries add up to ${findings.money(row.costSum)}`,
      ].filter((text) => text !== '');
      return `${row.supply}${row.lot === '' ? '' : `, lot ${row.lot}`}, ${told.join(', and ')}.`;
    },
  );
}
