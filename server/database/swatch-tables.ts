import type { Generated } from 'kysely';

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
