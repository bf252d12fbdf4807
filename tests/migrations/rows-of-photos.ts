import type { Row } from './sql.ts';

const AT = '2026-03-02T12:00:00.000Z';

/** Lawful rows of photos of cloth. */
export const PHOTO_ROWS: Readonly<Record<string, Row>> = {
  photo_set: {
    kind: 'pair',
    lot_id: 1,
    swatch_id: null,
    to_lot_id: 2,
    to_swatch_id: null,
    to_shade_id: null,
    layers: 4,
    backing: 'white',
    state: 'dry',
    light: 'daylight',
    card_bp: 1800,
    note: '',
    at: AT,
    person_id: 1,
  },
  photo: {
    set_id: 1,
    sha256: 'b'.repeat(64),
    width_px: 1600,
    height_px: 1200,
    at: AT,
    person_id: 1,
    left_out_key: null,
  },
  photo_marking: { photo_id: 1, areas: '{}', at: AT, person_id: 1 },
  photo_result: { set_id: 1, request_key: 'request-w0' },
};
