import type { Reader, Tx } from '../database/book.ts';
import { isOwnMachine, readAddress } from '../labels/address-form.ts';
import { Refusal } from '../refusal.ts';

/** Whether the workroom's network is served, in which subnets, what the poster says, and how. */
export interface NetworkSettings {
  readonly isOn: boolean;
  readonly subnets: readonly string[];
  readonly wifiName: string;
  readonly ownCertificate: boolean;
}

/** Of a book in which they cannot be read any more: it answers at the computer itself only, and tells its trouble there. */
export function readNetwork(reader: Reader): NetworkSettings {
  const row = orRefused(() => reader.first(reader.db.selectFrom('network').selectAll()));
  return {
    isOn: row?.is_on === 1,
    subnets: (row?.subnets ?? '').split(' ').filter((subnet) => subnet !== ''),
    wifiName: row?.wifi_name ?? '',
    ownCertificate: row?.own_certificate === 1,
  };
}

function orRefused<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

export function writeNetwork(tx: Tx, settings: NetworkSettings): void {
  const values = {
    is_on: settings.isOn ? 1 : 0,
    subnets: settings.subnets.join(' '),
    wifi_name: settings.wifiName,
    own_certificate: settings.ownCertificate ? 1 : 0,
  };
  tx.run(
    tx.db
      .insertInto('network')
      .values({ id: 1, ...values })
      .onConflict((row) => row.column('id').doUpdateSet(values)),
  );
}

/** The address that phones and labels know, without the scheme; null where none was written down that they can reach. */
export function readKnownAddress(reader: Reader): { readonly host: string; readonly port: number } | null {
  const written = readAddress(reader)?.address;
  if (written === undefined || isOwnMachine(written)) return null;
  const { hostname, port, protocol } = new URL(written);
  return { host: hostname, port: port === '' ? (protocol === 'https:' ? 443 : 80) : Number(port) };
}
