import type { SewingJob } from '../../src/garment/sewing.ts';
import type { Stitch } from '../../src/garment/thread.ts';

/** What the workroom said of its sewing as a whole: one row at most. */
export interface SewingTable {
  id: number;
  waste_bp: number | null;
  put_up_ticks: number | null;
  metric_step_ticks: number;
  imperial_step_ticks: number;
  typed: string;
}

/** One thing that is sewn alike. */
export interface SewingJobTable {
  job: SewingJob;
  stitch: Stitch | null;
  stitches_milli_in: number | null;
  thickness_um: number | null;
  stitch_width_um: number | null;
  ratio_1_milli: number | null;
  ratio_2_milli: number | null;
  ratio_3_milli: number | null;
  passes: number;
  rate_ticks_min: number | null;
  typed: string;
}

/** What work at the cutting table takes: one row at most. */
export interface TableRateTable {
  id: number;
  pull_seconds: number;
  fold_seconds: number;
  pin_seconds: number;
  stroke_seconds: number;
  knife_ticks_min: number;
  fold_allowance_ticks: number;
  typed: string;
}
