import type { Generated } from 'kysely';

/** The tables of costs, as migrations 015 and 022 make them. Money is minor units of the workroom's currency. */
export interface GarmentBudgetTable {
  id: Generated<number>;
  garment_id: number;
  budget_minor: number;
  at: string;
  person_id: number;
}

export interface EnergyPriceTable {
  id: Generated<number>;
  price_minor: number;
  at: string;
  person_id: number;
}

export interface HourPriceTable {
  id: Generated<number>;
  price_minor: number;
  at: string;
  person_id: number;
}

export interface AuxiliaryPriceTable {
  id: Generated<number>;
  kind: string;
  form: string;
  price_minor: number;
  price_mg: number;
  at: string;
  person_id: number;
}
