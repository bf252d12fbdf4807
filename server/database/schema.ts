import type { Generated } from 'kysely';
import type { Illuminant, Observer } from '../../src/colour/colour-reading.ts';
import type { ClothStateCode, NylonType } from '../../src/dye/cloth-finish.ts';
import type { SmallMeasure } from '../../src/dye/measuring.ts';
import type { EntryKind, OtherUseKind } from '../../src/ledger/entries.ts';
import type { Basis } from '../../src/quantity/provenance.ts';
import type { BuyingTables } from './buying-tables.ts';
import type { ByWhenTables } from './by-when-tables.ts';
import type { ColourReadingTable, PairJudgementTable } from './colour-tables.ts';
import type {
  AuxiliaryPriceTable,
  EnergyPriceTable,
  GarmentBudgetTable,
  HourPriceTable,
} from './cost-tables.ts';
import type { CutLayTable, CutLayTierTable, CutPlanTable } from './cut-plan-tables.ts';
import type { DeviceTables } from './device-tables.ts';
import type {
  BatchAmountTable,
  DyeTable,
  MakerLabelTable,
  VesselTable,
  WaterTestTable,
} from './dye-amount-tables.ts';
import type {
  BatchBathTable,
  BatchLogAuxiliaryTable,
  BatchLogTable,
  BatchPieceTable,
  LotJoinTable,
  LotShadeTable,
  RecipeCopyTable,
  RecipeFixingTable,
} from './dye-tables.ts';
import type { PieceFlawTable, PieceWidthTable, RemnantFromTable } from './flaw-tables.ts';
import type {
  ColourBlockTable,
  GarmentPartTable,
  GarmentTable,
  GirthTable,
  MadeMeasureTable,
  TierSizeTable,
  TierTable,
} from './garment-tables.ts';
import type { LabelAddressTable, LabelRunTable, LabelSheetTable, LabelTable } from './label-tables.ts';
import type { ListInTable, ListRowTable } from './list-tables.ts';
import type { PhotoTables } from './photo-tables.ts';
import type { PleatingBackTable, PleatingTable, StripsPleatedTable } from './pleating-tables.ts';
import type { DipMoveTable, DipTable, SeriesStepTable, SeriesTable } from './series-tables.ts';
import type { SewingJobTable, SewingTable, TableRateTable } from './sewing-tables.ts';
import type { SupplyTables } from './supply-tables.ts';
import type {
  DyedSwatchDyeTable,
  DyedSwatchTable,
  SwatchDyeLotTable,
  SwatchJobTable,
  SwatchResultTable,
  SwatchTable,
} from './swatch-tables.ts';
import type { WashTestTable } from './wash-tables.ts';

