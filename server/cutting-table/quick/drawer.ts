import type { Worker } from 'node:worker_threads';
import { Refusal } from '../../refusal.ts';
import { startThread } from '../../thread.ts';
import type { QuickDone, QuickTask, QuickTold } from './thread.ts';

interface Waiting {
  resolve(done: QuickDone): void;
  reject(error: Error): void;
}

const THREAD = new URL('./thread.ts', import.meta.url);
/** A thread that reads or draws for so long has got stuck. */
const MOST_MS = 20_000;

/** Has quick plans read and drawn in a thread of their own, as the largest of them would hold up other pages. */
export class QuickDrawer {
  readonly #waiting = new Map<number, Waiting>();
  #worker: Worker | null = null;
  #timer: NodeJS.Timeout | null = null;
  #lastId = 0;
  #isClosed = false;

  /** @throws {Refusal} malformed where the body is no form, not-saved where the thread ends */
  carryOut(task: QuickTask): Promise<QuickDone> {
    if (this.#isClosed) return Promise.reject(ended());
    this.#lastId += 1;
    const id = this.#lastId;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker ??= this.#start();
      this.#worker.postMessage({ id, task });
      this.#watch();
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    await this.#end();
  }

  #start(): Worker {
    const worker = startThread(THREAD);
    worker.unref();
    worker.on('message', (told: QuickTold) => this.#hear(told));
    const lose = () => {
      if (worker === this.#worker) void this.#end();
    };
    worker.on('error', lose);
    worker.on('exit', lose);
    return worker;
  }

  #hear(told: QuickTold): void {
    const waiting = this.#waiting.get(told.id);
    this.#waiting.delete(told.id);
    this.#watch();
    if (!waiting) return;
    if ('done' in told) waiting.resolve(told.done);
    else if ('refused' in told) waiting.reject(new Refusal(told.refused.kind, told.refused.message));
    else waiting.reject(new Error(told.failed));
  }

  /** Every answer gives the thread its time anew; with nothing to wait for there is no watch. */
  #watch(): void {
    if (this.#timer) clearTimeout(this.#timer);
    this.#timer = this.#waiting.size === 0 ? null : setTimeout(() => void this.#end(), MOST_MS);
  }

  async #end(): Promise<void> {
    const worker = this.#worker;
    this.#worker = null;
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    this.#watch();
    for (const { reject } of waiting) reject(ended());
    await worker?.terminate();
  }
}

function ended(): Refusal {
  return new Refusal(
    'not-saved',
    'The quick plan could not be read or drawn: ask again. Nothing was changed.',
  );
}
