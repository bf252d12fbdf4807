import { deserialize } from 'node:v8';
import type { Worker } from 'node:worker_threads';
import type { Cure } from '../../src/cut-plan/cures.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import type { Otherwise } from '../../src/cut-plan/otherwise.ts';
import type { Cutting } from '../../src/cut-plan/plan.ts';
import { type Proved, withProved } from '../../src/cut-plan/plan-bound.ts';
import type { CutPlan } from '../../src/cut-plan/planner.ts';
import { Refusal } from '../refusal.ts';
import { startThread } from '../thread.ts';
import type { PlanAnswer, PlanQuestion, Task } from './thread.ts';

export interface PlanRequest {
  readonly job: PlanJob;
  /** Seconds that a person allows; null for what every plan gets. */
  readonly seconds: number | null;
  /** Whether pieces are finished before others are begun, at less than a useful length more. */
  readonly onShorter?: boolean;
  /** Ends the plan: waiting it is given up, under way what was found by then is kept. */
  readonly signal?: AbortSignal;
}

/** A plan, and where planning ended before its time, why, in a sentence; '' where it ended well. */
export interface PlanAndWhy {
  readonly plan: CutPlan;
  readonly stopped: string;
}

/** What came of a task: a plan, or what the thread told of a job whose plan is known. */
type Found = PlanAndWhy | Extract<PlanAnswer, { kind: 'otherwise' | 'cures' }>;

interface Waiting extends PlanRequest {
  readonly id: number;
  readonly task: Task;
  /** the best plan so far, as the thread told it; null where none was told yet */
  best: Uint8Array | null;
  readonly proved: Proved[];
  /** why a first try was ended; '' where it was not */
  readonly why: string;
  resolve(found: Found): void;
  reject(error: Error): void;
}

const MOST_WAITING = 60;
const USUAL_MS = 15_000;
const GRACE_MS = 1000;
const THREAD = new URL('./thread.ts', import.meta.url);

/**
 * Plans cuts in a thread of its own, one plan after the other, so that no page waits for another's plan. A thread that
 * takes longer than allowed, or dies, is ended and replaced; what it had found by then is kept and said to be so.
 */
export class Planner {
  readonly #start: () => Worker;
  readonly #waiting: Waiting[] = [];
  #current: Waiting | null = null;
  #worker: Worker | null = null;
  #timer: NodeJS.Timeout | null = null;
  #lastId = 0;
  #isClosed = false;

  constructor(start = () => startThread(THREAD)) {
    this.#start = start;
  }

