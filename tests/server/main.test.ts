import { once } from 'node:events';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { exportWorkroom } from '../../server/ledger/whole-workroom.ts';
import { addressOf as address, killPrograms, runProgram as run, startProgram as start } from '../program.ts';
import { folderWithBolt, putNamedPhoto } from './copies/opened.ts';
import { makeBolt, makeStock, openTestBook, putNewBook } from './support.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'clothroom-main-'));
});
afterEach(() => {
  killPrograms();
  rmSync(folder, { recursive: true, force: true });
});

describe('serve', () => {
  it('tells its address in one line, answers there, and closes when asked to', async () => {
    const program = start('serve', '--data', folder, '--port', '0');
    const page = await fetch(`${await address(program)}/setup`);
    expect(page.status).toBe(200);
    expect(await page.text()).not.toContain('Invented workroom');
    program.child.kill('SIGTERM');
    expect(await program.ended).toBe(0);
    expect(program.said.out.split('\n')).toHaveLength(2);
    expect(existsSync(join(folder, 'clothroom.db-wal'))).toBe(false);
  });

  it('refuses a book that another server has open, in one line', async () => {
    putNewBook(folder);
    const first = start('--data', folder, '--port', '0');
    await address(first);
    const second = start('--data', folder, '--port', '0');
    expect(await second.ended).toBe(1);
    expect(second.said.err).toMatch(
      /^clothroom: another Clothroom has the book in .* open; stop it first\n$/,
    );
    first.child.kill('SIGINT');
    expect(await first.ended).toBe(0);
  });

  it('says when its port is taken, and leaves nothing locked', async () => {
    putNewBook(folder);
    const first = start('--data', folder, '--port', '0');
    const { port } = new URL(await address(first));
    const other = join(folder, 'other');
    const second = start('--data', other, '--port', port);
    expect(await second.ended).toBe(1);
    expect(second.said.err).toBe('clothroom: the port is taken: choose another with --port, or 0 for any\n');
    const check = start('check', '--data', other);
    expect(await check.ended).toBe(0);
  });
});

describe('stopping', () => {
  beforeEach(() => putNewBook(folder));

  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)('closes the book at %s', async (signal) => {
    const program = start('--data', folder, '--port', '0');
    await address(program);
    program.child.kill(signal);
    expect(await program.ended).toBe(0);
    expect(existsSync(join(folder, 'clothroom.db-wal'))).toBe(false);
  });

  it('waits for nobody who sent half a request and fell silent', async () => {
    const program = start('--data', folder, '--port', '0');
    const { port } = new URL(await address(program));
    const socket = connect(Number(port), '127.0.0.1');
    socket.on('error', () => {});
    await once(socket, 'connect');
    socket.write('POST /setup HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 100\r\n\r\nname');
    await fetch(`http://127.0.0.1:${port}/setup`);
    program.child.kill('SIGTERM');
    expect(await program.ended).toBe(0);
    expect(existsSync(join(folder, 'clothroom.db-wal'))).toBe(false);
    socket.destroy();
  });

  it.each(['SIGTERM', 'SIGHUP', 'SIGKILL'] as const)('ends when npm is ended by %s', async (signal) => {
    const program = run('npm', ['start', '--silent', '--', '--data', folder, '--port', '0']);
    const at = await address(program);
    program.child.kill(signal);
    await program.ended;
    await vi.waitFor(() => expect(fetch(at)).rejects.toThrow(), { timeout: 40_000, interval: 100 });
    const closed = () => expect(existsSync(join(folder, 'clothroom.db-wal'))).toBe(false);
    await vi.waitFor(closed, { timeout: 20_000 });
  });
});

describe('the network', () => {
  beforeEach(() => putNewBook(folder));

  it('is served by --network once a keeper has a passphrase, which is set in the terminal while nothing is served', async () => {
    const none = start('--data', folder, '--port', '0', '--network');
    expect(await none.ended).toBe(1);
    expect(none.said.err).toMatch(/^clothroom: no keeper has a passphrase yet: .*\n$/);
    const short = start('passphrase', 'Maker', '--data', folder);
    short.child.stdin?.end('too short\n');
    expect(await short.ended).toBe(1);
    expect(short.said.err).toBe(
      'clothroom: Passphrase: use at least 15 characters, such as four words; this has 9.\n',
    );
    const set = start('passphrase', 'Maker', '--data', folder);
    set.child.stdin?.end('velvet canal onion drift\n');
    expect(await set.ended).toBe(0);
    const program = start('--data', folder, '--port', '0', '--network');
    // The line about the network follows, or why there is none on this machine.
    await vi.waitFor(() => expect(program.said.out + program.said.err).toMatch(/network/), {
      timeout: 20_000,
    });
    const [, at = ''] = /open at (http:\/\/127\S+)/.exec(program.said.out) ?? [];
    expect((await fetch(`${at}/orders`, { headers: { accept: 'application/json' } })).status).toBe(401);
    expect((await fetch(`${at}/ping`)).status).toBe(204);
    program.child.kill('SIGTERM');
    expect(await program.ended).toBe(0);
  });
});

