import type { Book, Reader, Tx } from '../database/book.ts';
import { type Device, isWithin, readDevice } from './devices.ts';
import { hashOfToken, mintToken } from './tokens.ts';

const HOUR_MS = 3_600_000;
/**
 * How long a person stays chosen, and a keeper a keeper. Sources: NIST SP 800-63B-4, 30 days at its first level (a phone
 * of one's own), 24 hours and 1 hour without use at its second (keepers); on a shared device common practice.
 */
export const STAYS_HOURS = {
  own: { inAll: 30 * 24, unused: 30 * 24 },
  shared: { inAll: 12, unused: 4 },
  keeper: { inAll: 24, unused: 1 },
} as const;
/** Use is written down no more often than this. */
const SEEN_EVERY_MS = 60_000;

export interface SignedPerson {
  readonly id: number;
  readonly name: string;
  readonly role: 'keeper' | 'hand';
}

/** Who holds a token: a device, perhaps a person on it, and whether that person gave a keeper's passphrase. */
export interface SignIn {
  readonly tokenHash: string;
  readonly device: Device;
  readonly person: SignedPerson | null;
  readonly isKeeper: boolean;
  readonly seenAt: string;
}

/** What a token stands for now; undefined where it was never given out, is over, or its device was sent away. */
export function readSignIn(reader: Reader, token: string, now: string): SignIn | undefined {
  const tokenHash = hashOfToken(token);
  const row = reader.first(reader.db.selectFrom('sign_in').selectAll().where('token_hash', '=', tokenHash));
  const device = row && readDevice(reader, row.device_id, now);
  if (!device) return undefined;
  const stays = (kind: keyof typeof STAYS_HOURS) =>
    isWithin(row.at, now, STAYS_HOURS[kind].inAll * HOUR_MS) &&
    isWithin(row.seen_at, now, STAYS_HOURS[kind].unused * HOUR_MS);
  const isKeeper = row.keeper === 1 && stays('keeper');
  const isOwn = row.person_id !== null && row.person_id === device.personId;
  const person =
    isKeeper || (isOwn ? stays('own') : row.keeper === 0 && stays('shared')) ? row.person_id : null;
  const signed = person === null ? undefined : readSignedPerson(reader, person);
  return {
    tokenHash,
    device,
    person: signed ?? null,
    isKeeper: isKeeper && signed?.role === 'keeper',
    seenAt: row.seen_at,
  };
}

function readSignedPerson(reader: Reader, personId: number): SignedPerson | undefined {
  return reader.first(
    reader.db
      .selectFrom('person')
      .select(['id', 'name', 'role'])
      .where('id', '=', personId)
      .where('left_at', 'is', null),
  );
}

/** Notes that a token was used. A book that is only read any more keeps letting in whoever was let in. */
export function noteUse(book: Book, { tokenHash, device, seenAt }: SignIn): void {
  const now = book.now();
  if (isWithin(seenAt, now, SEEN_EVERY_MS) || book.trouble) return;
  const { db } = book;
  book.writeAside((run) => {
    run(db.updateTable('sign_in').set({ seen_at: now }).where('token_hash', '=', tokenHash));
    run(db.updateTable('device').set({ seen_at: now }).where('id', '=', device.id));
  });
}

interface NewSignIn {
  readonly deviceId: number;
  readonly personId: number | null;
  readonly isKeeper: boolean;
}

/** Gives out a new token and takes the one before it back: no token outlives a change of who holds it. */
export function signIn(
  db: Book['db'],
  run: Tx['run'],
  now: string,
  before: string | null,
  given: NewSignIn,
): string {
  const token = mintToken();
  if (before !== null) run(db.deleteFrom('sign_in').where('token_hash', '=', before));
  run(
    db.insertInto('sign_in').values({
      token_hash: hashOfToken(token),
      device_id: given.deviceId,
      person_id: given.personId,
      keeper: given.isKeeper ? 1 : 0,
      at: now,
      seen_at: now,
    }),
  );
  return token;
}

/** Signs a person out everywhere, save where a token is named: after a new passphrase, or when they leave. */
export function signOutEverywhere(
  { db }: Pick<Book, 'db'>,
  run: Tx['run'],
  personId: number,
  except: string | null = null,
): void {
  const all = db.updateTable('sign_in').set({ person_id: null, keeper: 0 }).where('person_id', '=', personId);
  run(except === null ? all : all.where('token_hash', '<>', except));
}
