import { type ChildProcess, spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

export interface Child {
  readonly process: ChildProcess;
  /** Waits for the next line that the child prints; undefined once it has ended. */
  line(): Promise<string | undefined>;
  /** Ends it at once, as a power cut to the process would, and waits until it is gone. */
  kill(): Promise<void>;
  /** Every line that it printed and that nobody waited for, once it has ended. */
  rest(): Promise<string[]>;
}

/** Starts a script of the project in a process of its own. */
export function startChild(script: URL, args: readonly string[]): Child {
  const child = spawn(process.execPath, [fileURLToPath(script), ...args], {
    stdio: ['ignore', 'pipe', 'inherit'],
    cwd: fileURLToPath(new URL('..', import.meta.url)),
  });
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const ended = new Promise<void>((resolve) => child.once('close', () => resolve()));
  const line = async () => {
    const next = await lines.next();
    return next.done ? undefined : next.value;
  };
  return {
    process: child,
    line,
    async kill() {
      child.kill('SIGKILL');
      await ended;
    },
    async rest() {
      const rest: string[] = [];
      for (let next = await line(); next !== undefined; next = await line()) rest.push(next);
      return rest;
    },
  };
}
