import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeLeaf, makeRoot } from '../../server/network/certificate/make.ts';
import { putGateBook } from './gate-books.ts';
import { homeThatTrusts, noStore } from './trust.ts';
import {
  type Asked,
  browserOn,
  joinMachines,
  MACHINE_ADDRESS,
  noNetwork,
  partMachines,
  serveOnMachine,
  TABLET,
  TABLET_ADDRESS,
} from './two-machines.ts';

// A tablet that came to trust the program's root. Other devices keep their roots elsewhere, and are not tried.

const CERTIFIED = `https://${MACHINE_ADDRESS}:8748`;
const SOMEWHERE = 'bank.example';
const SWITCHES = [`--host-resolver-rules=MAP ${SOMEWHERE} ${TABLET_ADDRESS}`];

let folder: string;
let trusting: Asked;
let token: string;

/** Writes a certificate for a name down with its key; gives the files as `elsewhere` takes them. */
async function forge(name: string, root: Awaited<ReturnType<typeof makeRoot>>): Promise<[string, string]> {
  const { key, cert } = await makeLeaf(root, [name], new Date());
  const place = mkdtempSync(join(folder, 'forged-'));
  writeFileSync(join(place, 'key'), key);
  writeFileSync(join(place, 'cert'), cert);
  return [join(place, 'key'), join(place, 'cert')];
}

describe.skipIf(noNetwork !== '' || noStore !== '')('a tablet that trusts the program’s root', () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'clothroom-trusted-'));
    joinMachines();
    const book = await putGateBook(join(folder, 'book'), 8747, { ownCertificate: true });
    token = book.tokens['a keeper'];
    await serveOnMachine(['--data', book.folder, '--port', String(book.port), '--network']);
    trusting = browserOn(
      TABLET,
      SWITCHES,
      homeThatTrusts(folder, join(book.folder, 'certificate', 'root.crt')),
    );
  }, 120_000);
  afterAll(() => {
    partMachines();
    rmSync(folder, { recursive: true, force: true });
  });

  it('opens the book over https with no warning, and a keeper works there', async () => {
    await trusting('cookie', CERTIFIED, '__Host-clothroom-8747', token);
    const [status, url, text] = (await trusting('open', `${CERTIFIED}/orders`)) as [number, string, string];
    expect([status, url]).toEqual([200, `${CERTIFIED}/orders`]);
    expect(text).toContain('Orders');
    expect(await trusting('isSecure')).toBe(true);
    expect(await trusting('errors')).toEqual([]);
  });

  it('opens nothing else that this root signs, nor what another root signs for the book', async () => {
    const book = join(folder, 'book', 'certificate');
    const root = {
      cert: readFileSync(join(book, 'root.crt'), 'utf8'),
      key: readFileSync(join(book, 'root.key'), 'utf8'),
    };
    await trusting('elsewhere', TABLET_ADDRESS, '9443', ...(await forge(SOMEWHERE, root)));
    expect(await trusting('refused', `https://${SOMEWHERE}:9443`)).toBe('ERR_CERT_INVALID');
    await trusting(
      'elsewhere',
      TABLET_ADDRESS,
      '9444',
      ...(await forge(TABLET_ADDRESS, await makeRoot(new Date()))),
    );
    expect(await trusting('refused', `https://${TABLET_ADDRESS}:9444`)).toBe('ERR_CERT_AUTHORITY_INVALID');
  });

  it('is warned where it does not trust it', async () => {
    const stranger = browserOn(TABLET, SWITCHES, mkdtempSync(join(folder, 'home-')));
    expect(await stranger('refused', `${CERTIFIED}/orders`)).toBe('ERR_CERT_AUTHORITY_INVALID');
  });
});
