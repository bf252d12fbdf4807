import type { Row } from './sql.ts';

const AT = '2026-03-02T12:00:00.000Z';

/** Lawful rows of flaws, of widths measured again, and of where remnants lay. */
export const FLAW_ROWS: Readonly<Record<string, Row>> = {
  piece_flaw: {
    piece_id: 1,
    from_ticks: 10,
    to_ticks: 20,
    left_ticks: 0,
    right_ticks: 10,
    after_entry_id: 1,
    what: 'slub',
    at: AT,
    person_id: 1,
    struck_at: AT,
    struck_by: 1,
  },
  piece_width: { piece_id: 1, was_ticks: 100, width_ticks: 90, why: '', at: AT, person_id: 1 },
  remnant_from: { piece_id: 4, along_ticks: 0, across_ticks: 60 },
};
