import type { Reader, Tx } from '../database/book.ts';
import { MACHINE_ID } from '../database/device-tables.ts';
import { conflict, unknown } from '../refusal.ts';
import { hashOfToken, mintCode, readCode } from './tokens.ts';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
/** An invitation may be used once, and so long. NIST SP 800-63B-4 allows 10 minutes for a code sent out of band. */
export const INVITATION_MINUTES = 5;
/** OWASP ASVS 5.0.0, 7.3.1 and 7.3.2: a time without use, and a time in all. */
export const DEVICE_DAYS = { inAll: 180, unused: 30 } as const;

export interface Device {
  readonly id: number;
  readonly name: string;
  /** whose own it is; null where it is shared */
  readonly personId: number | null;
  readonly isMachine: boolean;
}

/** Whether a moment lies within so many milliseconds before another. */
export function isWithin(moment: string, now: string, ms: number): boolean {
  return Date.parse(now) - Date.parse(moment) < ms;
}

/** A device that may still come in; undefined where it was sent away or its time is over. */
export function readDevice(reader: Reader, deviceId: number, now: string): Device | undefined {
  const row = reader.first(reader.db.selectFrom('device').selectAll().where('id', '=', deviceId));
  if (!row || row.sent_away_at !== null) return undefined;
  const device = { id: row.id, name: row.name, personId: row.person_id, isMachine: row.id === MACHINE_ID };
  if (device.isMachine) return device;
  const { paired_at: pairedAt, seen_at: seenAt } = row;
  if (pairedAt === null || !isWithin(pairedAt, now, DEVICE_DAYS.inAll * DAY_MS)) return undefined;
  return isWithin(seenAt ?? pairedAt, now, DEVICE_DAYS.unused * DAY_MS) ? device : undefined;
}

/** Every device that was ever let in, the machine first. */
export function readDevices(reader: Reader) {
  return reader.all(
    reader.db
      .selectFrom('device')
      .leftJoin('person', 'person.id', 'device.person_id')
      .select(['device.id', 'device.name', 'person.name as whose', 'paired_at', 'seen_at', 'sent_away_at'])
      .orderBy('device.id'),
  );
}

export interface Invited {
  readonly deviceName: string;
  readonly personId: number | null;
}

/** Writes an invitation down and gives its code, which is told once and kept nowhere. */
export function invite(
  tx: Pick<Tx, 'db' | 'run' | 'at'>,
  invited: Invited,
  invitedBy: number | null,
): string {
  const code = mintCode();
  const over = new Date(Date.parse(tx.at) - INVITATION_MINUTES * MINUTE_MS).toISOString();
  tx.run(tx.db.deleteFrom('invitation').where('at', '<=', over));
  tx.run(
    tx.db.insertInto('invitation').values({
      code_hash: hashOfCode(code) ?? '',
      device_name: invited.deviceName,
      person_id: invited.personId,
      invited_by: invitedBy,
      at: tx.at,
    }),
  );
  return code;
}

/** What an invitation is for; undefined where there is none of this code, or its time is over. */
export function readInvitation(reader: Reader, code: string, now: string) {
  const hash = hashOfCode(code);
  if (hash === null) return undefined;
  const row = reader.first(reader.db.selectFrom('invitation').selectAll().where('code_hash', '=', hash));
  return row && isWithin(row.at, now, INVITATION_MINUTES * MINUTE_MS) ? row : undefined;
}

function hashOfCode(code: string): string | null {
  const plain = readCode(code);
  return plain === null ? null : hashOfToken(plain);
}

/** Lets a device in by its invitation, which is used up. @throws {Refusal} conflict where it was used or is over */
export function useInvitation(
  reader: Reader,
  run: Tx['run'],
  code: string,
  now: string,
): { readonly id: number; readonly personId: number | null } {
  const { db } = reader;
  const invitation = readInvitation(reader, code, now);
  if (!invitation) throw conflict('This code was used already or is too old. Ask a keeper for a new one.');
  run(db.deleteFrom('invitation').where('code_hash', '=', invitation.code_hash));
  const { lastId } = run(
    db.insertInto('device').values({
      name: freeName(reader, invitation.device_name),
      person_id: invitation.person_id,
      paired_at: now,
      paired_by: invitation.invited_by,
      seen_at: now,
      sent_away_at: null,
    }),
  );
  return { id: lastId, personId: invitation.person_id };
}

/** Entries go on naming devices that were sent away, so that a second one of the same name gets a number. */
function freeName(reader: Reader, wanted: string): string {
  const taken = (name: string) =>
    reader.first(reader.db.selectFrom('device').select('id').where('name', '=', name)) !== undefined;
  let name = wanted;
  for (let number = 2; taken(name); number += 1) name = `${wanted.slice(0, 54)} ${number}`;
  return name;
}

/** Sends a device away: its tokens are gone, so that its next request is a stranger's. */
export function sendAway(tx: Tx, deviceId: number): string {
  const device = tx.first(tx.db.selectFrom('device').select(['id', 'name']).where('id', '=', deviceId));
  if (!device) throw unknown('such device');
  if (device.id === MACHINE_ID) throw conflict('The machine that the book lies on cannot be sent away.');
  tx.run(tx.db.updateTable('device').set({ sent_away_at: tx.at }).where('id', '=', deviceId));
  tx.run(tx.db.deleteFrom('sign_in').where('device_id', '=', deviceId));
  return device.name;
}
