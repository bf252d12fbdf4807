import type { Row } from './sql.ts';

/** Lawful rows of what the workroom says of its sewing. */
export const LAWFUL_SEWING: Readonly<Record<string, Row>> = {
  sewing: {
    id: 1,
    waste_bp: 1000,
    put_up_ticks: 1_600_000,
    metric_step_ticks: 16_000,
    imperial_step_ticks: 18_288,
    typed: '{}',
  },
  sewing_job: {
    job: 'gathering',
    stitch: '301',
    stitches_milli_in: 10_000,
    thickness_um: 254,
    stitch_width_um: 4064,
    ratio_1_milli: 2500,
    ratio_2_milli: 2500,
    ratio_3_milli: 2500,
    passes: 2,
    rate_ticks_min: 160_000,
    typed: '{}',
  },
  table_rate: {
    id: 1,
    pull_seconds: 40,
    fold_seconds: 20,
    pin_seconds: 45,
    stroke_seconds: 15,
    knife_ticks_min: 960_000,
    fold_allowance_ticks: 480,
    typed: '{}',
  },
  tier_thread: { tier_id: 1, shade_id: 1 },
};
