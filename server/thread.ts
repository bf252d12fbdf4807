import { parentPort, Worker } from 'node:worker_threads';

/** Why a question got no answer. */
export type Loss = 'late' | 'died' | 'stopped' | 'closed' | 'no room';

/** A question that its thread did not answer. */
export class Unanswered extends Error {
  readonly why: Loss;

  constructor(why: Loss) {
    super(`The thread gave no answer: ${why}.`);
    this.name = 'Unanswered';
    this.why = why;
  }
}

/** A thread with a solver holds as much memory as all the rest, and is there again in a moment. */
const IDLE_MS = 20_000;

export interface ThreadLimits {
  /** what one answer may take */
  readonly mostMs: number;
  /** what the thread may hold; the engine's own bound where it is left out */
  readonly mostMemoryMb?: number;
  /** ends the thread after each answer, so that what a large question took is given back */
  readonly isSingleUse?: boolean;
  /** ends the thread when it was asked nothing for so long; twenty seconds where it is left out */
  readonly idleMs?: number;
}

/** How one question is asked. */
interface Asking<Part> {
  /** for this answer instead of what the thread usually has */
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

type FromThread<Answer, Part> =
  | { readonly id: number; readonly part: Part }
  | { readonly id: number; readonly answer: Answer }
  | { readonly id: number; readonly failed: string };

/**
 * Asks a module of ours that runs in a thread of its own (see `answerQuestions`), one question after the other. The
 * thread starts with the first question. One that takes too long, dies or is stopped is ended and replaced: its
 * question is lost, those that wait are not.
 */
export class ThreadRunner<Question, Answer, Part = never> {
  readonly #module: URL;
  readonly #limits: ThreadLimits;
  readonly #waiting: AskedOnce<Question, Answer, Part>[] = [];
  #current: AskedOnce<Question, Answer, Part> | null = null;
  #worker: Worker | null = null;
  #timer: NodeJS.Timeout | undefined;
  #idle: NodeJS.Timeout | undefined;
  #lastId = 0;
  #isClosed = false;

  constructor(module: URL, limits: ThreadLimits) {
    this.#module = module;
    this.#limits = limits;
  }

  /** @throws {Unanswered} where no answer comes; an Error with the message of what went wrong in the thread */
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

  /** The thread at work, for those who must end it from outside. */
  get thread(): Worker | null {
    return this.#worker;
  }

  /** Ends the thread. What waits or is asked later is not answered. */
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
    try {
      this.#worker ??= this.#start();
      this.#worker.postMessage({ id: next.id, question: next.question });
    } catch {
      // Called from a timer or a thread's end, nobody else would catch it, and the whole program would end.
      this.#lose('no room');
      return;
    }
    this.#timer = setTimeout(() => this.#lose('late'), next.mostMs ?? this.#limits.mostMs);
  }

  #rest(): void {
    const { idleMs = IDLE_MS } = this.#limits;
    if (this.#worker) this.#idle = setTimeout(() => void this.#end(), idleMs).unref();
  }

  #start(): Worker {
    const { mostMemoryMb } = this.#limits;
    const limits = mostMemoryMb === undefined ? {} : { maxOldGenerationSizeMb: mostMemoryMb };
    // What the program itself was started with is not for a thread.
    const worker = new Worker(this.#module, { execArgv: [], resourceLimits: limits });
    worker.unref();
    worker.on('message', (told: FromThread<Answer, Part>) => this.#hear(worker, told));
    const died = () => {
      if (worker === this.#worker) this.#lose('died');
    };
    worker.on('error', died);
    worker.on('exit', died);
    return worker;
  }

  #hear(worker: Worker, told: FromThread<Answer, Part>): void {
    const current = this.#current;
    if (worker !== this.#worker || told.id !== current?.id) return;
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

  /** Gives up the question under way, and goes on with a new thread. */
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
    const worker = this.#worker;
    this.#worker = null;
    await worker?.terminate();
  }
}

/** Inside the thread: answers what a `ThreadRunner` asks; what `work` throws is told by its message. */
export function answerQuestions<Question, Answer, Part = never>(
  work: (question: Question, tell: (part: Part) => void) => Answer | Promise<Answer>,
): void {
  const send = (told: FromThread<Answer, Part>) => parentPort?.postMessage(told);
  parentPort?.on('message', async ({ id, question }: { id: number; question: Question }) => {
    try {
      send({ id, answer: await work(question, (part) => send({ id, part })) });
    } catch (error) {
      send({ id, failed: error instanceof Error ? error.message : String(error) });
    }
  });
}
