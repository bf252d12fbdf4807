import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The calls by which a program changes what is on a disk. */
export const DISK_CALLS = ['pwrite64', 'fdatasync', 'fsync', 'ftruncate', 'rename', 'unlink'] as const;
export type DiskCall = (typeof DISK_CALLS)[number];

/** Only Linux has `strace`; where everything must be tried, it must be there. */
export const canTrace =
  process.env.CLOTHROOM_TRIES_ALL === '1' ||
  spawnSync('strace', ['-o', '/dev/null', 'true'], { stdio: 'ignore' }).status === 0;

export interface Traced {
  /** null where it was killed */
  readonly status: number | null;
  readonly lines: readonly string[];
  readonly err: string;
  /** what strace wrote, a call a line */
  readonly log: string;
}

/** Runs a script of the project under strace, with these of its options. */
export async function trace(
  options: readonly string[],
  script: URL,
  args: readonly string[],
): Promise<Traced> {
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-trace-'));
  const log = join(folder, 'log');
  const program = [process.execPath, fileURLToPath(script), ...args];
  const child = spawn('strace', ['-q', '-o', log, ...options, ...program], {
    stdio: ['ignore', 'pipe', 'pipe'],
    cwd: fileURLToPath(new URL('../..', import.meta.url)),
  });
  let out = '';
  let err = '';
  child.stdout.on('data', (text) => {
    out += text;
  });
  child.stderr.on('data', (text) => {
    err += text;
  });
  const status = await new Promise<number | null>((resolve) => child.once('close', resolve));
  const written = readFileSync(log, 'latin1');
  rmSync(folder, { recursive: true, force: true });
  return { status, lines: out.split('\n').filter((line) => line !== ''), err, log: written };
}

/** How often a script makes each of the calls, in the thread that makes the most of them. */
export async function countCalls(script: URL, args: readonly string[]): Promise<Map<DiskCall, number>> {
  const { log, status, err } = await trace(
    ['-f', '--seccomp-bpf', '-e', `trace=${DISK_CALLS.join()}`],
    script,
    args,
  );
  if (status !== 0) throw new Error(`the script failed: ${err}`);
  const counts = new Map<string, number>();
  for (const [, thread = '', call = ''] of log.matchAll(/^(\d+) +(\w+)\(/gm))
    counts.set(`${call} ${thread}`, (counts.get(`${call} ${thread}`) ?? 0) + 1);
  const most = (call: DiskCall) =>
    Math.max(0, ...[...counts].filter(([name]) => name.startsWith(`${call} `)).map(([, count]) => count));
  return new Map(DISK_CALLS.map((call) => [call, most(call)]));
}

/** Runs a script in which the call of this number fails, or kills the program that makes it. */
export function spoil(call: DiskCall, at: number, how: string, script: URL, args: readonly string[]) {
  // A signal never comes where only the calls that are looked for stop.
  const stops = how.startsWith('signal') ? [] : ['--seccomp-bpf'];
  const options = ['-f', ...stops, '-e', `trace=${call}`, '-e', `inject=${call}:${how}:when=${at}`];
  return trace(options, script, args);
}
