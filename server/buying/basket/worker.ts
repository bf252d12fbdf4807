import type { SolvedProgram } from '../../../src/buying/basket/plan.ts';
import type { WholeProgram } from '../../../src/cut-plan/polish.ts';
import { ThreadRunner } from '../../thread.ts';
import type { SolveBasket } from './thread.ts';

/** The solver stops by itself before that; a thread that does not is ended. */
const MOST_MS = 15_000;
const THREAD = new URL('./thread.ts', import.meta.url);

/** Solves baskets in a thread of its own, one after the other, so that no page waits for another's basket. */
export class BasketWorker {
  readonly #runner = new ThreadRunner<WholeProgram, ReturnType<SolveBasket>>(THREAD, {
    mostMs: MOST_MS,
  });

  /** Null where the solver found nothing, took too long, or its thread ended. */
  solve(program: WholeProgram): Promise<SolvedProgram | null> {
    return this.#runner.ask(program).catch(() => null);
  }

  close(): Promise<void> {
    return this.#runner.close();
  }
}
