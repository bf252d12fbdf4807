import { randomUUID } from 'node:crypto';
import type { FastifyRequest } from 'fastify';

/** A key for one form as it is drawn: a second sending of the same form is then known as such. */
export function mintKey(): string {
  return randomUUID();
}

export function isKey(key: unknown): key is string {
  return typeof key === 'string' && /^[A-Za-z0-9_-]{8,80}$/.test(key);
}

const MINTED = /^(w\d+-\d+-[0-9a-f]{6}_)?[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}(?=-)/;

/** Whose work the form of a bench is: a person's, on one device, in one book. */
export interface KeyOwner {
  readonly personId: number;
  readonly deviceId: number;
  /** of the book */
  readonly mark: string;
}

const OWNED = /^w(\d{1,9})-(\d{1,9})-([0-9a-f]{6})_/;

/** What the keys of somebody's bench work begin with: a device that keeps it sends it as nobody else's. */
export function keyPrefix({ personId, deviceId, mark }: KeyOwner): string {
  return `w${personId}-${deviceId}-${mark}_`;
}

/** Whose work a key is; null where it is anybody's. */
export function ownerOfKey(key: string): KeyOwner | null {
  const [, person, device, mark] = OWNED.exec(key) ?? [];
  if (mark === undefined) return null;
  return { personId: Number(person), deviceId: Number(device), mark };
}

/**
 * The key of the page that a request comes from, in its form or in its address; null where it has none. Where a page
 * has several forms, each adds a word of its own to the key of the page.
 */
export function keyIn(request: FastifyRequest): string | null {
  const sent = request.method === 'GET' ? request.query : request.body;
  const key = typeof sent === 'object' && sent !== null && 'request_key' in sent ? sent.request_key : null;
  return isKey(key) ? (MINTED.exec(key)?.[0] ?? key) : null;
}
