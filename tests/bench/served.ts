import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { Agent, request } from 'node:http';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const USAGE = fileURLToPath(new URL('usage.child.js', import.meta.url));

export interface Usage {
  /** of the thread that answers, milliseconds */
  readonly threadMs: number;
  readonly processMs: number;
  readonly residentMb: number;
  /** the longest turn of its event loop since it is watched, milliseconds of the thread */
  readonly longestMs: number;
}

export interface Measured {
  readonly runs: number;
  /** of the server's thread, a request: the median of rounds, so that a round in which others took the machine counts for little */
  readonly cpuMs: number;
  readonly medianMs: number;
  readonly p99Ms: number;
  readonly bytes: number;
  /** the longest turn of the event loop, by the processor: so long nobody else is answered */
  readonly longestMs: number;
}

const ROUNDS = 5;

/** Of the times of some runs, and of the processor time a run in each round of them, in milliseconds. */
export function measuredOf(timesMs: readonly number[], cpuMs: readonly number[]): Measured {
  const at = (of: readonly number[], share: number) =>
    of.toSorted((a, b) => a - b)[Math.min(of.length - 1, Math.floor(of.length * share))] ?? 0;
  const [medianMs, p99Ms] = [at(timesMs, 0.5), at(timesMs, 0.99)];
  return { runs: timesMs.length, cpuMs: at(cpuMs, 0.5), medianMs, p99Ms, bytes: 0, longestMs: 0 };
}

export interface Reply {
  readonly status: number;
  readonly location: string;
  readonly text: string;
}

/** A server in a process of its own, and what it uses. */
export class Served {
  readonly origin: string;
  readonly #child: ChildProcess;
  readonly #agent = new Agent({ keepAlive: true, maxSockets: 1 });
  #keys = 0;

  private constructor(child: ChildProcess, origin: string) {
    this.#child = child;
    this.origin = origin;
  }

  /** Starts a script of the project; it tells its address in a line. */
  static async start(...args: string[]): Promise<Served> {
    const child = spawn(process.execPath, ['--import', USAGE, ...args], {
      cwd: ROOT,
      stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
    });
    let said = '';
    for await (const part of child.stdout ?? []) {
      said += part;
      const origin = /http:\/\/\S+/.exec(said)?.[0];
      if (origin) return new Served(child, origin);
    }
    throw new Error(`${args[0]} told no address: ${said}`);
  }

  async stop(): Promise<void> {
    this.#agent.destroy();
    const ended = once(this.#child, 'exit');
    this.#child.kill('SIGTERM');
    await ended;
  }

  usage(): Promise<Usage> {
    return this.#tell('usage');
  }

  /** The longest turn of the server's event loop while `work` is done. */
  async longestTurnMs(work: () => Promise<unknown>): Promise<number> {
    await this.#tell('watch');
    await work();
    return (await this.#tell('watched')).longestMs;
  }

  async #tell(asked: 'usage' | 'watch' | 'watched'): Promise<Usage> {
    const told = once(this.#child, 'message');
    this.#child.send(asked);
    const [usage] = await told;
    return usage as Usage;
  }

  /** Waits until the server does nothing by itself any more, or the time is over. */
  async settle(mostMs: number): Promise<void> {
    const end = performance.now() + mostMs;
    for (let calm = 0; calm < 2 && performance.now() < end; ) {
      const before = await this.usage();
      await new Promise((resolve) => setTimeout(resolve, 400));
      const after = await this.usage();
      calm = after.processMs - before.processMs < 20 ? calm + 1 : 0;
    }
  }

  get(path: string, accept = 'text/html'): Promise<Reply> {
    return this.#send('GET', path, accept);
  }

  /** Sends a form as a browser does, under a key of its own. Gives the key. */
  async post(path: string, fields: Readonly<Record<string, string>>): Promise<string> {
    this.#keys += 1;
    const key = `bench-${process.pid}-${performance.now().toFixed(0)}-${this.#keys}`;
    const body = new URLSearchParams({ ...fields, request_key: key }).toString();
    const { status, location, text } = await this.#send('POST', path, 'text/html', body);
    if (status === 303 && !location.startsWith('/forms/')) return key;
    const page = status === 303 ? (await this.get(location)).text : text;
    const said = page.replace(/[\s\S]*?<main/, '').replace(/<[^>]*>|\s+/g, ' ');
    throw new Error(`${path} answered ${status}: ${said.slice(0, 1500)}`);
  }

  /** Asks for one thing again and again, until it was `runs` times or took `mostMs`, but three times a round at least. */
  async measure(
    ask: (run: number) => Promise<unknown>,
    { runs, mostMs, warm = 2 }: { runs: number; mostMs: number; warm?: number },
  ): Promise<Measured> {
    const times: number[] = [];
    const rounds: number[] = [];
    let bytes = 0;
    let run = 0;
    for (; run < warm; run += 1) await ask(run);
    const end = performance.now() + mostMs;
    while (times.length < runs && (rounds.length === 0 || performance.now() < end)) {
      const before = await this.usage();
      const first = times.length;
      const most = Math.max(3, Math.ceil(runs / ROUNDS));
      for (
        let inRound = 0;
        inRound < most && (inRound < 3 || performance.now() < end);
        inRound += 1, run += 1
      ) {
        const start = performance.now();
        const reply = await ask(run);
        times.push(performance.now() - start);
        if (typeof reply === 'object' && reply !== null && 'text' in reply) bytes = String(reply.text).length;
      }
      const { threadMs } = await this.usage();
      rounds.push((threadMs - before.threadMs) / (times.length - first));
    }
    const longestMs = await this.longestTurnMs(async () => {
      for (let again = 0; again < 3; again += 1, run += 1) await ask(run);
    });
    return { ...measuredOf(times, rounds), bytes, longestMs };
  }

  #send(method: string, path: string, accept: string, body = ''): Promise<Reply> {
    const { host } = new URL(this.origin);
    const headers = {
      host,
      accept,
      origin: this.origin,
      ...(body === '' ? {} : { 'content-type': 'application/x-www-form-urlencoded' }),
      'content-length': Buffer.byteLength(body),
    };
    return new Promise((resolve, reject) => {
      const sent = request(`${this.origin}${path}`, { method, headers, agent: this.#agent }, (answer) => {
        answer.setEncoding('utf8');
        let text = '';
        answer.on('data', (part) => {
          text += part;
        });
        answer.on('end', () =>
          resolve({ status: answer.statusCode ?? 0, location: answer.headers.location ?? '', text }),
        );
      });
      sent.on('error', reject);
      sent.end(body);
    });
  }
}
