import type { ChildProcess } from 'node:child_process';
import { deserialize } from 'node:v8';
import type { AlternativePlan } from '../../src/cut-plan/alternative.ts';
import type { Cure } from '../../src/cut-plan/cures.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import type { Cutting } from '../../src/cut-plan/plan.ts';
import { type Proved, withProved } from '../../src/cut-plan/plan-bound.ts';
import type { CutPlan } from '../../src/cut-plan/planner.ts';
import { ProcessRunner, Unanswered } from '../process.ts';
import { Refusal } from '../refusal.ts';
import type { PlanAnswers, PlanPart, PlanQuestion, Task } from './process.ts';

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

type TaskOf<Kind extends Task['kind']> = Extract<Task, { kind: Kind }>;

const MOST_WAITING = 60;
const USUAL_MS = 15_000;
const GRACE_MS = 1000;
const PROCESS = new URL('./process.ts', import.meta.url);

/** What ended a task that was under way. */
const ENDED = {
  late: 'Planning took longer than allowed and was stopped',
  died: 'The planner was ended before it was done',
  stopped: 'The planner was stopped',
} as const;

/**
 * Plans cuts in a process of its own, one plan after the other, so that no page waits for another's plan. One that
 * takes longer than allowed, or dies, is ended and replaced; what it had found by then is kept and said to be so.
 */
export class Planner {
  readonly #runner: ProcessRunner<PlanQuestion, PlanAnswers[Task['kind']], PlanPart>;

  constructor(module = PROCESS) {
    this.#runner = new ProcessRunner(module, { mostMs: USUAL_MS + GRACE_MS });
  }

  /** @throws {Refusal} where too many plans wait already, or the planner is closed */
  async plan(request: PlanRequest): Promise<PlanAndWhy> {
    this.#refuseWhereFull();
    return this.#planOrBest(request, { kind: 'plan', onShorter: request.onShorter ?? false });
  }

  /** Another plan that grants a wish. @throws {Refusal} as `plan`, and where it was ended before it was done */
  alternative(request: PlanRequest, task: TaskOf<'alternative'>): Promise<AlternativePlan> {
    return this.#answer(request, task);
  }

  /** What would cure a short plan. @throws {Refusal} as `alternative` */
  cures(request: PlanRequest, task: TaskOf<'cures'>): Promise<readonly Cure[]> {
    return this.#answer(request, task);
  }

  /** The process at work, for those who must end it from outside. */
  get process(): ChildProcess | null {
    return this.#runner.process;
  }

  /** Tasks that wait or are under way. */
  get busyWith(): number {
    return this.#runner.busyWith;
  }

  close(): Promise<void> {
    return this.#runner.close();
  }

  #refuseWhereFull(): void {
    if (this.#runner.busyWith <= MOST_WAITING) return;
    throw busy(`${MOST_WAITING} plans are waiting already: ask again in a minute. Nothing was changed.`);
  }

  async #answer<Kind extends 'alternative' | 'cures'>(
    request: PlanRequest,
    task: TaskOf<Kind>,
  ): Promise<PlanAnswers[Kind]> {
    this.#refuseWhereFull();
    try {
      return await this.#ask<Kind>(request, task);
    } catch (error) {
      const why = whyEnded(error);
      throw why === 'stopped' ? givenUp() : busy(`${ENDED[why]}. Nothing is lost: ask again.`);
    }
  }

  /** A plan; ended before its time, the best of it, and where none was told by then, a short one of a new process. */
  async #planOrBest(request: PlanRequest, task: TaskOf<'plan'>, before = ''): Promise<PlanAndWhy> {
    const told: { best: Uint8Array | null; proved: Proved[] } = { best: null, proved: [] };
    const hear = (part: PlanPart) => {
      if (part.kind === 'better') told.best = part.bytes;
      else told.proved.push(part.proved);
    };
    try {
      return { plan: await this.#ask<'plan'>(request, task, hear), stopped: sayStopped(before) };
    } catch (error) {
      const why = whyEnded(error);
      if (told.best) return foundBy(told.best, told.proved, ENDED[why]);
      if (why === 'stopped') throw givenUp();
      if (task.inShort) throw busy(`${ENDED[why]}, and no plan was found by then. Nothing is lost.`);
      // Never here, where pages are drawn: whoever asked gets a short plan from the new process.
      return this.#planOrBest({ ...request, seconds: null }, { ...task, inShort: true }, ENDED[why]);
    }
  }

  #ask<Kind extends Task['kind']>(
    { job, seconds, signal }: PlanRequest,
    task: TaskOf<Kind>,
    hear: (part: PlanPart) => void = () => undefined,
  ): Promise<PlanAnswers[Kind]> {
    const mostMs = (seconds === null ? USUAL_MS : seconds * 1000) + GRACE_MS;
    // Whoever asks for a plan a second time has waited already.
    const isFirst = 'inShort' in task;
    const answer = this.#runner.ask({ job, seconds, task }, { mostMs, hear, signal, isFirst });
    // The process answers each kind of task in its own way.
    return answer as Promise<PlanAnswers[Kind]>;
  }
}

/** What ended a task that might have been answered. @throws what else went wrong, in words where no process can help */
function whyEnded(error: unknown): keyof typeof ENDED {
  if (!(error instanceof Unanswered)) throw error;
  if (error.why === 'closed') throw busy('The planner is closing down: ask again when Clothroom is open.');
  if (error.why === 'no room')
    throw busy('The machine has no room for the planner just now: ask again in a minute.');
  return error.why;
}

/** The best plan that was told, with the most that was proved of it. */
function foundBy(bytes: Uint8Array, proved: readonly Proved[], why: string): PlanAndWhy {
  const plan: Cutting = deserialize(bytes);
  return { plan: withProved(plan, proved), stopped: sayStopped(why) };
}

function sayStopped(why: string): string {
  return why === '' ? '' : `${why}: this is the best plan found by then. Nothing is lost.`;
}

function givenUp(): Refusal {
  return busy('The plan was given up.');
}

function busy(message: string): Refusal {
  return new Refusal('not-saved', message);
}
