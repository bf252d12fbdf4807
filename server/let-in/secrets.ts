import { randomInt } from 'node:crypto';
import type { Book, Reader } from '../database/book.ts';
import { MACHINE_ID } from '../database/device-tables.ts';
import { countOf } from '../kit/words.ts';
import type { Hasher, SecretKind } from './hashing.ts';

/** So many wrong ones in a row lock a secret. NIST SP 800-63B-4, 3.2.2: at most 100; a PIN has few digits. */
export const MOST_FAILURES: Readonly<Record<SecretKind, number>> = { pin: 10, passphrase: 100 };
const FREE_FAILURES = 2;
const LONGEST_WAIT_SECONDS = 3600;
const PIN_DIGITS = 5;

/** What came of a try: let in, wrong, to be tried again later, or locked until a keeper unlocks it. */
export type Tried =
  | { readonly outcome: 'right' }
  | { readonly outcome: 'wrong' | 'locked' | 'none'; readonly said: string }
  | { readonly outcome: 'wait'; readonly said: string; readonly seconds: number };

export interface Try {
  readonly personId: number;
  readonly kind: SecretKind;
  readonly secret: string;
  readonly deviceId: number;
}

interface Secret {
  readonly hash: string;
  readonly failures: number;
  readonly failed_at: string | null;
  readonly failing_since: string | null;
}

const WRONG: Readonly<Record<SecretKind, string>> = {
  pin: 'That is not the PIN of this person.',
  passphrase: 'That is not the passphrase of this person.',
};

/**
 * Looks whether a secret is right. It is counted as wrong before it is looked at, so that many tries at once are no more
 * than the limit. A passphrase at the machine itself is never locked: whoever fails over the network locks nobody out there.
 */
export async function tryToEnter(book: Book, hasher: Hasher, asked: Try): Promise<Tried> {
  const { personId, kind, secret, deviceId } = asked;
  const stored = readSecret(book, personId, kind);
  if (!stored) {
    await hasher.waste(kind);
    return { outcome: 'none', said: WRONG[kind] };
  }
  const now = book.now();
  const counts = kind === 'pin' || deviceId !== MACHINE_ID;
  if (counts) {
    if (stored.failures >= MOST_FAILURES[kind])
      return {
        outcome: 'locked',
        said: `Locked after ${MOST_FAILURES[kind]} wrong tries. A keeper can unlock it under Setup, People.`,
      };
    const seconds = waitSeconds(stored, now);
    if (seconds > 0)
      return {
        outcome: 'wait',
        said: `Wrong too often. Try again in ${countOf(seconds, 'second', 'seconds')}.`,
        seconds,
      };
    count(book, asked, stored, now);
  }
  if (!(await hasher.fits(secret, stored.hash))) return { outcome: 'wrong', said: WRONG[kind] };
  if (counts || stored.failures > 0) forgetFailures(book, personId, kind);
  return { outcome: 'right' };
}

/** 1, 2, 4 … seconds from the third failure on, up to an hour. */
function waitSeconds({ failures, failed_at: failedAt }: Secret, now: string): number {
  if (failures <= FREE_FAILURES || failedAt === null) return 0;
  const wait = Math.min(2 ** (failures - FREE_FAILURES - 1), LONGEST_WAIT_SECONDS);
  return Math.max(0, Math.ceil(wait - (Date.parse(now) - Date.parse(failedAt)) / 1000));
}

function count(book: Book, { personId, kind, deviceId }: Try, stored: Secret, now: string): void {
  book.writeAside((run) =>
    run(
      book.db
        .updateTable('person_secret')
        .set({
          failures: stored.failures + 1,
          failing_since: stored.failing_since ?? now,
          failed_at: now,
          failed_on_id: deviceId,
        })
        .where('person_id', '=', personId)
        .where('kind', '=', kind),
    ),
  );
}

/** Unlocks a secret, or forgets what was counted once it was right. */
export function forgetFailures(book: Book, personId: number, kind: SecretKind): void {
  book.writeAside((run) =>
    run(
      book.db
        .updateTable('person_secret')
        .set({ failures: 0, failing_since: null, failed_at: null, failed_on_id: null })
        .where('person_id', '=', personId)
        .where('kind', '=', kind),
    ),
  );
}

function readSecret(reader: Reader, personId: number, kind: SecretKind): Secret | undefined {
  return reader.first(
    reader.db
      .selectFrom('person_secret')
      .innerJoin('person', 'person.id', 'person_secret.person_id')
      .select(['hash', 'failures', 'failed_at', 'failing_since'])
      .where('person_id', '=', personId)
      .where('kind', '=', kind)
      .where('person.left_at', 'is', null),
  );
}

/** Keeps a new secret in place of an earlier one. */
export async function keepSecret(
  book: Book,
  hasher: Hasher,
  { personId, kind, secret }: Omit<Try, 'deviceId'>,
): Promise<void> {
  const kept = { hash: await hasher.hash(kind, secret), at: book.now() };
  const clean = { failures: 0, failing_since: null, failed_at: null, failed_on_id: null };
  book.writeAside((run) =>
    run(
      book.db
        .insertInto('person_secret')
        .values({ person_id: personId, kind, ...kept, ...clean })
        .onConflict((row) => row.columns(['person_id', 'kind']).doUpdateSet({ ...kept, ...clean })),
    ),
  );
}

/** A PIN that nobody would guess first: not one digit over and over, and no run up or down. */
export function drawPin(draw: (below: number) => number = randomInt): string {
  for (;;) {
    const pin = String(draw(10 ** PIN_DIGITS)).padStart(PIN_DIGITS, '0');
    const steps = new Set([...pin].slice(1).map((digit, at) => Number(digit) - Number(pin[at])));
    if (steps.size > 1 || ![0, 1, -1].includes([...steps][0] ?? 0)) return pin;
  }
}

/** Whether anybody who may do everything has a passphrase: without one nobody could keep the network. */
export function someKeeperHasPassphrase(reader: Reader): boolean {
  const found = reader.first(
    reader.db
      .selectFrom('person_secret')
      .innerJoin('person', 'person.id', 'person_secret.person_id')
      .select('person.id')
      .where('kind', '=', 'passphrase')
      .where('person.role', '=', 'keeper')
      .where('person.left_at', 'is', null),
  );
  return found !== undefined;
}

/** What each person has, and what failed in a row on which device, by person. */
export function readSecrets(reader: Reader) {
  return reader.all(
    reader.db
      .selectFrom('person_secret')
      .leftJoin('device', 'device.id', 'person_secret.failed_on_id')
      .select([
        'person_secret.person_id as personId',
        'person_secret.kind',
        'person_secret.failures',
        'person_secret.failing_since as failingSince',
        'device.name as failedOn',
      ]),
  );
}
