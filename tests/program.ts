import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export interface Program {
  readonly child: ChildProcess;
  readonly said: { out: string; err: string };
  readonly ended: Promise<number | null>;
}

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const running = new Set<ChildProcess>();

/** Starts Clothroom as a person does at the terminal. */
export function startProgram(...args: string[]): Program {
  return runProgram(process.execPath, ['server/start.js', ...args]);
}

/** Starts any program in the folder of the project, or of a copy of it. */
export function runProgram(command: string, args: readonly string[], folder = ROOT): Program {
  // What the tests keep compiled is not a person's.
  const child = spawn(command, args, { cwd: folder, env: { ...process.env, NODE_COMPILE_CACHE: undefined } });
  running.add(child);
  const said = { out: '', err: '' };
  child.stdout.on('data', (text) => {
    said.out += text;
  });
  child.stderr.on('data', (text) => {
    said.err += text;
  });
  return { child, said, ended: new Promise((resolve) => child.once('close', resolve)) };
}

/** Copies the program as it was downloaded, without what is kept from earlier starts and without packages. */
export function copyProgram(folder: string): void {
  for (const part of ['package.json', 'server', 'src', 'views', 'migrations', 'seed-demo'])
    cpSync(join(ROOT, part), join(folder, part), { recursive: true });
}

/** Gives a copy of the program the packages that are installed here. */
export function linkPackages(folder: string): void {
  symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
}

/** The address that a serving program tells in its one line. */
export async function addressOf({ child, said }: Program): Promise<string> {
  for (;;) {
    const line = /^Clothroom is open at (\S+)\n$/.exec(said.out);
    if (line?.[1]) return line[1];
    if (child.exitCode !== null) throw new Error(said.err);
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}

export function killPrograms(): void {
  for (const child of running) child.kill('SIGKILL');
  running.clear();
}
