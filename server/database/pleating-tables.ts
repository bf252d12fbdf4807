import type { Generated } from 'kysely';

/** A length that was sent to a pleater, as migration 051 makes the table. Lengths are ticks of 1/160 mm. */
export interface PleatingTable {
  id: Generated<number>;
  piece_id: number;
  other_use_id: number;
  pleater: string;
  asked: string;
  length_ticks: number;
  width_ticks: number;
  sent_on: string;
  expected_on: string;
}

/** Strips that were cut and then sent to a pleater. Lengths are ticks of 1/160 mm. */
export interface StripsPleatedTable {
  id: Generated<number>;
  /** of a tier, or of a size of a part */
  tier_id: number;
  strips: number;
  pleater: string;
  asked: string;
  length_ticks: number;
  width_ticks: number;
  sent_on: string;
  expected_on: string;
  back_on: string | null;
  back_length_ticks: number | null;
  back_width_ticks: number | null;
  called_off: Generated<number>;
}

/** How it measured when it came back. */
export interface PleatingBackTable {
  id: Generated<number>;
  pleating_id: number;
  length_ticks: number;
  width_ticks: number;
  back_on: string;
}
