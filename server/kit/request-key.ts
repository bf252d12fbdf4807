import { randomUUID } from 'node:crypto';
import type { FastifyRequest } from 'fastify';

/** A key for one form as it is drawn: a second sending of the same form is then known as such. */
export function mintKey(): string {
  return randomUUID();
}

export function isKey(key: unknown): key is string {
  return typeof key === 'string' && /^[A-Za-z0-9_-]{8,80}$/.test(key);
}

const MINTED = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}(?=-)/;

/**
 * The key of the page that a request comes from, in its form or in its address; null where it has none. Where a page
 * has several forms, each adds a word of its own to the key of the page.
 */
export function keyIn(request: FastifyRequest): string | null {
  const sent = request.method === 'GET' ? request.query : request.body;
  const key = typeof sent === 'object' && sent !== null && 'request_key' in sent ? sent.request_key : null;
  return isKey(key) ? (MINTED.exec(key)?.[0] ?? key) : null;
}
