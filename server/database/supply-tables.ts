import type { Generated } from 'kysely';
import type { SupplyMeasure } from '../../src/supply/amount.ts';

export type SupplyKind = 'dye' | 'chemical' | 'thread' | 'trim' | 'notion' | 'tool';
export type SupplyEntryKind =
  | 'received'
  | 'used'
  | 'counted'
  | 'written-off'
  | 'held'
  | 'released'
  | 'reversed';

/** Supplies, what came of them, their ledger, and what is offered and ordered of them; amounts are as in the steps that make the tables. */
export interface SupplyTables {
  supply: {
    id: Generated<number>;
    name: string;
    kind: SupplyKind;
    measure: SupplyMeasure;
    note: Generated<string>;
    least: number | null;
    place_id: number | null;
    supplier_id: number | null;
    dye_id: number | null;
    auxiliary_kind: string | null;
    auxiliary_form: string | null;
    typed: Generated<string>;
    gone_at: string | null;
  };
  supply_lot: {
    id: Generated<number>;
    supply_id: number;
    lot: Generated<string>;
    supplier_id: number | null;
    opened_on: string | null;
    on_hand: Generated<number>;
    held: Generated<number>;
    cost_minor: Generated<number>;
  };
  supply_entry: {
    id: Generated<number>;
    supply_lot_id: number;
    kind: SupplyEntryKind;
    amount: number;
    held: Generated<number>;
    cost_minor: number;
    at: string;
    person_id: number;
    why: Generated<string>;
    typed: Generated<string>;
    request_key: string;
    garment_id: number | null;
    batch_log_id: number | null;
    receipt_id: number | null;
    order_line_id: number | null;
    reverses_id: number | null;
    split_of_id: Generated<number | null>;
  };
  supply_received_cost: {
    supply_entry_id: number;
    goods_minor: number;
    freight_minor: number;
    tax_minor: number;
    reclaimed_minor: number;
  };
  supply_hold: { supply_lot_id: number; garment_id: number; held: number };
  supply_offer: {
    id: Generated<number>;
    supplier_id: number;
    supply_id: number;
    article: Generated<string>;
    lead_days: number | null;
    from_on: string;
    currency: string;
    withdrawn: number;
    typed: string;
    at: string;
    person_id: number;
  };
  supply_offer_price: {
    offer_id: number;
    amount: number;
    from_count: number;
    put_up: Generated<string>;
    price_minor: number;
  };
  supply_order_line: {
    id: Generated<number>;
    order_id: number;
    supply_id: number;
    offer_id: number | null;
    put_ups: number;
    put_up: Generated<string>;
    amount: number;
    price_minor: number | null;
    typed: string;
  };
}
