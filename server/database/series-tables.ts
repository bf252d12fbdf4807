import type { Generated } from 'kysely';

/** A graded series; figures as in the step that makes the table. */
export interface SeriesTable {
  id: Generated<number>;
  code: string;
  name: string;
  from_recipe_id: number;
  to_recipe_id: number | null;
  cloth_id: number;
  note: Generated<string>;
  planned_at: string;
  person_id: number;
}

export interface SeriesStepTable {
  series_id: number;
  position: number;
  depth_owf_milli: number;
  moved_bp: number;
  recipe_id: number;
  batch_id: number | null;
  swatch_id: number | null;
}

/** A batch that is dipped for a gradient within its length. */
export interface DipTable {
  batch_id: number;
  way: 'lower-in' | 'lift-out';
  bands: number;
  band_ticks: number;
  minutes: number;
}

export interface DipMoveTable {
  id: Generated<number>;
  batch_id: number;
  bands_under: number;
  note: Generated<string>;
  at: string;
  person_id: number;
}
