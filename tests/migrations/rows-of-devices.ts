import type { Row } from './sql.ts';

const AT = '2026-03-02T12:00:00.000Z';
const HASH = 'a'.repeat(64);

/** A lawful row of every table of devices and of what lets somebody in. */
export const DEVICE_ROWS: Readonly<Record<string, Row>> = {
  device: {
    name: 'Tablet of the table',
    person_id: 1,
    paired_at: AT,
    paired_by: 1,
    seen_at: AT,
    sent_away_at: AT,
  },
  person_secret: {
    person_id: 1,
    kind: 'pin',
    hash: HASH,
    at: AT,
    failures: 3,
    failing_since: AT,
    failed_at: AT,
    failed_on_id: 1,
  },
  sign_in: { token_hash: HASH, device_id: 1, person_id: 1, keeper: 1, at: AT, seen_at: AT },
  invitation: { code_hash: HASH, device_name: 'Phone', person_id: 1, invited_by: 1, at: AT },
  network: { id: 1, is_on: 1, subnets: '192.168.1.0/24', wifi_name: 'Workroom', own_certificate: 1 },
};
