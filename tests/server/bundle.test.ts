import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { copyProgram, killPrograms, linkPackages, runProgram } from '../program.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

const SOUND = 'const text = readFileSync(new URL(';
const FAULT = `if (process.argv.length > 0) throw new TypeError('torn');\n  ${SOUND}`;

let program: string;
beforeAll(() => {
  program = mkdtempSync(join(tmpdir(), 'clothroom-bundle-'));
  copyProgram(program);
  linkPackages(program);
});
afterEach(killPrograms);
afterAll(() => rmSync(program, { recursive: true, force: true }));

// Making the bundle takes the time: each of these goes on from what the one before left.
describe('a start', () => {
  it('makes one file of the program, and the next start runs that', async () => {
    expect(await run('--version')).toEqual({ status: 0, out: expect.stringMatching(/^\d/), err: '' });
    const made = statSync(join(program, '.cache/program.js')).mtimeMs;
    expect(readdirSync(join(program, '.cache')).sort()).toEqual([
      'compiled',
      'program.js',
      'program.js.map',
      'program.key',
    ]);
    // Said by the bundle alone.
    edit('.cache/program.js', 'Usage: clothroom', 'From the bundle: clothroom');
    const bundled = statSync(join(program, '.cache/program.js')).mtimeMs;
    expect((await run('--help')).out).toContain('From the bundle: clothroom');
    expect(bundled).toBeGreaterThan(made);
    expect(statSync(join(program, '.cache/program.js')).mtimeMs).toBe(bundled);
  });

  it('runs the sources as they are, however short ago they were changed', async () => {
    edit('server/command-line.ts', 'Usage: clothroom', 'Use: clothroom');
    expect((await run('--help')).out).toContain('Use: clothroom');
    edit('server/command-line.ts', 'Use: clothroom', 'How: clothroom');
    expect((await run('--help')).out).toContain('How: clothroom');
  });

  it('tells where in the sources something failed', async () => {
    edit('server/main.ts', SOUND, FAULT);
    const lines = readFileSync(join(program, 'server/main.ts'), 'utf8').split('\n');
    const line = lines.findIndex((each) => each.includes("TypeError('torn')")) + 1;
    const failed = await run('--version');
    expect(failed.status).toBe(1);
    expect(failed.err.split('\n').slice(0, 2)).toEqual([
      'clothroom: TypeError: torn',
      expect.stringMatching(
        new RegExp(`^ {4}at readVersion \\(file:///\\S+/server/main\\.ts:${line}:\\d+\\)$`),
      ),
    ]);
    expect(failed.err).toMatch(/at (async )?run \(file:\S+\/server\/main\.ts:\d+:\d+\)/);
  });

  it('runs the sources where nothing can be kept, and says nothing of it', async () => {
    rmSync(join(program, '.cache'), { recursive: true });
    writeFileSync(join(program, '.cache'), 'in the way');
    edit('server/main.ts', FAULT, SOUND);
    expect(await run('--version')).toEqual({ status: 0, out: expect.stringMatching(/^\d/), err: '' });
  });
});

describe('with the packages of the program alone', () => {
  it('the program starts, and says where one that only makes it faster is missing', async () => {
    for (const kept of ['.cache', 'node_modules']) rmSync(join(program, kept), { recursive: true });
    const missing = new Set(['rolldown']);
    for (const path of packagesToRun()) {
      const name = path.replace('node_modules/', '');
      if (missing.has(name)) continue;
      mkdirSync(join(program, dirname(path)), { recursive: true });
      symlinkSync(join(ROOT, path), join(program, path));
    }
    const started = await run('check', '--data', join(program, 'nowhere'));
    expect(started.status).toBe(1);
    const [slow, none] = started.err.trim().split('\n');
    expect(slow).toMatch(
      /^clothroom: the program could not be put into one file and starts slower: Error.*'rolldown'/,
    );
    expect(none).toMatch(/^clothroom: there is no book in /);
  });
});

/** Those of the lock file that are not for tests, by their paths. */
function packagesToRun(): string[] {
  const lock = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, { dev?: boolean; optional?: boolean }>;
  };
  const paths = Object.entries(lock.packages)
    .filter(([path, { dev, optional }]) => /^node_modules\/(@[^/]+\/)?[^/]+$/.test(path) && !dev && !optional)
    .map(([path]) => path);
  expect(paths).toEqual(expect.arrayContaining(['node_modules/fastify', 'node_modules/rolldown']));
  return paths;
}

function edit(file: string, from: string, to: string): void {
  const path = join(program, file);
  const text = readFileSync(path, 'utf8');
  expect(text).toContain(from);
  writeFileSync(path, text.replace(from, to));
}

async function run(...args: string[]): Promise<{ status: number | null; out: string; err: string }> {
  const { said, ended } = runProgram(process.execPath, ['server/start.js', ...args], program);
  return { status: await ended, ...said };
}
