import type { FastifyRequest } from 'fastify';
import { type Param, prepared } from '../database/statements.ts';
import { type KeyOwner, ownerOfKey } from '../kit/request-key.ts';
import { readDevice } from '../let-in/devices.ts';
import { conflict, Refusal } from '../refusal.ts';
import type { House } from './house.ts';

// Work at a bench is kept on the device while the book does not answer, and is sent later: as the person who did it, and
// with how long it waited.

/** How long ago the work was done, in whole seconds by the clock of the device that kept it. */
const WAITED = 'clothroom-waited';
const WEEK_MS = 7 * 24 * 3_600_000;
/** What is sent within so long was entered as it was done. */
const LATE_FROM_S = 60;

/**
 * When the work that is sent was done, where that is not now. The device says how long it kept it and not at what time,
 * since its clock may be wrong; more than a week is told as a week.
 */
export function doneAtOf(request: FastifyRequest, now: string): string | null {
  const seconds = readWaited(request.headers[WAITED]);
  return seconds === null || seconds < LATE_FROM_S ? null : withinWeek(Date.parse(now) - seconds * 1000, now);
}

/** The whole seconds that a device says it kept something; null for anything else. */
export function readWaited(told: unknown): number | null {
  return typeof told === 'string' && /^[0-9]{1,12}$/.test(told) ? Number(told) : null;
}

/** A moment that a device told of: not after now, and a week before at the most. */
export function withinWeek(atMs: number, now: string): string {
  const latest = Date.parse(now);
  return new Date(Math.min(latest, Math.max(latest - WEEK_MS, atMs))).toISOString();
}

const nameOf = prepared((db, personId: Param<number>) =>
  db.selectFrom('person').select('name').where('id', '=', personId),
);

/** What is added to the key of unsent work for the form that says what really happened. */
export const TOLD = '-told';

/**
 * Lets nobody send what somebody else did, nor to another book, nor what was told otherwise meanwhile. A device that was
 * let in anew sends what it kept before.
 *
 * @throws {Refusal} another-person, conflict
 */
export function refuseOthersWork({ book }: House, key: string, asker: KeyOwner): void {
  const owner = ownerOfKey(key);
  if (!owner) return;
  if (owner.mark !== asker.mark)
    throw conflict('This was done in another book. Nothing was entered: open the page again.');
  const isOwnDevice =
    owner.deviceId === asker.deviceId || readDevice(book, owner.deviceId, book.now()) === undefined;
  if (owner.personId !== asker.personId || !isOwnDevice) {
    const [whose, now] = [owner, asker].map(({ personId }) => book.first(nameOf(personId))?.name);
    throw new Refusal(
      'another-person',
      `This form was opened for ${whose ?? 'somebody else'}, and ${now ?? 'nobody'} works here now. Nothing was entered: open the page again.`,
    );
  }
  if (!key.endsWith(TOLD) && book.answerOf(`${key}${TOLD}`))
    throw conflict('What happened here was entered already. Nothing was changed.');
}
