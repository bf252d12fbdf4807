import type { Row } from './sql.ts';

const AT = '2026-03-02T12:00:00.000Z';

/** Lawful rows of what is asked of suppliers besides cloth. */
export const ASKED_ROWS: Readonly<Record<string, Row>> = {
  order_line_lot: { line_id: 3, lot_id: 1 },
  lot_answer: { receipt_id: 1, line_id: 2, met: 1 },
  reservation: {
    supplier_id: 1,
    cloth_id: 1,
    shade_id: 1,
    length_ticks: 160_000,
    typed: '1 m',
    note: '',
    until_on: '2026-03-20',
    ended: 'let go',
    at: AT,
    person_id: 1,
  },
  sample_request: {
    supplier_id: 1,
    cloth_id: 1,
    shade_id: 1,
    note: '',
    asked_on: '2026-03-01',
    came_on: '2026-03-05',
    verdict: 'right',
    swatch_id: 1,
    at: AT,
    person_id: 1,
  },
  // Entry 21 went back to the supplier.
  return_credit: {
    entry_id: 21,
    expected_minor: 2,
    come_minor: 1,
    come_on: '2026-03-05',
    number: 'CN-1',
    settled: 0,
  },
};
