import type { Row } from './sql.ts';

/** Lawful rows of held plans. */
export const PLAN_ROWS: Readonly<Record<string, Row>> = {
  cut_plan: {
    garment_id: 1,
    cloth_id: 1,
    shade_id: 1,
    held_key: 'request-0',
    given_up_key: 'request-0',
    job_hash: 'a'.repeat(64),
    wish: 'fewest lays',
    short_strips: 1,
    charged_ticks: 100,
    charged_area: 10_000,
    bound_area: 9_000,
    bound_over: 'all lots',
  },
  cut_lay: {
    plan_id: 1,
    position: 3,
    piece_id: 1,
    from_ticks: 0,
    length_ticks: 50,
    slit_into: '[]',
    cut_key: 'request-0',
  },
  cut_lay_tier: { lay_id: 1, tier_id: 2, strips: 1, length_ticks: 10 },
};
