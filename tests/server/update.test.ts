import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { addressOf, copyProgram, killPrograms, linkPackages, type Program, runProgram } from '../program.ts';

// The steps of the README: stop, the new folder beside the former one, check, start; and the way back.

let place: string;
let data: string;
beforeEach(() => {
  place = mkdtempSync(join(tmpdir(), 'clothroom-update-'));
  data = join(place, 'data');
});
afterEach(() => {
  killPrograms();
  rmSync(place, { recursive: true, force: true });
});

/** A folder with the program, as it is unpacked. */
function unpack(name: string): string {
  const folder = join(place, name);
  copyProgram(folder);
  linkPackages(folder);
  return folder;
}

function run(folder: string, ...args: string[]): Program {
  return runProgram(process.execPath, ['server/start.js', ...args, '--data', data], folder);
}

async function places(folder: string, add?: string): Promise<string[]> {
  const program = run(folder, 'serve', '--port', '0');
  const origin = await addressOf(program);
  const headers = { accept: 'application/json', 'content-type': 'application/json', origin };
  if (add !== undefined) {
    const body = JSON.stringify({ request_key: `update-key-of-${add.length}-${add.at(-1)}`, name: add });
    const answer = await fetch(`${origin}/shelf/places`, { method: 'POST', headers, body });
    expect(answer.status).toBe(200);
  }
  const text = await (await fetch(`${origin}/shelf/places`, { headers })).text();
  program.child.kill('SIGTERM');
  expect(await program.ended).toBe(0);
  return ['Rack A', 'Rack B'].filter((name) => text.includes(name));
}

it('a book goes over to a newer program by the steps of the README, and back again', {
  timeout: 180_000,
}, async () => {
  const [former, newer] = [unpack('clothroom-1'), unpack('clothroom-2')];
  const step = readdirSync(join(newer, 'migrations')).length + 1;
  const file = `${String(step).padStart(3, '0')}-later.sql`;
  writeFileSync(join(newer, 'migrations', file), 'CREATE INDEX piece_by_kind_later ON piece (kind);\n');
  expect(await places(former, 'Rack A')).toEqual(['Rack A']);

  const check = run(newer, 'check');
  expect([await check.ended, check.said.err]).toEqual([0, '']);
  expect(await places(newer, 'Rack B')).toEqual(['Rack A', 'Rack B']);
  const [copy = ''] = readdirSync(data).filter((name) => name.startsWith('before-version-'));
  expect(copy).toMatch(new RegExp(`^before-version-${step}-`));

  // The former program leaves the newer book alone, and takes the copy that was made before.
  const refused = run(former, 'serve', '--port', '0');
  expect(await refused.ended).toBe(1);
  expect(refused.said.err).toMatch(/was made by a newer Clothroom/);
  const restored = run(former, 'restore', join(data, copy));
  expect([await restored.ended, restored.said.err]).toEqual([0, '']);
  expect(await places(former)).toEqual(['Rack A']);
});
