import type { Worker } from 'node:worker_threads';
import type { SolvedProgram } from '../../../src/buying/basket/plan.ts';
import type { WholeProgram } from '../../../src/cut-plan/polish.ts';
import { startThread } from '../../thread.ts';
import type { BasketAnswer, BasketQuestion } from './thread.ts';

/** The solver stops by itself before that; a thread that does not is ended. */
const MOST_MS = 15_000;
const THREAD = new URL('./thread.ts', import.meta.url);

interface Waiting {
  readonly timer: NodeJS.Timeout;
  settle(solved: SolvedProgram | null): void;
}

/** Solves baskets in a thread of its own, one after the other, so that no page waits for another's basket. */
export class BasketWorker {
  readonly #waiting = new Map<number, Waiting>();
  #worker: Worker | null = null;
  #lastId = 0;

  /** Null where the solver found nothing, took too long, or its thread ended. */
  solve(program: WholeProgram): Promise<SolvedProgram | null> {
    return new Promise((resolve) => {
      this.#lastId += 1;
      const id = this.#lastId;
      const timer = setTimeout(() => void this.close(), MOST_MS * (this.#waiting.size + 1));
      this.#waiting.set(id, { timer, settle: resolve });
      this.#worker ??= this.#start();
      this.#worker.postMessage({ id, program } satisfies BasketQuestion);
    });
  }

  async close(): Promise<void> {
    const worker = this.#worker;
    this.#giveUp();
    await worker?.terminate();
  }

  #start(): Worker {
    const worker = startThread(THREAD);
    worker.unref();
    worker.on('message', ({ id, solved }: BasketAnswer) => this.#settle(id, solved));
    const gone = () => {
      if (worker === this.#worker) this.#giveUp();
    };
    worker.on('error', gone);
    worker.on('exit', gone);
    return worker;
  }

  #settle(id: number, solved: SolvedProgram | null): void {
    const waiting = this.#waiting.get(id);
    if (!waiting) return;
    clearTimeout(waiting.timer);
    this.#waiting.delete(id);
    waiting.settle(solved);
  }

  #giveUp(): void {
    this.#worker = null;
    for (const id of [...this.#waiting.keys()]) this.#settle(id, null);
  }
}
