import type { Generated } from 'kysely';

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
  | 'undone';

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
  undoes_id: number | null;
}

/** The recipe that a recipe was copied from, and the cloth that it was copied for. */
export interface RecipeCopyTable {
  recipe_id: number;
  of_id: number;
  cloth_id: number | null;
}
