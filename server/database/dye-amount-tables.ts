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
  fluorescent: Generated<0 | 1>;
  typed: string;
  gone_at: string | null;
}

export interface BatchAmountTable {
  batch_id: number;
  scale_mg: number | null;
  basis: 'oven-dry' | 'conditioned' | null;
  strip_ticks: number | null;
  liquor_ratio_milli: number | null;
  also: Generated<string>;
  parts: string;
  stocks: string;
  strengths: Generated<string>;
}

/** Of the tests of the water: tenths of a mg/L of calcium carbonate, and of a pH. */
export interface WaterTestTable {
  id: Generated<number>;
  on_day: string;
  alkalinity_tenths: number;
  hardness_tenths: number | null;
  ph_tenths: number | null;
  source: string;
  typed: string;
  at: string;
  person_id: number;
}

/** What a maker's label says, of a dye or of a recipe. */
export interface MakerLabelTable {
  id: Generated<number>;
  dye_id: number | null;
  recipe_id: number | null;
  label: string;
  typed: string;
  at: string;
  person_id: number;
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
  pots: Generated<number>;
}
