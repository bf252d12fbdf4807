import type { Generated } from 'kysely';
import type { HeaterKind, Material } from '../../src/dye/heater.ts';

/** The tables of step 012. Masses are milligrams, lengths ticks, strengths hundredths of a percent. */
export interface DyeTable {
  id: Generated<number>;
  name: string;
  dye_class: string;
  method: Generated<string>;
  strength_bp: number | null;
  lot: Generated<string>;
  price_minor: number | null;
  price_mg: number | null;
  label_notes: Generated<string>;
  typed: string;
  gone_at: string | null;
}

export interface BatchAmountTable {
  batch_id: number;
  scale_mg: number | null;
  basis: 'oven-dry' | 'conditioned' | null;
  strip_ticks: number | null;
  parts: string;
  stocks: string;
}

export interface VesselTable {
  id: Generated<number>;
  name: string;
  volume_ml: number;
  note: Generated<string>;
  gone_at: string | null;
  material: Generated<Material | ''>;
  empty_mg: number | null;
  heater: Generated<HeaterKind | ''>;
  heater_watts: number | null;
}
