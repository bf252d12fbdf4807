import { type ChildProcess, spawn } from 'node:child_process';
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

/** Starts any program in the folder of the project. */
export function runProgram(command: string, args: readonly string[]): Program {
  const child = spawn(command, args, { cwd: ROOT });
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
