import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { flushCompileCache } from 'node:module';
import { fileURLToPath } from 'node:url';

/** Why a question got no answer. */
export type Loss = 'late' | 'died' | 'stopped' | 'closed' | 'no room';

/** A question that its process did not answer. */
export class Unanswered extends Error {
  readonly why: Loss;

  constructor(why: Loss) {
    super(`The process gave no answer: ${why}.`);
    this.name = 'Unanswered';
    this.why = why;
  }
}

/** A process with a solver holds as much memory as all the rest, and is there again in a moment. */
const IDLE_MS = 20_000;

/** How often a process looks at what it holds. */
const LOOK_EVERY_MS = 50;

export interface ProcessLimits {
  /** what one answer may take */
  readonly mostMs: number;
  /** what the engine may hold in it; its own bound where it is left out */
  readonly mostMemoryMb?: number;
  /** what it may hold in all, libraries with memory of their own too; it ends itself beyond */
  readonly mostInAllMb?: number;
  /** ends the process after each answer, so that what a large question took is given back */
  readonly isSingleUse?: boolean;
  /** ends the process when it was asked nothing for so long; twenty seconds where it is left out */
  readonly idleMs?: number;
}

/** How one question is asked. */
interface Asking<Part> {
  /** for this answer instead of what the process usually has */
  readonly mostMs?: number;
  /** told each part on the way to the answer */
  readonly hear?: (part: Part) => void;
  /** ends the question, waiting or under way */
  readonly signal?: AbortSignal | undefined;
  /** goes before those that wait */
  readonly isFirst?: boolean;
}

interface AskedOnce<Question, Answer, Part> extends Asking<Part> {
  readonly id: number;
  readonly question: Question;
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: Error) => void;
}

type FromProcess<Answer, Part> =
  | { readonly id: number; readonly part: Part }
  | { readonly id: number; readonly answer: Answer }
  | { readonly id: number; readonly failed: string };

/**
 * Asks a module of ours that runs in a process of its own (see `answerQuestions`), one question after the other. The
 * process starts with the first question. One that takes too long, dies or is stopped is ended and replaced: its
 * question is lost, those that wait are not. A process and not a thread, since all that it held is given back with it.
 */
export class ProcessRunner<Question, Answer, Part = never> {
  readonly #module: URL;
  readonly #limits: ProcessLimits;
  readonly #waiting: AskedOnce<Question, Answer, Part>[] = [];
  #current: AskedOnce<Question, Answer, Part> | null = null;
  #process: ChildProcess | null = null;
  #timer: NodeJS.Timeout | undefined;
  #idle: NodeJS.Timeout | undefined;
  #lastId = 0;
  #isClosed = false;

  constructor(module: URL, limits: ProcessLimits) {
    this.#module = module;
    this.#limits = limits;
  }

