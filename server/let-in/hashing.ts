import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';
import { Refusal } from '../refusal.ts';

export type SecretKind = 'pin' | 'passphrase';

/** What one hash costs: 128 · N · r bytes of memory, p times over. */
export interface ScryptCost {
  readonly N: number;
  readonly r: number;
  readonly p: number;
}

/**
 * Sources: OWASP Password Storage Cheat Sheet, the table of equal settings for scrypt (N = 2^17, r = 8, p = 1 and
 * N = 2^14, r = 8, p = 5). A PIN takes the one that needs less memory.
 */
export const SCRYPT_COSTS: Readonly<Record<SecretKind, ScryptCost>> = {
  passphrase: { N: 2 ** 17, r: 8, p: 1 },
  pin: { N: 2 ** 14, r: 8, p: 5 },
};

const HASH_BYTES = 32;
const SALT_BYTES = 16;
/** Hashing fills the threads that files are read with too: one at a time, and so many wait. */
const MOST_WAITING = 3;

/** Hashes secrets, one at a time. Each hash tells what it cost, so that a later cost leaves earlier ones readable. */
export class Hasher {
  readonly #costs: Readonly<Record<SecretKind, ScryptCost>>;
  #waiting = 0;
  #last: Promise<unknown> = Promise.resolve();

  constructor(costs: Readonly<Record<SecretKind, ScryptCost>> = SCRYPT_COSTS) {
    this.#costs = costs;
  }

  /** @throws {Refusal} too-many where others wait already */
  async hash(kind: SecretKind, secret: string): Promise<string> {
    const { N, r, p } = this.#costs[kind];
    const salt = randomBytes(SALT_BYTES);
    const hash = await this.#inTurn(() => derive(secret, salt, { N, r, p }));
    return ['scrypt', N, r, p, salt.toString('base64url'), hash.toString('base64url')].join(':');
  }

  /** @throws {Refusal} too-many where others wait already */
  async fits(secret: string, stored: string): Promise<boolean> {
    const [, N, r, p, salt = '', hash = ''] = stored.split(':');
    const cost = { N: Number(N), r: Number(r), p: Number(p) };
    const kept = Buffer.from(hash, 'base64url');
    const found = await this.#inTurn(() => derive(secret, Buffer.from(salt, 'base64url'), cost));
    return timingSafeEqual(found, kept);
  }

  /** Takes as long as looking at a secret does, for where there is none. */
  async waste(kind: SecretKind): Promise<void> {
    await this.hash(kind, '');
  }

  async #inTurn<T>(work: () => Promise<T>): Promise<T> {
    if (this.#waiting > MOST_WAITING)
      throw new Refusal('too-many', 'Several people are signing in just now. Try again in a few seconds.');
    this.#waiting += 1;
    const before = this.#last;
    const mine = before.then(work, work);
    this.#last = mine.catch(() => undefined);
    try {
      return await mine;
    } finally {
      this.#waiting -= 1;
    }
  }
}

/** What is typed on one keyboard is the same text as on another (NIST SP 800-63B-4: Unicode is normalised). */
function derive(secret: string, salt: Buffer, cost: ScryptCost): Promise<Buffer> {
  const options: ScryptOptions = { ...cost, maxmem: 256 * cost.N * cost.r + 2 ** 20 };
  return new Promise((resolve, reject) => {
    scrypt(secret.normalize('NFKC'), salt, HASH_BYTES, options, (error, key) =>
      error ? reject(error) : resolve(key),
    );
  });
}
