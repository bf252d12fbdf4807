import type { Generated } from 'kysely';

export type ListState =
  | 'reading'
  | 'checking'
  | 'ready'
  | 'taking in'
  | 'in'
  | 'taking back'
  | 'taken back'
  | 'failed'
  | 'stopped';

/** The tables of lists that came in, as migration 016 makes them. */
export interface ListInTable {
  id: Generated<number>;
  name: string;
  at: string;
  person_id: number;
  state: ListState;
  problem: Generated<string>;
  heading: Generated<string>;
  columns: Generated<string>;
  writing: Generated<string>;
  skip_twins: Generated<number>;
}

export interface ListRowTable {
  list_in_id: number;
  row_number: number;
  cells: string;
  problems: Generated<string>;
  mark: Generated<string>;
  twin: Generated<number>;
  piece_id: number | null;
  request_key: string | null;
}
