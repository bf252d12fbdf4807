import type { Planner } from '../../cut-plans/planner.ts';
import { mintKey } from '../../kit/request-key.ts';
import { ProcessRunner, Unanswered } from '../../process.ts';
import { Refusal } from '../../refusal.ts';
import { askQuick, type QuickAnswer } from './answer.ts';
import type { QuickAsked } from './form.ts';
import type { QuickDone, QuickDrawn, QuickMalformed, QuickSent, QuickTask } from './process.ts';

/** A process that reads or draws for so long has got stuck. */
const MOST_MS = 20_000;
const PROCESS = new URL('./process.ts', import.meta.url);

/** Has quick plans read and drawn in a process of their own, as the largest of them would hold up other pages. */
export class QuickDrawer {
  readonly #runner = new ProcessRunner<QuickTask, QuickDone | QuickMalformed>(PROCESS, { mostMs: MOST_MS });

  /** @throws {Refusal} malformed where the body is no form, not-saved where the process ends */
  async carryOut(task: QuickTask): Promise<QuickDone> {
    const done = await this.#runner.ask(task).catch(sayLost);
    if ('malformed' in done) throw new Refusal('malformed', done.malformed);
    return done;
  }

  close(): Promise<void> {
    return this.#runner.close();
  }
}

function sayLost(error: unknown): never {
  if (!(error instanceof Unanswered)) throw error;
  throw new Refusal(
    'not-saved',
    'The quick plan could not be read or drawn: ask again. Nothing was changed.',
  );
}

/** A quick plan that was asked for. It is worked out whether or not the page that asked stays open. */
export interface QuickQuestion {
  readonly id: string;
  readonly seconds: number | null;
  /** null while it is worked out */
  drawn: QuickDrawn | null;
  /** what failed, where something did that nobody foresaw */
  failure: unknown;
  readonly stop: AbortController;
  /** never fails */
  readonly ended: Promise<void>;
}

const MOST_KEPT = 60;
/** Characters of all pages that are kept: some large plans, or all small ones. */
const MOST_KEPT_CHARS = 40_000_000;

/** Quick plans by their number, the latest as long as the program runs. Nothing of them is written in the book. */
export class QuickDesk {
  readonly drawer: QuickDrawer;
  readonly #planner: Planner;
  readonly #questions = new Map<string, QuickQuestion>();

  constructor(planner: Planner, drawer: QuickDrawer) {
    this.#planner = planner;
    this.drawer = drawer;
  }

  find(id: string): QuickQuestion | null {
    return this.#questions.get(id) ?? null;
  }

  ask(sent: QuickSent, asked: QuickAsked, shopStepTicks: number): QuickQuestion {
    const stop = new AbortController();
    let end: () => void = () => undefined;
    const ended = new Promise<void>((resolve) => {
      end = resolve;
    });
    const { seconds } = asked;
    const question: QuickQuestion = { id: mintKey(), seconds, drawn: null, failure: null, stop, ended };
    this.#questions.set(question.id, question);
    this.#work(sent, () => askQuick(this.#planner, asked, shopStepTicks, stop.signal), asked)
      .then((drawn) => {
        question.drawn = drawn;
      })
      .catch((error: unknown) => {
        question.failure = error;
      })
      .finally(() => {
        this.#forgetOldest();
        end();
      });
    return question;
  }

  async #work(
    sent: QuickSent,
    work: () => Promise<QuickAnswer>,
    asked: QuickAsked,
  ): Promise<QuickDrawn | null> {
    try {
      const answer = await work();
      return (await this.drawer.carryOut({ ...sent, kind: 'answer', asked, answer })).drawn;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const { problems, status } = error;
      return (await this.drawer.carryOut({ ...sent, kind: 'refuse', problems, status })).drawn;
    }
  }

  /** The oldest that are done go first; what is worked on stays. */
  #forgetOldest(): void {
    const done = [...this.#questions.values()].filter(({ drawn, failure }) => drawn !== null || failure);
    let chars = done.reduce((sum, { drawn }) => sum + sizeOf(drawn), 0);
    let count = done.length;
    for (const { id, drawn } of done) {
      if (count <= 1 || (count <= MOST_KEPT && chars <= MOST_KEPT_CHARS)) return;
      this.#questions.delete(id);
      count -= 1;
      chars -= sizeOf(drawn);
    }
  }
}

function sizeOf(drawn: QuickDrawn | null): number {
  return drawn === null ? 0 : drawn.html.length + drawn.json.length;
}
