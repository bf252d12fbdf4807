import type { Generated } from 'kysely';
import type { Paper } from '../../src/labels/label-sheet.ts';

/** The tables of labels, as migration 017 makes them. Lengths are ticks of 1/160 mm. */
export interface LabelAddressTable {
  id: Generated<number>;
  address: string;
  at: string;
  person_id: number;
}

export interface LabelSheetTable {
  id: Generated<number>;
  name: string;
  paper: Paper;
  columns: number;
  rows: number;
  width_ticks: number;
  height_ticks: number;
  left_ticks: number;
  top_ticks: number;
  across_ticks: number;
  down_ticks: number;
  nudge_right_ticks: number;
  nudge_down_ticks: number;
}

export interface LabelRunTable {
  id: Generated<number>;
  label_sheet_id: number;
  label_address_id: number;
  first_place: number;
  at: string;
  person_id: number;
}

export interface LabelTable {
  label_run_id: number;
  position: number;
  piece_id: number | null;
  batch_id: number | null;
  place_id: number | null;
  on_hand_ticks: number | null;
}
