import type { Generated } from 'kysely';
import type { SupplyMeasure } from '../../src/supply/amount.ts';

export type SupplyKind = 'dye' | 'chemical' | 'thread' | 'trim' | 'notion' | 'tool';
export type SupplyEntryKind = 'received' | 'used' | 'counted' | 'written-off' | 'reversed';

/** Supplies, what came of them, and their ledger; amounts are as in the step that makes the tables. */
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
    cost_minor: Generated<number>;
  };
  supply_entry: {
    id: Generated<number>;
    supply_lot_id: number;
    kind: SupplyEntryKind;
    amount: number;
    cost_minor: number;
    at: string;
    person_id: number;
    why: Generated<string>;
    typed: Generated<string>;
    request_key: string;
    garment_id: number | null;
    batch_log_id: number | null;
    reverses_id: number | null;
  };
}
