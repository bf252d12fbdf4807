import type { SolvedProgram } from '../../../src/buying/basket/plan.ts';
import type { WholeProgram } from '../../../src/cut-plan/polish.ts';
import { ProcessRunner } from '../../process.ts';
import type { SolveBasket } from './process.ts';

/** The solver stops by itself before that; a process that does not is ended. */
const MOST_MS = 15_000;
const PROCESS = new URL('./process.ts', import.meta.url);

/** Solves baskets in a process of its own, one after the other, so that no page waits for another's basket. */
export class BasketWorker {
  readonly #runner = new ProcessRunner<WholeProgram, ReturnType<SolveBasket>>(PROCESS, {
    mostMs: MOST_MS,
  });

  /** Null where the solver found nothing, took too long, or its process ended. */
  solve(program: WholeProgram): Promise<SolvedProgram | null> {
    return this.#runner.ask(program).catch(() => null);
  }

  close(): Promise<void> {
    return this.#runner.close();
  }
}
