import type { Row } from './sql.ts';

const AT = '2026-03-02T12:00:00.000Z';

/** Lawful rows of readings of colours and of judgements. */
export const COLOUR_ROWS: Readonly<Record<string, Row>> = {
  colour_reading: {
    lot_id: 1,
    swatch_id: null,
    lab_l: 40,
    lab_a: 5,
    lab_b: 3,
    illuminant: 'D65',
    observer: '10',
    how: 'instrument',
    uncertainty_centi: 50,
    state: 'dry',
    layers: 4,
    backing: 'either',
    place: 'end',
    note: '',
    read_on: '2026-03-02',
    at: AT,
    person_id: 1,
    request_key: 'request-0',
    undone_key: null,
  },
  pair_judgement: {
    lot_id: 1,
    swatch_id: null,
    to_lot_id: 2,
    to_swatch_id: null,
    to_shade_id: null,
    how: 'photo',
    verdict: null,
    delta_centi: 60,
    uncertainty_centi: 80,
    diff_l: -0.5,
    diff_a: 0.2,
    diff_b: 0.1,
    light: '',
    state: 'dry',
    note: '',
    at: AT,
    person_id: 1,
    request_key: 'request-0',
    undone_key: null,
  },
};
