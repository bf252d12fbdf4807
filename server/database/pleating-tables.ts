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

/** How it measured when it came back. */
export interface PleatingBackTable {
  id: Generated<number>;
  pleating_id: number;
  length_ticks: number;
  width_ticks: number;
  back_on: string;
}
