import { createPrivateKey, X509Certificate } from 'node:crypto';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect, createServer } from 'node:tls';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  type Certificate,
  isNameable,
  makeLeaf,
  makeRoot,
} from '../../../server/network/certificate/make.ts';
import { sayFingerprint } from '../../../server/network/certificate/routes.ts';
import { CertificateStore, localName } from '../../../server/network/certificate/store.ts';
import { ADDRESS, KEEPER, openNetworkHouse } from './house.ts';

// What OpenSSL, which Node looks at certificates with, takes and refuses: RFC 5280, 4.2.1.9 and 4.2.1.10.

const NOW = new Date();
const DAY_MS = 86_400_000;

let folder: string;
let now: Date;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'clothroom-certificate-'));
  now = NOW;
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** Why a client that trusts the root refuses a server of this certificate; '' where it takes it. */
async function refusedFor(root: Certificate, leaf: Certificate, host: string): Promise<string> {
  const server = createServer({ key: leaf.key, cert: leaf.cert + root.cert }, (socket) => socket.end());
  server.on('tlsClientError', () => undefined);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  const name = /^[\d.]+$/.test(host) ? {} : { servername: host };
  const { checkServerIdentity } = await import('node:tls');
  try {
    return await new Promise((resolve) => {
      const socket = connect(
        {
          host: '127.0.0.1',
          port,
          ca: root.cert,
          ...name,
          checkServerIdentity: (_, cert) => checkServerIdentity(host, cert),
        },
        () => {
          resolve('');
          socket.end();
        },
      );
      socket.on('error', (error: NodeJS.ErrnoException) => resolve(error.message));
    });
  } finally {
    server.close();
  }
}

