import type { Generated } from 'kysely';

/** The tables of buying: terms, offers and their prices, what orders were priced by, and inspections. */
export interface BuyingTables {
  supplier_terms: SupplierTermsTable;
  offer: OfferTable;
  offer_price: {
    offer_id: number;
    put_up: 'bolt' | 'length';
    length_ticks: number;
    price_minor: number;
    price_ticks: number;
  };
  order_terms: {
    order_id: number;
    currency: string;
    rate_millionths: number;
    freight_minor: number;
    tax_bp: number;
    tax_reclaimed: Generated<number>;
    discount_bp: Generated<number>;
    cut_fee_minor: Generated<number>;
  };
  received_cost: {
    entry_id: number;
    cloth_minor: number;
    cut_fees_minor: number;
    freight_minor: number;
    tax_minor: number;
    reclaimed_minor: number;
    share_by: 'value' | 'length';
  };
  order_line_offer: { line_id: number; offer_id: number | null; bolts: number | null };
  order_line_lot: { line_id: number; lot_id: number | null };
  lot_answer: { receipt_id: number; line_id: number; met: number };
  reservation: ReservationTable;
  sample_request: SampleRequestTable;
  return_credit: {
    entry_id: number;
    expected_minor: number;
    come_minor: number | null;
    come_on: string | null;
    number: Generated<string>;
    settled: Generated<number>;
  };
  cloth_spare: { cloth_id: number; spare_bp: number };
  grading_rule: GradingRuleTable;
  inspection: InspectionTable;
}

interface SupplierTermsTable {
  id: Generated<number>;
  supplier_id: number;
  from_on: string;
  currency: string;
  rate_millionths: number;
  freight_minor: number;
  freight_free_minor: number | null;
  tax_bp: number;
  tax_reclaimed: Generated<number>;
  discount_bp: Generated<number>;
  cut_fee_minor: Generated<number>;
  least_order_minor: number | null;
  least_order_ticks: number | null;
  least_line_minor: number | null;
  least_line_ticks: number | null;
  returns: Generated<string>;
  typed: string;
  at: string;
  person_id: number;
}

interface OfferTable {
  id: Generated<number>;
  supplier_id: number;
  cloth_id: number;
  shade_id: number | null;
  article: Generated<string>;
  width_ticks: number | null;
  lead_days: number | null;
  from_on: string;
  currency: string;
  step_ticks: number | null;
  least_ticks: number | null;
  withdrawn: number;
  typed: string;
  at: string;
  person_id: number;
}

interface ReservationTable {
  id: Generated<number>;
  supplier_id: number;
  cloth_id: number;
  shade_id: number;
  length_ticks: number;
  typed: string;
  note: Generated<string>;
  until_on: string;
  ended: 'ordered' | 'let go' | null;
  at: string;
  person_id: number;
}

interface SampleRequestTable {
  id: Generated<number>;
  supplier_id: number;
  cloth_id: number;
  shade_id: number | null;
  note: Generated<string>;
  asked_on: string;
  came_on: string | null;
  verdict: 'right' | 'not right' | null;
  swatch_id: number | null;
  at: string;
  person_id: number;
}

interface GradingRuleTable {
  id: Generated<number>;
  holes: 'by size' | 'always four';
  most_points: number;
  short_bp: number;
  at: string;
  person_id: number;
}

interface InspectionTable {
  id: Generated<number>;
  piece_id: number;
  marked_ticks: number | null;
  length_ticks: number;
  width_ticks: number;
  swatch_area_mm2: number | null;
  swatch_mass_mg: number | null;
  flaws: string;
  holes: 'by size' | 'always four';
  most_points: number;
  short_bp: number;
  note: Generated<string>;
  typed: string;
  at: string;
  person_id: number;
}
