import type { FastifyReply, FastifyRequest } from 'fastify';
import { countOf } from '../kit/words.ts';
import type { SecretKind } from '../let-in/hashing.ts';
import { tryToEnter } from '../let-in/secrets.ts';
import { admissionOf } from './admission.ts';
import type { House } from './house.ts';

/** Why somebody was not let in: the sentence for them, and the status of the answer. */
export interface NotEntered {
  readonly said: string;
  readonly status: 422 | 429;
}

interface Entering {
  readonly personId: number;
  readonly kind: SecretKind;
  readonly secret: string;
}

/** Looks whether a PIN or a passphrase is right; null where it is. Tries are bounded by address and by person. */
export async function enter(
  house: House,
  request: FastifyRequest,
  reply: FastifyReply,
  asked: Entering,
): Promise<NotEntered | null> {
  const late = waitAtDoor(house, request, reply);
  if (late) return late;
  const { door, book } = house;
  const deviceId = admissionOf(door, request).device?.id ?? 0;
  const tried = await tryToEnter(book, door.hasher, { ...asked, deviceId });
  if (tried.outcome === 'right') return null;
  if (tried.outcome === 'wait') reply.header('retry-after', tried.seconds);
  return { said: tried.said, status: tried.outcome === 'wait' ? 429 : 422 };
}

/** Counts a try of this address; a refusal where there were too many in the last minute. */
export function waitAtDoor(
  { door, book }: House,
  request: FastifyRequest,
  reply: FastifyReply,
): NotEntered | null {
  const seconds = door.tries.take(request.ip, Date.parse(book.now()));
  if (seconds === 0) return null;
  reply.header('retry-after', seconds);
  return { said: `Too many tries. Try again in ${countOf(seconds, 'second', 'seconds')}.`, status: 429 };
}

/**
 * Takes a secret out of what was sent, so that it is kept in no page that is drawn again and goes into no hash of what
 * was asked.
 */
export function takeSecret(request: FastifyRequest, field: string): string {
  const { body } = request;
  if (typeof body !== 'object' || body === null || !(field in body)) return '';
  const fields = body as Record<string, unknown>;
  const secret = fields[field];
  delete fields[field];
  return typeof secret === 'string' ? secret : '';
}
