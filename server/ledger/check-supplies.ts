import { type SupplyMeasure, showSupplyAmount } from '../../src/supply/amount.ts';
import type { Findings } from './findings.ts';

interface UnevenLot {
  readonly supply: string;
  readonly lot: string;
  readonly measure: SupplyMeasure;
  readonly onHand: number;
  readonly costMinor: number;
  readonly held: number;
  readonly amountSum: number;
  readonly heldSum: number;
  readonly holdSum: number;
  readonly costSum: number;
}

/** Adds up every entry of supplies by its lot, in one pass over the index that covers it, and compares. */
export function findUnevenSupplies(findings: Findings): void {
  findings.collect<UnevenLot>(
    `SELECT supply.name AS supply, supply_lot.lot, supply.measure, supply_lot.on_hand AS onHand,
       supply_lot.cost_minor AS costMinor, supply_lot.held, coalesce(summed.amount, 0) AS amountSum,
       coalesce(summed.held, 0) AS heldSum, coalesce(holds.held, 0) AS holdSum,
       coalesce(summed.cost, 0) AS costSum
     FROM supply_lot JOIN supply ON supply.id = supply_lot.supply_id LEFT JOIN (
       SELECT supply_lot_id, sum(amount) AS amount, sum(held) AS held, sum(cost_minor) AS cost
       FROM supply_entry GROUP BY supply_lot_id) AS summed ON summed.supply_lot_id = supply_lot.id
     LEFT JOIN (SELECT supply_lot_id, sum(held) AS held FROM supply_hold GROUP BY supply_lot_id) AS holds
       ON holds.supply_lot_id = supply_lot.id
     WHERE supply_lot.on_hand <> coalesce(summed.amount, 0) OR supply_lot.cost_minor <> coalesce(summed.cost, 0)
       OR supply_lot.held <> coalesce(summed.held, 0) OR supply_lot.held <> coalesce(holds.held, 0)`,
    (row) => {
      const { measure } = row;
      const show = (amount: number) => showSupplyAmount(amount, measure, findings.units, 'near');
      const told = [
        row.onHand === row.amountSum
          ? ''
          : `shows ${show(row.onHand)} on hand where its entries add up to ${show(row.amountSum)}`,
        row.held === row.heldSum && row.held === row.holdSum
          ? ''
          : `shows ${show(row.held)} held where its entries add up to ${show(row.heldSum)} and its garments hold ${show(row.holdSum)}`,
        row.costMinor === row.costSum
          ? ''
          : `shows a cost of ${findings.money(row.costMinor)} where its entries add up to ${findings.money(row.costSum)}`,
      ].filter((text) => text !== '');
      return `${row.supply}${row.lot === '' ? '' : `, lot ${row.lot}`}, ${told.join(', and ')}.`;
    },
  );
}
