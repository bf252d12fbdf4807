import type { Generated } from 'kysely';

/** Cloths that are judged by photos together; figures as in the step that makes the table. */
export interface PhotoSetTable {
  id: Generated<number>;
  kind: 'pair' | 'backings' | 'alone';
  lot_id: number | null;
  swatch_id: number | null;
  to_lot_id: number | null;
  to_swatch_id: number | null;
  to_shade_id: number | null;
  layers: number;
  backing: 'white' | 'black' | 'either' | null;
  state: 'dry' | 'wet';
  light: string;
  card_bp: number;
  note: Generated<string>;
  at: string;
  person_id: number;
}

export interface PhotoTable {
  id: Generated<number>;
  set_id: number;
  sha256: string;
  width_px: number;
  height_px: number;
  at: string;
  person_id: number;
  left_out_key: Generated<string | null>;
}

/** Where the card and the cloths lie in a photo, with what was measured there. */
export interface PhotoMarkingTable {
  id: Generated<number>;
  photo_id: number;
  areas: string;
  at: string;
  person_id: number;
}

export interface PhotoTables {
  photo_set: PhotoSetTable;
  photo: PhotoTable;
  photo_marking: PhotoMarkingTable;
  photo_result: { set_id: number; request_key: string };
}
