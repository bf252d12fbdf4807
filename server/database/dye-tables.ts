import type { Generated } from 'kysely';
import type { Illuminant, Observer } from '../../src/colour/colour-reading.ts';

export type LogKind =
  | 'step'
  | 'temperature'
  | 'pH'
  | 'weighed'
  | 'water'
  | 'addition'
  | 'swatch'
  | 'result'
  | 'note'
  | 'undone'
  | 'scoured'
  | 'topped up'
  | 'bath end'
  | 'shade'
  | 'fastness'
  | 'difference'
  | 'read';

/** What was done at the pot; figures by kind as in the step that makes the table. */
export interface BatchLogTable {
  id: Generated<number>;
  batch_id: number;
  bath: number;
  kind: LogKind;
  at: string;
  person_id: number;
  request_key: string;
  figure: number | null;
  what: Generated<string>;
  dye_lot: Generated<string>;
  note: Generated<string>;
  lab_l: number | null;
  lab_a: number | null;
  lab_b: number | null;
  lab_how: 'instrument' | 'photo' | 'screen' | 'typed' | null;
  lab_illuminant: Generated<Illuminant>;
  lab_observer: Generated<Observer>;
  undoes_id: number | null;
}

/** How a recipe is fixed, as its label says. */
export interface RecipeFixingTable {
  recipe_id: number;
  how: 'steam' | 'dry heat' | 'press';
  temperature_c: number;
  seconds: number;
}

/** What an auxiliary was that went into a bath by hand. */
export interface BatchLogAuxiliaryTable {
  log_id: number;
  kind: string;
  form: string;
}

/** The recipe that a recipe was copied from, and the cloth that it was copied for. */
export interface RecipeCopyTable {
  recipe_id: number;
  of_id: number;
  cloth_id: number | null;
}

export interface BatchPieceTable {
  batch_id: number;
  piece_id: number;
  length_ticks: number;
  typed: Generated<string>;
  /** null where the plan says it */
  bath: Generated<number | null>;
}

/** The pot of a bath and when it is to begin. */
export interface BatchBathTable {
  batch_id: number;
  bath: number;
  vessel_id: number;
  begins_at: string | null;
}

/** A dyed lot that is kept as another shade; the last counts. */
export interface LotShadeTable {
  id: Generated<number>;
  lot_id: number;
  shade_id: number;
  note: Generated<string>;
  at: string;
  person_id: number;
  request_key: string;
}

/** Somebody's judgement that a lot is one with another. */
export interface LotJoinTable {
  id: Generated<number>;
  lot_id: number;
  to_id: number;
  how: 'instrument' | 'photo' | 'eye';
  /** hundredths of a CIEDE2000 unit */
  delta_centi: number | null;
  note: Generated<string>;
  at: string;
  person_id: number;
  request_key: string;
  undone_key: string | null;
}
