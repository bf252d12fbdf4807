import type { Generated } from 'kysely';
import type {
  Backing,
  HowRead,
  Illuminant,
  Observer,
  PlaceOnPiece,
} from '../../src/colour/colour-reading.ts';

/** The colour of a lot or of a swatch as it was read once; figures as in the step that makes the table. */
export interface ColourReadingTable {
  id: Generated<number>;
  lot_id: number | null;
  swatch_id: number | null;
  lab_l: number;
  lab_a: number;
  lab_b: number;
  illuminant: Illuminant;
  observer: Observer;
  how: HowRead;
  uncertainty_centi: number;
  state: 'dry' | 'wet';
  layers: number | null;
  backing: Backing | null;
  place: PlaceOnPiece | null;
  note: Generated<string>;
  read_on: string;
  at: string;
  person_id: number;
  request_key: string | null;
  undone_key: Generated<string | null>;
}

/** How a lot or a swatch compares with another or with a shade, as seen or measured of the two together. */
export interface PairJudgementTable {
  id: Generated<number>;
  lot_id: number | null;
  swatch_id: number | null;
  to_lot_id: number | null;
  to_swatch_id: number | null;
  to_shade_id: number | null;
  how: 'instrument' | 'photo' | 'eye';
  verdict: 'may meet' | 'look' | 'apart' | null;
  delta_centi: number | null;
  uncertainty_centi: number | null;
  diff_l: number | null;
  diff_a: number | null;
  diff_b: number | null;
  light: Generated<string>;
  state: 'dry' | 'wet';
  note: Generated<string>;
  at: string;
  person_id: number;
  request_key: string;
  undone_key: Generated<string | null>;
}
