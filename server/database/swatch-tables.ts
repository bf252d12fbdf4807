import type { Generated } from 'kysely';
import type { HowRead, Illuminant, Observer } from '../../src/colour/colour-reading.ts';

/** Swatches of a lot that are dyed together; figures as in the step that makes the table. */
export interface SwatchJobTable {
  id: Generated<number>;
  code: string;
  lot_id: number;
  mass_mg: number;
  lab_ratio_milli: number;
  bulk_ratio_milli: number;
  note: Generated<string>;
  planned_at: string;
  person_id: number;
}

export interface SwatchTable {
  id: Generated<number>;
  job_id: number;
  position: number;
  recipe_id: number;
  depth_owf_milli: number;
}

export interface SwatchDyeLotTable {
  job_id: number;
  name: string;
  dye_lot: string;
}

/** What somebody saw of a swatch, and the verdict where there was one. */
export interface SwatchResultTable {
  id: Generated<number>;
  swatch_id: number;
  verdict: 'approved' | 'adjusted' | 'given up' | null;
  seen_by: 'eye' | 'photo' | 'instrument';
  light: string;
  state: 'wet' | 'dry';
  photo: Generated<string>;
  note: Generated<string>;
  reading_id: number | null;
  at: string;
  person_id: number;
}

/** A swatch that was dyed outside a swatch job, and its colour as it was read; figures as in the step that makes the table. */
export interface DyedSwatchTable {
  id: Generated<number>;
  cloth_id: number;
  ground_id: number;
  lab_l: number;
  lab_a: number;
  lab_b: number;
  illuminant: Illuminant;
  observer: Observer;
  how: HowRead;
  uncertainty_centi: number;
  note: Generated<string>;
  at: string;
  person_id: number;
  request_key: string;
  undone_key: Generated<string | null>;
}

export interface DyedSwatchDyeTable {
  swatch_id: number;
  dye_id: number;
  owf_milli: number;
}
