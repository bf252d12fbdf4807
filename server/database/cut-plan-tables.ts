import type { Generated } from 'kysely';

/** The tables of cut plans, as migration 010 makes them. Lengths are ticks of 1/160 mm, areas square ticks. */
export interface CutPlanTable {
  id: Generated<number>;
  garment_id: number;
  cloth_id: number;
  shade_id: number;
  held_key: string;
  given_up_key: string | null;
  job_hash: string;
  wish: 'least length' | 'fewest lays' | 'longest remnants';
  short_strips: number;
  charged_ticks: number;
  charged_area: number;
  bound_area: number;
  bound_over: 'all lots' | 'these lots';
}

export interface CutLayTable {
  id: Generated<number>;
  plan_id: number;
  position: number;
  piece_id: number;
  from_ticks: number;
  length_ticks: number;
  slit_into: string;
  cut_key: string | null;
}

export interface CutLayTierTable {
  lay_id: number;
  tier_id: number;
  strips: number;
  length_ticks: number;
}
