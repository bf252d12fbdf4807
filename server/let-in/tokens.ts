import { createHash, randomBytes } from 'node:crypto';

/** A token of 256 bits for a browser to hold. */
export function mintToken(): string {
  return randomBytes(32).toString('base64url');
}

/** What the book keeps of a token or code: whoever reads the file cannot use it. */
export function hashOfToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

// Crockford's letters: no I, L, O, U, so that a code read aloud or off a screen is typed right.
const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const CODE_LETTERS = 26;

/** A code of 130 bits that a person can type, in groups: "7KQ4-…". */
export function mintCode(): string {
  const letters = [...randomBytes(CODE_LETTERS)].map((byte) => LETTERS[byte % LETTERS.length] ?? '');
  return letters.join('').replace(/(.{4})(?=.)/g, '$1-');
}

/** A code as it was minted, however it was typed; null where it can be none. */
export function readCode(typed: string): string | null {
  const plain = typed
    .toUpperCase()
    .replace(/[^0-9A-Z]/g, '')
    .replaceAll('O', '0')
    .replaceAll(/[IL]/g, '1');
  return plain.length === CODE_LETTERS ? plain : null;
}
