import { randomUUID } from 'node:crypto';

/** A key for one form as it is drawn: a second sending of the same form is then known as such. */
export function mintKey(): string {
  return randomUUID();
}
