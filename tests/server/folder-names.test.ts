import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { copyProgram, linkPackages } from '../program.ts';

let folder: string;
let child: ChildProcess | undefined;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'clothroom-folder-'));
});
afterEach(() => {
  child?.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

// Each of these is written otherwise in an address than in a path.
describe.each(['sp ace é', 'No#7 100%41 wool?'])('a program in a folder named %j', (name) => {
  it('serves its pages, its files and its processes', async () => {
    const program = join(folder, name);
    mkdirSync(program);
    copyProgram(program);
    linkPackages(program);
    const origin = await serve(program, join(folder, `data ${name}`));
    const pages = ['/', '/shelf', '/garments', '/short', '/orders', '/dye-bench', '/cutting-table', '/setup'];
    for (const page of pages) expect((await fetch(origin + page)).status, page).toBe(200);
    const [asset = ''] = /\/assets\/[^"]+\.css/.exec(await (await fetch(origin)).text()) ?? [];
    expect(await (await fetch(origin + asset)).text()).toContain('font-family');
    expect(await quickPlan(origin)).toMatchObject({ result: { madeStrips: 4, stopped: '' } });
  });
});

/** Starts the program that lies in a folder, and gives its address. */
async function serve(program: string, data: string): Promise<string> {
  const serving = spawn(process.execPath, ['server/start.js', '--data', data, '--port', '0'], {
    cwd: program,
  });
  child = serving;
  let said = '';
  serving.stderr.on('data', (text) => {
    said += text;
  });
  return new Promise((resolve, reject) => {
    serving.stdout.on('data', (text) => {
      const address = /http:\/\/\S+/.exec(String(text));
      if (address) resolve(address[0]);
    });
    serving.once('exit', () => reject(new Error(said)));
  });
}

/** Worked out in a process, which is started by the address of its module. */
async function quickPlan(origin: string) {
  const answer = await fetch(`${origin}/cutting-table/quick`, {
    method: 'POST',
    headers: { accept: 'application/json', 'content-type': 'application/json', origin },
    body: JSON.stringify({
      unit: 'cm',
      pieces: [{ width: '150', length: '500' }],
      strips: [{ width: '30', length: '70', count: '4' }],
    }),
  });
  return answer.json();
}