describe('the own certificate', () => {
  it('is taken for private numbers and names under .local, and for nothing else that its root signs', async () => {
    const root = await makeRoot(NOW);
    for (const host of ['192.168.1.20', '10.77.0.1', '172.31.0.9', '169.254.7.7', 'clothroom.local']) {
      expect(isNameable(host)).toBe(true);
      expect([host, await refusedFor(root, await makeLeaf(root, [host], NOW), host)]).toEqual([host, '']);
    }
    for (const host of [
      'example.com',
      'bank.example',
      '8.8.8.8',
      '172.32.0.1',
      '192.169.0.1',
      'local.example',
    ]) {
      expect(isNameable(host)).toBe(false);
      const refused = await refusedFor(root, await makeLeaf(root, [host], NOW), host);
      expect([host, refused]).toEqual([host, 'permitted subtree violation']);
    }
    const mine = await makeLeaf(root, ['192.168.1.20'], NOW);
    expect(await refusedFor(root, mine, '192.168.1.21')).toMatch(
      /IP: 192.168.1.21 is not in the cert's list/,
    );
    expect(await refusedFor(await makeRoot(NOW), mine, '192.168.1.20')).not.toBe('');
  });

  it('cannot sign another, and ends before a phone would refuse it', async () => {
    const root = await makeRoot(NOW);
    const leaf = new X509Certificate((await makeLeaf(root, [ADDRESS], NOW)).cert);
    const read = new X509Certificate(root.cert);
    expect([read.ca, leaf.ca]).toEqual([true, false]);
    expect(leaf.checkIssued(read)).toBe(true);
    const days = (Date.parse(leaf.validTo) - Date.parse(leaf.validFrom)) / DAY_MS;
    expect(days).toBeLessThanOrEqual(398);
    expect(leaf.keyUsage).toEqual(['1.3.6.1.5.5.7.3.1']);
  });

  it('is kept where only the owner reads it, and made anew for a new address and 30 days before it ends', async () => {
    const store = new CertificateStore(join(folder, 'certificate'), () => now);
    expect(store.root()).toBeNull();
    const first = await store.certify([ADDRESS]);
    expect(await store.certify([ADDRESS])).toEqual(first);
    for (const file of ['root.key', 'root.crt', 'server.key', 'server.crt'])
      expect(statSync(join(folder, 'certificate', file)).mode & 0o777).toBe(0o600);
    expect(new X509Certificate(first.cert).subjectAltName).toBe(`IP Address:${ADDRESS}, DNS:${localName()}`);
    const moved = await store.certify([ADDRESS, '192.168.1.31', 'example.com']);
    expect(new X509Certificate(moved.cert).subjectAltName).toContain('192.168.1.31');
    expect(new X509Certificate(moved.cert).subjectAltName).not.toContain('example.com');
    const root = store.root();
    now = new Date(NOW.getTime() + 366 * DAY_MS);
    expect(await store.certify([ADDRESS])).toEqual(moved);
    now = new Date(NOW.getTime() + 368 * DAY_MS);
    expect(await store.certify([ADDRESS])).not.toEqual(moved);
    expect(store.root()).toBe(root);
  });

  it('is made anew where a power cut left the key of another beside it', async () => {
    const store = new CertificateStore(join(folder, 'certificate'), () => now);
    const { cert } = await store.certify([ADDRESS]);
    const [root, server] = ['root', 'server'].map((name) => join(folder, 'certificate', `${name}.key`));
    copyFileSync(root ?? '', server ?? '');
    const made = await store.certify([ADDRESS]);
    expect(made.cert).not.toBe(cert);
    expect(new X509Certificate(made.cert).checkPrivateKey(createPrivateKey(made.key))).toBe(true);
  });

  it('is shown to whoever comes, with the letters to compare, and its key to nobody', async () => {
    const store = new CertificateStore(join(folder, 'certificate'), () => now);
    await store.certify([ADDRESS]);
    const house = await openNetworkHouse({ certificates: store });
    const page = await house.ask({ path: '/certificate' });
    expect(page.json()).toEqual({
      fingerprint: sayFingerprint(store.root() ?? ''),
      origin: `https://${ADDRESS}:1`,
      isSecure: false,
    });
    expect(page.json().fingerprint).toMatch(/^([0-9A-F]{8} ){7}[0-9A-F]{8}$/);
    const download = await house.ask({ path: '/certificate/root.crt' });
    expect(download.headers['content-type']).toBe('application/x-x509-ca-cert');
    expect(new X509Certificate(download.rawPayload).toString()).toBe(
      new X509Certificate(store.root() ?? '').toString(),
    );
    const key = readFileSync(join(folder, 'certificate', 'root.key'), 'utf8').split('\n')[1] ?? 'none';
    expect(house.book.connection.serialize().toString('latin1')).not.toContain(key);
    // Over it a keeper signs in on a tablet.
    const { token } = house.device('Tablet');
    const fields = { person_id: String(KEEPER.id), passphrase: KEEPER.passphrase };
    const signed = await house.ask({ method: 'POST', path: '/who/keeper', way: 'tls', token, fields });
    const [cookie] = signed.cookies;
    expect(cookie).toMatchObject({
      name: '__Host-clothroom-0',
      secure: true,
      httpOnly: true,
      sameSite: 'Lax',
      path: '/',
    });
    expect((await house.ask({ path: '/orders', way: 'tls', token: house.tokenIn(signed) })).statusCode).toBe(
      200,
    );
    expect(
      (await house.ask({ path: '/setup/people/1/passphrase', way: 'tls', token: house.tokenIn(signed) }))
        .statusCode,
    ).toBe(403);
    await house.shut();
  });

  it('is used for addresses that it can name only', async () => {
    const house = await openNetworkHouse({ isOn: false });
    const fields = {
      address: 'http://workroom.lan:8737',
      wifi_name: '',
      own_certificate: 'yes',
      passphrase: KEEPER.passphrase,
    };
    const answer = await house.ask({ method: 'POST', path: '/setup/network/on', way: 'machine', fields });
    expect([answer.statusCode, answer.json().error.problems[0].field]).toEqual([422, 'address']);
    await house.shut();
  });
});