/** The tables as they are in the file. Lengths are ticks of 1/160 mm, masses milligrams, money minor units. */
export interface Schema extends BuyingTables, ByWhenTables, DeviceTables, PhotoTables, SupplyTables {
  workroom: WorkroomTable;
  person: PersonTable;
  request: RequestTable;
  supplier: SupplierTable;
  place: { id: Generated<number>; name: string };
  cloth: ClothTable;
  cloth_fibre: { cloth_id: number; fibre: string; share_bp: number };
  shade: ShadeTable;
  lot: LotTable;
  piece: PieceTable;
  garment: GarmentTable;
  garment_part: GarmentPartTable;
  wash_test: WashTestTable;
  made_measure: MadeMeasureTable;
  girth: GirthTable;
  tier: TierTable;
  tier_size: TierSizeTable;
  garment_version: GarmentVersionTable;
  colour_block: ColourBlockTable;
  pleating: PleatingTable;
  pleating_back: PleatingBackTable;
  strips_pleated: StripsPleatedTable;
  sewing: SewingTable;
  sewing_job: SewingJobTable;
  table_rate: TableRateTable;
  tier_thread: { tier_id: number; shade_id: number };
  order: OrderTable;
  order_line: OrderLineTable;
  receipt: ReceiptTable;
  dye: DyeTable;
  vessel: VesselTable;
  recipe: RecipeTable;
  recipe_dye: RecipeDyeTable;
  recipe_auxiliary: RecipeAuxiliaryTable;
  recipe_copy: RecipeCopyTable;
  swatch_job: SwatchJobTable;
  swatch: SwatchTable;
  swatch_dye_lot: SwatchDyeLotTable;
  swatch_result: SwatchResultTable;
  dyed_swatch: DyedSwatchTable;
  dyed_swatch_dye: DyedSwatchDyeTable;
  recipe_fixing: RecipeFixingTable;
  series: SeriesTable;
  series_step: SeriesStepTable;
  dip: DipTable;
  dip_move: DipMoveTable;
  batch: BatchTable;
  batch_amount: BatchAmountTable;
  batch_bath: BatchBathTable;
  batch_piece: BatchPieceTable;
  batch_log: BatchLogTable;
  batch_log_auxiliary: BatchLogAuxiliaryTable;
  batch_repeat: { batch_id: number; of_id: number };
  entry: EntryTable;
  other_use: OtherUseTable;
  hold: HoldTable;
  cut_plan: CutPlanTable;
  cut_lay: CutLayTable;
  cut_lay_tier: CutLayTierTable;
  colour_reading: ColourReadingTable;
  pair_judgement: PairJudgementTable;
  lot_join: LotJoinTable;
  lot_shade: LotShadeTable;
  piece_flaw: PieceFlawTable;
  piece_width: PieceWidthTable;
  remnant_from: RemnantFromTable;
  label_address: LabelAddressTable;
  label_sheet: LabelSheetTable;
  label_run: LabelRunTable;
  label: LabelTable;
  garment_budget: GarmentBudgetTable;
  energy_price: EnergyPriceTable;
  hour_price: HourPriceTable;
  water_test: WaterTestTable;
  maker_label: MakerLabelTable;
  auxiliary_price: AuxiliaryPriceTable;
  list_in: ListInTable;
  list_row: ListRowTable;
}

type LengthSystem = 'metric' | 'imperial';

interface WorkroomTable {
  id: number;
  name: string;
  length_system: LengthSystem;
  currency: string;
  useful_remnant_ticks: number;
  invented: number;
  balance_mg: number;
  measures_with: SmallMeasure;
  amount_off_bp: number;
  /** six hexadecimal digits that no other book has */
  mark: string | null;
}

interface PersonTable {
  id: Generated<number>;
  name: string;
  length_system: LengthSystem | null;
  left_at: string | null;
  /** what they may do over the network */
  role: Generated<'keeper' | 'hand'>;
}

interface RequestTable {
  key: string;
  asked_hash: string;
  at: string;
  person_id: number;
  answer: string;
  device_id: Generated<number | null>;
  /** where it is entered later than it was done */
  done_at: Generated<string | null>;
}

interface SupplierTable {
  id: Generated<number>;
  name: string;
  lead_days: number | null;
  note: Generated<string>;
}

export interface ClothTable {
  id: Generated<number>;
  name: string;
  construction: string;
  width_ticks: number;
  usable_width_ticks: number;
  mass_per_area_mg_m2: number | null;
  finish: Generated<string>;
  /** what it was given before it came: '' and 0 are what nobody has said */
  state: Generated<ClothStateCode | ''>;
  nylon: Generated<NylonType | ''>;
  flame_retardant: Generated<number>;
  water_repellent: Generated<number>;
  parchment: Generated<number>;
  starched: Generated<number>;
  supplier_id: number | null;
  article: Generated<string>;
  note: Generated<string>;
  typed: Generated<string>;
  ply_limit: Generated<number>;
  fold_limit: Generated<number>;
  one_way: Generated<number>;
  repeat_ticks: Generated<number | null>;
  half_drop: Generated<number>;
  fold_line_in_strips: Generated<number>;
}

interface ShadeTable {
  id: Generated<number>;
  name: string;
  ground: number;
  lab_l: number | null;
  lab_a: number | null;
  lab_b: number | null;
  lab_how: 'instrument' | 'photo' | 'screen' | 'typed' | null;
  lab_illuminant: Generated<Illuminant>;
  lab_observer: Generated<Observer>;
  note: Generated<string>;
}