  /** @throws {Unanswered} where no answer comes; an Error with the message of what went wrong in the process */
  ask(question: Question, asking: Asking<Part> = {}): Promise<Answer> {
    return new Promise((resolve, reject) => {
      if (this.#isClosed) return reject(new Unanswered('closed'));
      if (asking.signal?.aborted) return reject(new Unanswered('stopped'));
      this.#lastId += 1;
      const asked = { ...asking, id: this.#lastId, question, resolve, reject };
      asking.signal?.addEventListener('abort', () => this.#stop(asked), { once: true });
      if (asking.isFirst) this.#waiting.unshift(asked);
      else this.#waiting.push(asked);
      this.#next();
    });
  }

  /** Questions that wait or are under way. */
  get busyWith(): number {
    return this.#waiting.length + (this.#current ? 1 : 0);
  }

  /** The process at work, for those who must end it from outside. */
  get process(): ChildProcess | null {
    return this.#process;
  }

  /** Ends the process. What waits or is asked later is not answered. */
  async close(): Promise<void> {
    this.#isClosed = true;
    const lost = [...(this.#current ? [this.#current] : []), ...this.#waiting.splice(0)];
    this.#finish();
    for (const { reject } of lost) reject(new Unanswered('closed'));
    await this.#end();
  }

  #next(): void {
    if (this.#current || this.#isClosed) return;
    clearTimeout(this.#idle);
    const next = this.#waiting.shift();
    if (!next) {
      this.#rest();
      return;
    }
    this.#current = next;
    const { mostInAllMb = null } = this.#limits;
    try {
      this.#process ??= this.#start();
      // Where it is gone already, its end tells so.
      this.#process.send({ id: next.id, question: next.question, mostInAllMb }, () => undefined);
    } catch {
      // Called from a timer or a process's end, nobody else would catch it, and the whole program would end.
      this.#lose('no room');
      return;
    }
    this.#timer = setTimeout(() => this.#lose('late'), next.mostMs ?? this.#limits.mostMs);
  }

  #rest(): void {
    const { idleMs = IDLE_MS } = this.#limits;
    if (this.#process) this.#idle = setTimeout(() => void this.#end(), idleMs).unref();
  }

  #start(): ChildProcess {
    const { mostMemoryMb } = this.#limits;
    const started = fork(fileURLToPath(this.#module), [], {
      // What the program itself was started with is not for it.
      execArgv: mostMemoryMb === undefined ? [] : [`--max-old-space-size=${mostMemoryMb}`],
      serialization: 'advanced',
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
      windowsHide: true,
    });
    started.unref();
    started.channel?.unref();
    started.on('message', (told) => this.#hear(started, told as FromProcess<Answer, Part>));
    started.on('error', () => {
      // It never started.
      if (started === this.#process && started.pid === undefined) this.#lose('no room');
    });
    // All that it told was heard by then.
    started.on('close', () => {
      if (started === this.#process) this.#lose('died');
    });
    return started;
  }

  #hear(from: ChildProcess, told: FromProcess<Answer, Part>): void {
    const current = this.#current;
    if (from !== this.#process || told.id !== current?.id) return;
    if ('part' in told) {
      current.hear?.(told.part);
      return;
    }
    this.#finish();
    if ('answer' in told) current.resolve(told.answer);
    else current.reject(new Error(told.failed));
    if (this.#limits.isSingleUse) void this.#end().then(() => this.#next());
    else this.#next();
  }

  /** Gives up the question under way, and goes on with a new process. */
  #lose(why: Loss): void {
    const current = this.#current;
    this.#finish();
    current?.reject(new Unanswered(why));
    void this.#end().then(() => this.#next());
  }

  #stop(asked: AskedOnce<Question, Answer, Part>): void {
    const place = this.#waiting.indexOf(asked);
    if (asked === this.#current) this.#lose('stopped');
    else if (place >= 0) {
      this.#waiting.splice(place, 1);
      asked.reject(new Unanswered('stopped'));
    }
  }

  #finish(): void {
    clearTimeout(this.#timer);
    this.#current = null;
  }

  async #end(): Promise<void> {
    clearTimeout(this.#idle);
    const ending = this.#process;
    this.#process = null;
    if (ending) await endProcess(ending);
  }
}

/** Ends a process at once, whatever it is at; done once it is gone. */
export async function endProcess(ending: ChildProcess): Promise<void> {
  const isGone = ending.pid === undefined || ending.exitCode !== null || ending.signalCode !== null;
  if (isGone) return;
  const gone = once(ending, 'close');
  ending.ref();
  ending.kill('SIGKILL');
  await gone;
}

interface Asked<Question> {
  readonly id: number;
  readonly question: Question;
  readonly mostInAllMb: number | null;
}

/** Inside the process: answers what a `ProcessRunner` asks; what `work` throws is told by its message. */
export function answerQuestions<Question, Answer, Part = never>(
  work: (question: Question, tell: (part: Part) => void) => Answer | Promise<Answer>,
): void {
  const send = (told: FromProcess<Answer, Part>) => process.send?.(told);
  process.on('message', async ({ id, question, mostInAllMb }: Asked<Question>) => {
    const watch = mostInAllMb === null ? undefined : setInterval(endBeyond, LOOK_EVERY_MS, mostInAllMb);
    try {
      send({ id, answer: await work(question, (part) => send({ id, part })) });
    } catch (error) {
      send({ id, failed: error instanceof Error ? error.message : String(error) });
    } finally {
      clearInterval(watch);
      // It is killed when it is needed no more, and would leave nothing of what it compiled to the next.
      flushCompileCache();
    }
  });
  // Ctrl-C at a terminal is told to every process there; this one goes when whoever asks it ends it, or is gone itself.
  for (const signal of ['SIGINT', 'SIGHUP'] as const) process.on(signal, () => undefined);
}

function endBeyond(mostMb: number): void {
  if (process.memoryUsage.rss() > mostMb * 1024 * 1024) process.kill(process.pid, 'SIGKILL');
}