  /** @throws {Refusal} where too many plans wait already, or the planner is closed */
  plan(request: PlanRequest): Promise<PlanAndWhy> {
    const { onShorter = false } = request;
    return this.#queue(request, { kind: 'plan', onShorter }).then((found) => {
      if ('plan' in found) return found;
      throw new Error('a plan was asked for');
    });
  }

  /** Another plan that grants a wish. @throws {Refusal} as `plan`, and where it was ended before it was done */
  otherwise(request: PlanRequest, task: Extract<Task, { kind: 'otherwise' }>): Promise<Otherwise> {
    return this.#queue(request, task).then((found) => {
      if ('otherwise' in found) return found.otherwise;
      throw new Error('another plan was asked for');
    });
  }

  /** What would cure a short plan. @throws {Refusal} as `otherwise` */
  cures(request: PlanRequest, task: Extract<Task, { kind: 'cures' }>): Promise<readonly Cure[]> {
    return this.#queue(request, task).then((found) => {
      if ('cures' in found) return found.cures;
      throw new Error('cures were asked for');
    });
  }

  #queue(request: PlanRequest, task: Task): Promise<Found> {
    if (this.#isClosed) throw busy('The planner is closing down: ask again when Clothroom is open.');
    if (request.signal?.aborted) throw busy('The plan was given up.');
    if (this.#waiting.length >= MOST_WAITING) {
      throw busy(`${MOST_WAITING} plans are waiting already: ask again in a minute. Nothing was changed.`);
    }
    return new Promise((resolve, reject) => {
      this.#lastId += 1;
      const waiting: Waiting = {
        ...request,
        task,
        id: this.#lastId,
        best: null,
        proved: [],
        why: '',
        resolve,
        reject,
      };
      request.signal?.addEventListener('abort', () => this.#giveUp(waiting), { once: true });
      this.#waiting.push(waiting);
      this.#next();
    });
  }

  /** The thread at work, for those who must end it from outside. */
  get thread(): Worker | null {
    return this.#worker;
  }

  /** Tasks that wait or are under way. */
  get busyWith(): number {
    return this.#waiting.length + (this.#current ? 1 : 0);
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    const gone = this.#waiting.splice(0);
    if (this.#current) gone.push(this.#current);
    this.#current = null;
    for (const waiting of gone) waiting.reject(busy('The planner is closing down.'));
    await this.#endThread();
  }

  #next(): void {
    if (this.#current || this.#isClosed) return;
    const next = this.#waiting.shift();
    if (!next) return;
    this.#current = next;
    let worker: Worker;
    try {
      worker = this.#worker ?? this.#startThread();
    } catch {
      // Called from a timer or a thread's end, nobody else would catch it, and the whole program would end.
      this.#finish();
      next.reject(busy('The machine has no room for the planner just now: ask again in a minute.'));
      this.#next();
      return;
    }
    const allowedMs = next.seconds === null ? USUAL_MS : next.seconds * 1000;
    this.#timer = setTimeout(
      () => this.#stop('Planning took longer than allowed and was stopped'),
      allowedMs + GRACE_MS,
    );
    const { id, job, seconds, task } = next;
    worker.postMessage({ id, job, seconds, task } satisfies PlanQuestion);
  }

  #startThread(): Worker {
    const worker = this.#start();
    worker.unref();
    worker.on('message', (told: PlanAnswer) => this.#hear(told));
    worker.on('error', () => this.#lose(worker));
    worker.on('exit', () => this.#lose(worker));
    this.#worker = worker;
    return worker;
  }

  #hear(told: PlanAnswer): void {
    const current = this.#current;
    if (!current || told.id !== current.id) return;
    if (told.kind === 'better') {
      current.best = told.bytes;
      return;
    }
    if (told.kind === 'proved') {
      current.proved.push(told.proved);
      return;
    }
    this.#finish();
    if (told.kind === 'failed') current.reject(new Error(told.message));
    else current.resolve(told.kind === 'done' ? { plan: told.plan, stopped: sayStopped(current.why) } : told);
    this.#next();
  }

  #lose(worker: Worker): void {
    if (worker !== this.#worker) return;
    this.#worker = null;
    this.#stop('The planner was ended before it was done');
  }

  /** Ends the plan under way with the best that is known of it, and goes on with a new thread. */
  #stop(why: string): void {
    const current = this.#current;
    if (!current) return;
    this.#finish();
    const { task, best } = current;
    if (task.kind !== 'plan') current.reject(busy(`${why}. Nothing is lost: ask again.`));
    else if (best) current.resolve(foundBy(best, current.proved, why));
    else if (task.inShort) current.reject(busy(`${why}, and no plan was found by then. Nothing is lost.`));
    // Never here, where pages are drawn: whoever asked gets a short plan from the new thread.
    else this.#waiting.unshift({ ...current, seconds: null, task: { ...task, inShort: true }, why });
    void this.#endThread().then(() => this.#next());
  }

  #giveUp(waiting: Waiting): void {
    const place = this.#waiting.findIndex(({ id }) => id === waiting.id);
    if (place >= 0) this.#waiting.splice(place, 1);
    const current = this.#current?.id === waiting.id ? this.#current : null;
    if (current) {
      this.#finish();
      void this.#endThread().then(() => this.#next());
    }
    if (current?.best) current.resolve(foundBy(current.best, current.proved, 'The planner was stopped'));
    else waiting.reject(busy('The plan was given up.'));
  }

  #finish(): void {
    if (this.#timer) clearTimeout(this.#timer);
    this.#timer = null;
    this.#current = null;
  }

  async #endThread(): Promise<void> {
    const worker = this.#worker;
    this.#worker = null;
    await worker?.terminate();
  }
}

/** The best plan that was told, with the most that was proved of it. */
function foundBy(bytes: Uint8Array, proved: readonly Proved[], why: string): PlanAndWhy {
  const plan: Cutting = deserialize(bytes);
  return { plan: withProved(plan, proved), stopped: sayStopped(why) };
}

function sayStopped(why: string): string {
  return why === '' ? '' : `${why}: this is the best plan found by then. Nothing is lost.`;
}

function busy(message: string): Refusal {
  return new Refusal('not-saved', message);
}