interface LotTable {
  id: Generated<number>;
  code: string;
  cloth_id: number;
  shade_id: number;
  origin: 'mill' | 'dyed';
  mill_lot: Generated<string>;
  supplier_id: number | null;
  batch_id: number | null;
  /** the bath of the batch; null of a lot of all its baths */
  bath: Generated<number | null>;
  /** the lot that it counts as by somebody’s judgement; kept by triggers */
  joined_to_id: Generated<number | null>;
}

interface PieceTable {
  id: Generated<number>;
  code: string;
  kind: 'bolt' | 'remnant';
  lot_id: number;
  usable_width_ticks: number;
  place_id: number | null;
  parent_id: number | null;
  on_hand_ticks: Generated<number>;
  held_ticks: Generated<number>;
  cost_minor: Generated<number>;
}

interface GarmentVersionTable {
  garment_id: number;
  number: number;
  at: string;
  person_id: number;
  said: string;
  after_entry_id: number;
  snapshot: string;
}

interface OrderTable {
  id: Generated<number>;
  code: string;
  supplier_id: number;
  note: Generated<string>;
  drafted_at: string;
  expected_on: string | null;
  sent_at: string | null;
  closed_at: string | null;
  cancelled_at: string | null;
  supplier_number: Generated<string>;
}

interface OrderLineTable {
  id: Generated<number>;
  order_id: number;
  cloth_id: number;
  shade_id: number;
  length_ticks: number;
  price_minor: number | null;
  price_ticks: number | null;
  typed: string;
}

interface ReceiptTable {
  id: Generated<number>;
  order_id: number | null;
  supplier_id: number | null;
  note: Generated<string>;
  at: string;
  person_id: number;
  invoice_number: Generated<string>;
}

interface RecipeTable {
  id: Generated<number>;
  name: string;
  version: number;
  follows_id: number | null;
  shade_id: number;
  fibre: string;
  dye_class: string;
  method: Generated<string>;
  liquor_ratio_milli: number;
  temperature_c: number;
  hold_minutes: number;
  /** codes of fibres, as JSON */
  also: Generated<string>;
  ph_from_tenths: number | null;
  ph_to_tenths: number | null;
  heat_rate_milli: number | null;
  cool_rate_milli: number | null;
  shrinkage_bp: number;
  note: Generated<string>;
  marks: Generated<string>;
  typed: string;
}

interface RecipeDyeTable {
  recipe_id: number;
  position: number;
  name: string;
  owf_milli: number;
  /** the dye of the workroom's list that was chosen */
  dye_id: number | null;
}

interface RecipeAuxiliaryTable {
  recipe_id: number;
  position: number;
  kind: string;
  form: string;
  name: string;
  per: 'litre' | 'cloth';
  amount: number;
  basis: Basis;
  source: string;
}

interface BatchTable {
  id: Generated<number>;
  code: string;
  recipe_id: number;
  vessel_id: number;
  note: Generated<string>;
  due_on: string | null;
  planned_at: string;
  person_id: number;
  cancelled_at: string | null;
  cancelled_by: number | null;
  card: string | null;
}

interface EntryTable {
  id: Generated<number>;
  piece_id: number;
  kind: EntryKind;
  length_ticks: number;
  held_ticks: number;
  cost_minor: number;
  at: string;
  person_id: number;
  why: Generated<string>;
  typed: Generated<string>;
  request_key: string;
  tier_id: number | null;
  other_use_id: number | null;
  strips: number | null;
  batch_id: number | null;
  receipt_id: number | null;
  order_line_id: number | null;
  pair_id: number | null;
  reverses_id: number | null;
  /** the bath of the batch that a length went into or came from */
  bath: Generated<number | null>;
}

interface OtherUseTable {
  id: Generated<number>;
  kind: OtherUseKind;
  garment_id: number | null;
  note: string;
  at: string;
  person_id: number;
}

/** For a tier or for another use, never for both. */
interface HoldTable {
  piece_id: number;
  tier_id: number | null;
  other_use_id: number | null;
  held_ticks: number;
}
