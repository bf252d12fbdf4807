import { createPrivateKey, X509Certificate } from 'node:crypto';
import { mkdirSync, readFileSync } from 'node:fs';
import { isIPv4 } from 'node:net';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { writeInPlace } from '../../database/make.ts';
import { type Certificate, isNameable, makeLeaf, makeRoot } from './make.ts';

const DAY_MS = 86_400_000;
/** A certificate that ends sooner is made anew. */
const RENEW_DAYS = 30;

/** The name that this computer announces on networks that ask for it, as most systems do by themselves. */
export function localName(): string {
  return `${hostname().split('.')[0]?.toLowerCase() || 'clothroom'}.local`;
}

/**
 * Keeps the root and the server's certificate in a folder of their own, which only the owner reads and which is part of
 * no copy and no export.
 */
export class CertificateStore {
  readonly #folder: string;
  readonly #clock: () => Date;

  constructor(folder: string, clock: () => Date) {
    this.#folder = folder;
    this.#clock = clock;
  }

  /** The root as it is, or null where none was made yet. */
  root(): string | null {
    return this.#read('root')?.cert ?? null;
  }

  /** The certificate for these numbers and names, made anew where it ends soon or leaves one of them out. */
  async certify(hosts: readonly string[]): Promise<Certificate> {
    const wanted = [...new Set([...hosts, localName()])].filter(isNameable);
    const known = this.#read('server');
    const root = this.#read('root');
    if (known && root && this.#serves(known, root, wanted)) return known;
    const now = this.#clock();
    const signedBy =
      root && !endsWithin(root.cert, now, RENEW_DAYS) ? root : this.#write('root', await makeRoot(now));
    return this.#write('server', await makeLeaf(signedBy, wanted, now));
  }

  #serves({ cert }: Certificate, root: Certificate, hosts: readonly string[]): boolean {
    const read = new X509Certificate(cert);
    const named = hosts.every((host) => (isIPv4(host) ? read.checkIP(host) : read.checkHost(host)));
    const signed = read.verify(new X509Certificate(root.cert).publicKey);
    return named && signed && !endsWithin(cert, this.#clock(), RENEW_DAYS);
  }

  #read(name: string): Certificate | null {
    try {
      const read = (kind: string) => readFileSync(join(this.#folder, `${name}.${kind}`), 'utf8');
      const [cert, key] = [read('crt'), read('key')];
      // Where a power cut fell between the two, they are not of one another.
      return new X509Certificate(cert).checkPrivateKey(createPrivateKey(key)) ? { cert, key } : null;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
      throw error;
    }
  }

  #write(name: string, made: Certificate): Certificate {
    mkdirSync(this.#folder, { recursive: true, mode: 0o700 });
    writeInPlace(join(this.#folder, `${name}.key`), made.key);
    writeInPlace(join(this.#folder, `${name}.crt`), made.cert);
    return made;
  }
}

function endsWithin(cert: string, now: Date, days: number): boolean {
  return Date.parse(new X509Certificate(cert).validTo) - now.getTime() < days * DAY_MS;
}
