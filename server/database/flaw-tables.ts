import type { Generated } from 'kysely';

export interface PieceFlawTable {
  id: Generated<number>;
  piece_id: number;
  from_ticks: number;
  to_ticks: number;
  left_ticks: number;
  right_ticks: number;
  after_entry_id: number;
  what: string;
  at: string;
  person_id: number;
  struck_at: string | null;
  struck_by: number | null;
}

export interface PieceWidthTable {
  id: Generated<number>;
  piece_id: number;
  was_ticks: number;
  width_ticks: number;
  why: Generated<string>;
  at: string;
  person_id: number;
}

export interface RemnantFromTable {
  piece_id: number;
  along_ticks: number;
  across_ticks: number;
}
