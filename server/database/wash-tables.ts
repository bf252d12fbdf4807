import type { Generated } from 'kysely';

/** A swatch of a cloth before and after treatment; `set_ticks` is the usable width that was set by it, NULL where none was. */
export interface WashTestTable {
  id: Generated<number>;
  cloth_id: number;
  treatment: string;
  length_before_ticks: number;
  length_after_ticks: number;
  width_before_ticks: number;
  width_after_ticks: number;
  from_ticks: number;
  set_ticks: number | null;
  typed: string;
  at: string;
  person_id: number;
}
