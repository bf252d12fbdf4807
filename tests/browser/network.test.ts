import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface, type Interface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

// The workroom's network as it is: two network namespaces joined by a virtual cable, one the machine of the book and one
// a tablet, with a real browser on both. Making them needs Linux, root and iproute2.

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const MACHINE = `clothroom-srv-${process.pid}`;
const TABLET = `clothroom-tab-${process.pid}`;
const BOOK = 'http://10.77.0.1:8737';
const AT_MACHINE = 'http://127.0.0.1:8737';
const PASSPHRASE = 'velvet canal onion drift';

function ip(...args: string[]): void {
  execFileSync('ip', args, { stdio: 'pipe' });
}

/** Why the network cannot be made here; '' where it can. */
function whyNot(): string {
  const made = spawnSync('ip', ['netns', 'add', MACHINE], { encoding: 'utf8' });
  if (made.status !== 0) return made.error?.message ?? made.stderr.trim();
  return '';
}

const reason = whyNot();
// Where everything is tried, nothing is passed over.
if (reason !== '' && process.env.CLOTHROOM_TRIES_ALL) throw new Error(`no network namespaces: ${reason}`);
if (reason !== '')
  process.stdout.write(`The workroom's network is not tried: no namespaces can be made (${reason}).\n`);

/** Carries out a step in the browser there and gives what it says. */
type Asked = (...step: string[]) => Promise<unknown>;

const children: ChildProcess[] = [];

function inNamespace(space: string, ...command: string[]): ChildProcess {
  const env = { ...process.env, NODE_COMPILE_CACHE: undefined };
  const child = spawn('ip', ['netns', 'exec', space, process.execPath, ...command], { cwd: ROOT, env });
  children.push(child);
  return child;
}

function browserIn(space: string): Asked {
  const child = inNamespace(space, 'tests/browser/namespace.child.ts');
  const lines: Interface = createInterface({ input: child.stdout as NodeJS.ReadableStream });
  const answers = lines[Symbol.asyncIterator]();
  let told = '';
  child.stderr?.on('data', (text) => {
    told += text;
  });
  return async (...step) => {
    child.stdin?.write(`${JSON.stringify(step)}\n`);
    const { value, done } = await answers.next();
    if (done) throw new Error(told);
    const { said, failed } = JSON.parse(value) as { said: unknown; failed?: string };
    if (failed) throw new Error(`${step.join(' ')}: ${failed}`);
    return said;
  };
}

let folder: string;
let keeper: Asked;
let phone: Asked;

/** Whether the program said where it is open on the network. */
async function openOnNetwork(child: ChildProcess): Promise<void> {
  let said = '';
  for await (const chunk of child.stdout as NodeJS.ReadableStream) {
    said += String(chunk);
    if (said.includes(`On the network it is open at ${BOOK}\n`)) return;
  }
  throw new Error(said);
}

describe.skipIf(reason !== '')('the workroom’s network', () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'clothroom-network-'));
    ip('netns', 'add', TABLET);
    const [ours, theirs] = [`crs${process.pid}`, `crt${process.pid}`];
    ip('link', 'add', ours, 'type', 'veth', 'peer', 'name', theirs);
    for (const [space, device, address] of [
      [MACHINE, ours, '10.77.0.1/24'],
      [TABLET, theirs, '10.77.0.2/24'],
    ] as const) {
      ip('link', 'set', 'dev', device, 'netns', space);
      ip('-n', space, 'addr', 'add', address, 'dev', device);
      ip('-n', space, 'link', 'set', 'dev', device, 'up');
      ip('-n', space, 'link', 'set', 'dev', 'lo', 'up');
    }
    // A machine behind the tablet: reachable, and no neighbour.
    ip('-n', TABLET, 'addr', 'add', '10.99.0.2/32', 'dev', 'lo');
    ip('-n', MACHINE, 'route', 'add', '10.99.0.2/32', 'via', '10.77.0.2');
    execFileSync(process.execPath, ['server/start.js', 'passphrase', 'Maker', '--data', folder], {
      cwd: ROOT,
      input: `${PASSPHRASE}\n`,
    });
    const program = inNamespace(MACHINE, 'server/start.js', '--data', folder, '--port', '8737', '--network');
    await openOnNetwork(program);
    keeper = browserIn(MACHINE);
    phone = browserIn(TABLET);
  });
  afterAll(() => {
    for (const child of children) child.kill('SIGKILL');
    for (const space of [MACHINE, TABLET]) spawnSync('ip', ['netns', 'del', space]);
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
    expect(await phone('ask', `${BOOK}/ping`, '', '10.99.0.2')).toBe('ECONNRESET');
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
    const cable = `crs${process.pid}`;
    const silence = () => ip('-n', MACHINE, 'addr', 'del', '10.77.0.1/24', 'dev', cable);
    const voice = () => {
      ip('-n', MACHINE, 'addr', 'add', '10.77.0.1/24', 'dev', cable);
      ip('-n', MACHINE, 'route', 'replace', '10.99.0.2/32', 'via', '10.77.0.2');
    };
    await phone('stranger');
    await phone('open', `${BOOK}/join`);
    await phone('fill', '#f-code', 'half a code');
    silence();
    await phone('pressUntil', 'main button.main', 'Not sent: the workroom’s computer does not answer.');
    expect(await phone('value', '#f-code')).toBe('half a code');
    voice();
    await phone('pressUntil', 'main button.main', 'This code was used already or is too old.');
  });

  it('logs no error in the console of a page that opens', async () => {
    await phone('errors');
    await phone('open', `${BOOK}/join`);
    expect(await phone('errors')).toEqual([]);
  });
});