describe('invite', () => {
  beforeEach(() => putNewBook(folder));

  it('says where Clothroom is not open, and that the network is off', async () => {
    const program = start('--data', folder, '--port', '0');
    const { port } = new URL(await address(program));
    const off = start('invite', 'Phone', '--port', port);
    expect(await off.ended).toBe(1);
    expect(off.said.err).toBe(
      'clothroom: the network is off: switch it on under Setup, Network, or start with --network\n',
    );
    program.child.kill('SIGTERM');
    await program.ended;
    const closed = start('invite', 'Phone', '--port', port);
    expect(await closed.ended).toBe(1);
    expect(closed.said.err).toBe(
      `clothroom: Clothroom is not open at http://127.0.0.1:${port}: start it, or name its port with --port\n`,
    );
  });
});

describe('demo', () => {
  it('serves the invented workroom with a banner, and the book agrees with itself', async () => {
    const program = start('demo', '--data', folder, '--port', '0');
    const page = await fetch(`${await address(program)}/`);
    expect(page.status).toBe(200);
    expect(await page.text()).toContain('Invented workroom');
    program.child.kill('SIGTERM');
    expect(await program.ended).toBe(0);
    const check = start('check', '--data', folder);
    expect(await check.ended).toBe(0);
    expect(check.said.out).toMatch(
      /^\d+ entries of \d+ pieces, \d+ holds, \d+ requests read: everything agrees\n$/,
    );
  });
});

describe('export and import', () => {
  it('carry the whole workroom into an empty book and back, letter by letter', async () => {
    const file = join(folder, 'all.json');
    const other = await openTestBook();
    other.write((tx) => makeBolt(tx, makeStock(tx).lotId, '10 m', 5000));
    const text = [...exportWorkroom(other.book)].join('');
    other.close();
    writeFileSync(file, text);
    const into = join(folder, 'new');
    const taken = start('import', file, '--data', into);
    expect(await taken.ended).toBe(0);
    expect(taken.said.out).toMatch(/^The workroom of .*all\.json is in .*\n$/);
    const out = start('export', '--data', into);
    expect(await out.ended).toBe(0);
    expect(out.said.out).toBe(text);
  });

  it('carry the photos along in a folder, and tell of one that is missing', async () => {
    const from = await folderWithBolt();
    const name = putNamedPhoto(from, 'photo');
    const to = mkdtempSync(join(tmpdir(), 'clothroom-export-'));
    const out = start('export', '--data', from, '--to', to);
    expect(await out.ended).toBe(0);
    expect(out.said.out).toBe(`The workroom is in ${join(to, 'workroom.json')}, with 1 photo\n`);
    const into = join(folder, 'new');
    const taken = start('import', join(to, 'workroom.json'), '--data', into);
    expect([await taken.ended, taken.said.err]).toEqual([0, '']);
    expect(readFileSync(join(into, 'photos', name), 'utf8')).toBe('photo');
    rmSync(join(from, 'photos', name));
    const check = start('check', '--data', from);
    expect(await check.ended).toBe(1);
    expect(check.said.err).toBe(`One photo is missing, first ${name}.\n`);
    for (const made of [from, to]) rmSync(made, { recursive: true });
  });

  it('say in one line what they do not take', async () => {
    const file = join(folder, 'all.json');
    const missing = start('import', file, '--data', folder);
    expect(await missing.ended).toBe(1);
    expect(missing.said.err).toMatch(/^clothroom: .*no such file.*\n$/);
    writeFileSync(file, '{}');
    const wrong = start('import', file, '--data', folder);
    expect(await wrong.ended).toBe(1);
    expect(wrong.said.err).toBe('clothroom: the file is no exported workroom\n');
    const none = start('export', '--data', join(folder, 'nowhere'));
    expect(await none.ended).toBe(1);
    expect(none.said.err).toMatch(/^clothroom: there is no book in .*\n$/);
  });
});

describe('the rest of the command line', () => {
  it('says in one line that a Node is too old, instead of dying of it', async () => {
    const older = "Object.defineProperty(process,'versions',{value:{...process.versions,node:'20.19.0'}})";
    const program = run(process.execPath, ['--import', `data:text/javascript,${older}`, 'server/start.js']);
    expect(await program.ended).toBe(1);
    expect(program.said).toEqual({
      out: '',
      err: 'clothroom: needs Node 22.18 or newer, and this is 20.19.0; "npm start" brings its own\n',
    });
  });

  it('checks only a book that is there', async () => {
    const program = start('check', '--data', join(folder, 'nowhere'));
    expect(await program.ended).toBe(1);
    expect(program.said.err).toMatch(/^clothroom: there is no book in .*\n$/);
    expect(existsSync(join(folder, 'nowhere'))).toBe(false);
  });

  it('gives status 2 and one line for what it does not understand', async () => {
    const program = start('sew');
    expect(await program.ended).toBe(2);
    expect(program.said.err).toBe('clothroom: there is no command sew; see --help\n');
  });

  it('helps and tells its version', async () => {
    const help = start('--help');
    expect(await help.ended).toBe(0);
    expect(help.said.out).toContain('Usage: clothroom [command] [options]');
    const version = start('--version');
    expect(await version.ended).toBe(0);
    expect(version.said.out).toMatch(/^\d+\.\d+\.\d+\n$/);
  });
});
