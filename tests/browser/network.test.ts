import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  type Asked,
  atTerminal,
  browserOn,
  CABLE,
  ip,
  joinMachines,
  MACHINE,
  noNetwork,
  PASSPHRASE,
  partMachines,
  ROUTED_ADDRESS,
  routeBack,
  serveOnMachine,
  TABLET,
} from './two-machines.ts';

// The book and a tablet on the workroom's network, with a real browser on both.

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const BOOK = 'http://10.77.0.1:8737';
const AT_MACHINE = 'http://127.0.0.1:8737';

let folder: string;
let keeper: Asked;
let phone: Asked;

describe.skipIf(noNetwork !== '')('the workroom’s network', () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'clothroom-network-'));
    joinMachines();
    execFileSync(process.execPath, ['server/start.js', 'passphrase', 'Maker', '--data', folder], {
      cwd: ROOT,
      input: `${PASSPHRASE}\n`,
    });
    await serveOnMachine(['--data', folder, '--port', '8737', '--network']);
    keeper = browserOn(MACHINE);
    phone = browserOn(TABLET, ['--host-resolver-rules=MAP evil.example 10.77.0.1']);
  });
  afterAll(() => {
    partMachines();
    rmSync(folder, { recursive: true, force: true });
  });

  it('lets nobody in who was not let in, and tells them nothing', async () => {
    const [status, , text] = (await phone('open', `${BOOK}/shelf`)) as [number, string, string];
    expect(status).toBe(401);
    expect(text).toContain('This device was not let in.');
    expect(text).not.toContain('Shelf');
    // Another name that leads here, another host, an address that is no neighbour, and the control.
    expect(((await phone('open', 'http://evil.example:8737/ping')) as unknown[])[0]).toBe(421);
    expect(await phone('ask', `${BOOK}/ping`, 'localhost:8737')).toBe(421);
    expect(await phone('ask', `${BOOK}/ping`, '', ROUTED_ADDRESS)).toBe('ECONNRESET');
    expect(await phone('ask', `${BOOK}/ping`)).toBe(204);
  });

  it('lets a phone in by the code on the keeper’s screen, as a hand who finds no orders', async () => {
    await keeper('open', `${AT_MACHINE}/orders`);
    await keeper('open', `${AT_MACHINE}/who/keeper?back=/setup/people`);
    await keeper('fill', '#f-passphrase', PASSPHRASE);
    await keeper('press', 'main button.main');
    await keeper('fill', '#f-name', 'Ben');
    await keeper('choose', '#f-role', 'cut, hold and log (hand)');
    await keeper('press', 'main button.main');
    await keeper('open', `${AT_MACHINE}/setup/devices`);
    await keeper('fill', '#f-device_name', 'Ben’s phone');
    await keeper('choose', '#f-person_id', 'Ben’s own');
    await keeper('press', 'main button.main');
    const picture = join(folder, 'code.png');
    await keeper('picture', '.scan', picture);
    const link = execFileSync('zbarimg', ['-q', '--raw', picture], { encoding: 'utf8' }).trim();
    expect(link).toMatch(/^http:\/\/10\.77\.0\.1:8737\/join#[0-9A-Z]{26}$/);
    await phone('open', link);
    const [url, today] = (await phone('press', 'main button.main')) as [string, string];
    expect(url).toBe(`${BOOK}/`);
    expect(today).toMatch(/Ben\s+on Ben’s phone/);
    expect(today).not.toMatch(/\bOrders\b|\bSetup\b/);
    const [status, , orders] = (await phone('open', `${BOOK}/orders`)) as [number, string, string];
    expect([status, orders]).toEqual([403, expect.stringContaining('This is for keepers of the workroom.')]);
    // The code is used up.
    await phone('stranger');
    await phone('open', link);
    const [, again] = (await phone('press', 'main button.main')) as [string, string];
    expect(again).toContain('used already');
  });

  it('sends a phone away: its next request is a stranger’s', async () => {
    await keeper('open', `${AT_MACHINE}/setup/devices`);
    await keeper('fill', '#f-device_name', 'Tablet');
    await keeper('press', 'main button.main');
    await keeper('picture', '.scan', join(folder, 'tablet.png'));
    const link = execFileSync('zbarimg', ['-q', '--raw', join(folder, 'tablet.png')], {
      encoding: 'utf8',
    }).trim();
    await phone('stranger');
    await phone('open', link);
    expect(((await phone('press', 'main button.main')) as string[])[0]).toBe(`${BOOK}/who`);
    await keeper('open', `${AT_MACHINE}/setup/devices`);
    await keeper('press', 'tr:has-text("Tablet") button');
    expect(((await phone('open', `${BOOK}/who`)) as unknown[])[0]).toBe(401);
  });

  it('lets a phone in from the terminal of the machine, by the keeper’s passphrase', async () => {
    const invite = ['invite', 'Ben’s second phone', '--for', 'Ben'];
    expect(await atTerminal('velvet canal onion drip\n', ...invite)).toBe(
      'clothroom: That is not the passphrase of this person.\n',
    );
    expect(await atTerminal(`${PASSPHRASE}\n`, 'invite', 'Phone', '--for', 'Nobody')).toBe(
      'clothroom: there is no person of the name Nobody, only Ben, Maker\n',
    );
    expect(await atTerminal(`${PASSPHRASE}\n`, ...invite, '--as', 'Ben')).toBe(
      'clothroom: there is no keeper of the name Ben, only Maker\n',
    );
    const said = await atTerminal(`${PASSPHRASE}\n`, ...invite);
    const [, link = '', code = ''] =
      /^Ben’s second phone is let in by this link, once, for 5 minutes:\n(\S+)\nOr open \S+\/join there and type\n(\S+)\n$/.exec(
        said,
      ) ?? [];
    expect(link).toBe(`${BOOK}/join#${code.replaceAll('-', '')}`);
    await phone('stranger');
    await phone('open', link);
    const [, today] = (await phone('press', 'main button.main')) as [string, string];
    expect(today).toMatch(/Ben\s+on Ben’s second phone/);
  });

  it('serves its own certificate once that is switched on, and plain http leads to it only', async () => {
    await keeper('open', `${AT_MACHINE}/setup/network`);
    await keeper('press', '#f-own_certificate');
    await keeper('fill', '#f-passphrase', PASSPHRASE);
    await keeper('press', 'form[action="/setup/network/on"] button.main');
    const root = join(folder, 'certificate', 'root.crt');
    expect(await phone('trusting', 'https://10.77.0.1:8738/ping', root)).toBe(204);
    expect(await phone('trusting', 'https://10.77.0.1:8738/shelf', root)).toBe(401);
    const [, url, text] = (await phone('open', `${BOOK}/shelf`)) as [number, string, string];
    expect(url).toBe(`${BOOK}/certificate`);
    expect(text).toMatch(/([0-9A-F]{8} ){7}[0-9A-F]{8}/);
    await keeper('open', `${AT_MACHINE}/setup/network`);
    await keeper('press', '#f-own_certificate');
    await keeper('fill', '#f-passphrase', PASSPHRASE);
    await keeper('press', 'form[action="/setup/network/on"] button.main');
    expect(await phone('ask', 'http://10.77.0.1:8738/ping')).toBe('ECONNREFUSED');
    expect(await phone('ask', `${BOOK}/join`)).toBe(200);
  });

  it('loses nothing that was typed where the machine falls silent before a form is sent', async () => {
    const silence = () => ip('-n', MACHINE, 'addr', 'del', '10.77.0.1/24', 'dev', CABLE);
    const voice = async () => {
      ip('-n', MACHINE, 'addr', 'add', '10.77.0.1/24', 'dev', CABLE);
      routeBack();
      // Where the silence was long the book looks for its addresses again within a minute.
      await expect.poll(() => phone('ask', `${BOOK}/ping`), { timeout: 120_000 }).toBe(204);
    };
    await phone('stranger');
    await phone('open', `${BOOK}/join`);
    await phone('fill', '#f-code', 'half a code');
    silence();
    await phone('pressUntil', 'main button.main', 'Not sent: the workroom’s computer does not answer.');
    expect(await phone('value', '#f-code')).toBe('half a code');
    await voice();
    await phone('pressUntil', 'main button.main', 'This code was used already or is too old.');
  });

  it('logs no error in the console of a page that opens', async () => {
    await phone('errors');
    await phone('open', `${BOOK}/join`);
    expect(await phone('errors')).toEqual([]);
  });
});
