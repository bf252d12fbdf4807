import { randomUUID } from 'node:crypto';
import type { FastifyRequest } from 'fastify';

/** A key for one form as it is drawn: a second sending of the same form is then known as such. */
export function mintKey(): string {
  return randomUUID();
}

export function isKey(key: unknown): key is string {
  return typeof key === 'string' && /^[A-Za-z0-9_-]{8,80}$/.test(key);
}

/** The key that a request carries, in its form or in its address; null where it has none. */
export function keyIn(request: FastifyRequest): string | null {
  const sent = request.method === 'GET' ? request.query : request.body;
  const key = typeof sent === 'object' && sent !== null && 'request_key' in sent ? sent.request_key : null;
  return isKey(key) ? key : null;
}
