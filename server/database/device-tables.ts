import type { Generated } from 'kysely';

/** The tables of devices, secrets and the network, as migration 032 makes them. */
export interface DeviceTables {
  device: DeviceTable;
  person_secret: PersonSecretTable;
  sign_in: SignInTable;
  invitation: InvitationTable;
  network: NetworkTable;
}

interface DeviceTable {
  id: Generated<number>;
  name: string;
  /** whose own it is; NULL where it is shared */
  person_id: number | null;
  /** NULL for the machine itself */
  paired_at: string | null;
  paired_by: number | null;
  seen_at: string | null;
  sent_away_at: string | null;
}

interface PersonSecretTable {
  person_id: number;
  kind: 'pin' | 'passphrase';
  hash: string;
  at: string;
  failures: number;
  failing_since: string | null;
  failed_at: string | null;
  failed_on_id: number | null;
}

interface SignInTable {
  token_hash: string;
  device_id: number;
  person_id: number | null;
  keeper: number;
  at: string;
  seen_at: string;
}

interface InvitationTable {
  code_hash: string;
  device_name: string;
  person_id: number | null;
  invited_by: number | null;
  at: string;
}

interface NetworkTable {
  id: number;
  is_on: number;
  /** as "192.168.1.0/24 10.0.0.0/8" */
  subnets: string;
  wifi_name: string;
  own_certificate: number;
}

/** The machine that the book lies on: the one device that nobody lets in. */
export const MACHINE_ID = 1;

/** Tables whose rows let somebody in: they leave with no export. */
export const SECRET_TABLES: readonly string[] = ['invitation', 'person_secret', 'sign_in'];
