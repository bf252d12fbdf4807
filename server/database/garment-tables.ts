import type { Generated } from 'kysely';
import type { Direction, LotRule } from '../../src/garment/band.ts';
import type { Profile } from '../../src/garment/girth.ts';
import type { Hangs } from '../../src/garment/hanging.ts';
import type { Fastening, OpeningWay } from '../../src/garment/opening.ts';
import type { PlacedBy } from '../../src/garment/placing.ts';
import type { LowerEdge, SeamKind, UpperEdge } from '../../src/garment/seams-and-edges.ts';
import type { LengthUnit } from '../../src/quantity/length.ts';

export interface GarmentTable {
  id: Generated<number>;
  code: string;
  name: string;
  note: Generated<string>;
  due_on: string | null;
  finished_at: string | null;
  waist_height_ticks: Generated<number | null>;
  clearance_ticks: Generated<number | null>;
  front_drop_ticks: Generated<number | null>;
  side_drop_ticks: Generated<number | null>;
  back_drop_ticks: Generated<number | null>;
  profile: Generated<Profile>;
  foundation_ease_ticks: Generated<number>;
  meet_centi_delta_e: Generated<number>;
  look_centi_delta_e: Generated<number>;
  opening_ticks: Generated<number | null>;
  fastening: Generated<Fastening>;
  fastener_ticks: Generated<number | null>;
  over_ticks: Generated<number | null>;
  /** JSON: the lengths above as they were typed */
  typed: Generated<string>;
  version: Generated<number>;
  changed_at: Generated<string | null>;
  changed_by_id: Generated<number | null>;
}

export interface GirthTable {
  garment_id: number;
  drop_ticks: number;
  girth_ticks: number;
  hoop_width_ticks: Generated<number | null>;
  hoop_depth_ticks: Generated<number | null>;
  typed: string;
}

export interface TierTable {
  id: Generated<number>;
  garment_id: number;
  position: number;
  name: string;
  hangs: Hangs;
  drop_ticks: number | null;
  on_tier_id: number | null;
  height_ticks: Generated<number | null>;
  cloth_id: number;
  depth_ticks: number;
  overlap_ticks: Generated<number>;
  fullness_milli: number;
  ratio_tier_id: Generated<number | null>;
  ring: number;
  seam_kind: Generated<SeamKind>;
  seam_ticks: number;
  end_ticks: number;
  heading_ticks: number;
  upper_edge: Generated<UpperEdge>;
  hang_seam_ticks: Generated<number>;
  lower_edge: Generated<LowerEdge>;
  hem_ticks: number;
  hem_first: Generated<number>;
  direction: Generated<Direction>;
  strip_length_ticks: number | null;
  offset_strips: Generated<number>;
  finish_repeat: number;
  opening_way: Generated<OpeningWay>;
  placed_by: Generated<PlacedBy>;
  placed_ticks: Generated<number | null>;
  level_tier_id: Generated<number | null>;
  /** the part whose strips are held and cut for this row; null for a tier */
  garment_part_id: Generated<number | null>;
  /** which size of that part; '' for its main one, and of a tier */
  part_size: Generated<string>;
  taken_out_at: string | null;
  typed: string;
  version: Generated<number>;
  changed_at: Generated<string | null>;
  changed_by_id: Generated<number | null>;
}

/** A part that is kept with a garment: `asked` is JSON of what was typed, whose bare numbers are of `unit`. */
export interface GarmentPartTable {
  id: Generated<number>;
  garment_id: number;
  kind: string;
  name: string;
  unit: LengthUnit;
  asked: string;
  pieces: number;
  cloth_id: number | null;
  shade_id: number | null;
  taken_out_at: string | null;
  version: Generated<number>;
  changed_at: string;
  changed_by_id: number;
}

/** How far below the waist the lower edge of a tier was measured on the stand; only `followed_ticks` changes later. */
export interface MadeMeasureTable {
  id: Generated<number>;
  tier_id: number;
  lower_ticks: number;
  /** how far tiers below were moved by what it differs from the plan */
  followed_ticks: number;
  note: string;
  typed: string;
  at: string;
  person_id: number;
}

export interface TierSizeTable {
  tier_id: number;
  after_entry_id: number;
  cloth_id: number;
  cut_depth_ticks: number;
  strip_length_ticks: number;
}

export interface ColourBlockTable {
  tier_id: number;
  position: number;
  shade_id: number;
  /** null takes the cloth of the tier */
  cloth_id: Generated<number | null>;
  strips: number;
  lots: Generated<LotRule>;
}
