import { scryptSync } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { Hasher } from '../../../server/let-in/hashing.ts';

const cheap = { N: 2, r: 1, p: 1 };

describe('a secret', () => {
  it('is hashed at the real cost as scrypt does it, and fits itself alone', async () => {
    const hasher = new Hasher();
    for (const [kind, N, p] of [
      ['passphrase', 2 ** 17, 1],
      ['pin', 2 ** 14, 5],
    ] as const) {
      const stored = await hasher.hash(kind, 'velvet canal');
      const [name, ...cost] = stored.split(':');
      const [salt = '', hash] = cost.splice(3);
      expect([name, ...cost]).toEqual(['scrypt', String(N), '8', String(p)]);
      const options = { N, r: 8, p, maxmem: 2 ** 28 };
      expect(
        scryptSync('velvet canal', Buffer.from(salt, 'base64url'), 32, options).toString('base64url'),
      ).toBe(hash);
      expect(await hasher.fits('velvet canal', stored)).toBe(true);
      expect(await hasher.fits('velvet Canal', stored)).toBe(false);
    }
  });

  it('is read at the cost that it was hashed at, whatever the cost is now', async () => {
    const stored = await new Hasher({ pin: cheap, passphrase: cheap }).hash('pin', '40271');
    const dearer = new Hasher({ pin: { N: 4, r: 2, p: 2 }, passphrase: cheap });
    expect(await dearer.fits('40271', stored)).toBe(true);
    expect(await dearer.fits('40272', stored)).toBe(false);
  });

  it('is the same however a keyboard composes its letters', async () => {
    const hasher = new Hasher({ pin: cheap, passphrase: cheap });
    expect(await hasher.fits('cafe\u0301', await hasher.hash('passphrase', 'caf\u00e9'))).toBe(true);
  });

  it('is hashed one at a time: three wait, and a fifth is told to come again', async () => {
    const hasher = new Hasher({ pin: cheap, passphrase: cheap });
    const done = await Promise.allSettled(Array.from({ length: 5 }, () => hasher.hash('pin', '1')));
    expect(done.map(({ status }) => status)).toEqual([...Array(4).fill('fulfilled'), 'rejected']);
    expect(done[4]).toMatchObject({ reason: { kind: 'too-many', status: 429 } });
    await expect(hasher.hash('pin', '1')).resolves.toMatch(/^scrypt:/);
  });
});
