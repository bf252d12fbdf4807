import type { Row } from './sql.ts';

const AT = '2026-03-02T12:00:00.000Z';

/** Lawful rows of labels, lists that came in, and costs. */
export const PAPER_ROWS: Readonly<Record<string, Row>> = {
  label_address: { address: 'http://192.0.2.20:8040', at: AT, person_id: 1 },
  label_sheet: {
    name: 'Twelve on A4',
    paper: 'A4',
    columns: 2,
    rows: 6,
    width_ticks: 15_200,
    height_ticks: 7200,
    left_ticks: 1600,
    top_ticks: 2160,
    across_ticks: 0,
    down_ticks: 0,
    nudge_right_ticks: 0,
    nudge_down_ticks: 0,
  },
  label_run: { label_sheet_id: 1, label_address_id: 1, first_place: 1, at: AT, person_id: 1 },
  label: { label_run_id: 1, position: 2, piece_id: 1, batch_id: null, place_id: null, on_hand_ticks: 0 },
  list_in: {
    name: 'Old list',
    at: AT,
    person_id: 1,
    state: 'ready',
    problem: '',
    heading: '[]',
    columns: '[]',
    writing: '{}',
    skip_twins: 1,
  },
  list_row: {
    list_in_id: 1,
    row_number: 2,
    cells: '[]',
    problems: '[]',
    mark: '',
    twin: 0,
    piece_id: 1,
    request_key: 'list-key',
  },
  garment_budget: { garment_id: 1, budget_minor: 100, at: AT, person_id: 1 },
  energy_price: { price_minor: 30, at: AT, person_id: 1 },
  hour_price: { price_minor: 1800, at: AT, person_id: 1 },
  auxiliary_price: {
    kind: 'salt',
    form: 'anhydrous',
    price_minor: 100,
    price_mg: 1_000_000,
    at: AT,
    person_id: 1,
  },
};
