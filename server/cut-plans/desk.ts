import type { FastifyInstance } from 'fastify';
import { MOST_MORE_BP, type Wish } from '../../src/cut-plan/alternative.ts';
import type { ClothToBuy } from '../../src/cut-plan/cures.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import { Refusal } from '../refusal.ts';
import type { House } from '../web/house.ts';
import {
  hashOfJob,
  keepAlternative,
  keepCures,
  keepPlan,
  knownAlternative,
  knownCures,
  knownPlan,
} from './answers.ts';
import { Planner } from './planner.ts';

/** How a question stands that is not answered: it waits or is worked on, was stopped, or is not asked. */
export type Standing =
  | { readonly is: 'asked'; readonly seconds: number | null }
  | { readonly is: 'stopped'; readonly why: string }
  | { readonly is: 'idle' };

interface Open {
  readonly seconds: number | null;
  readonly stop: AbortController;
}

/**
 * Questions to the planner that nobody has to wait for. Each is asked once, answered in the planner's process whether or
 * not the page that asked stays open, and found again by its job.
 */
export class PlanDesk {
  readonly #planner: Planner;
  readonly #open = new Map<string, Open>();
  /** Jobs, by their hash, that are not asked again by themselves, and why. */
  readonly #stopped = new Map<string, string>();

  constructor(planner: Planner) {
    this.#planner = planner;
  }

  /** Has a job planned, unless that is done, asked or was stopped. With `seconds` again, for so long. */
  askPlan(job: PlanJob, seconds: number | null = null): void {
    const hash = hashOfJob(job);
    if (seconds === null && knownPlan(job)) return;
    if (seconds !== null) this.#stopped.delete(hash);
    this.#ask(hash, hash, seconds, async (signal) => {
      const { plan, stopped } = await this.#planner.plan({ job, seconds, signal, onShorter: true });
      keepPlan(job, { plan, stopped, seconds });
    });
  }

  /** Has it found out what would cure a short plan. */
  askCures(job: PlanJob, bolt: ClothToBuy | null): void {
    const short = knownPlan(job)?.plan;
    if (!short || knownCures(job, bolt)) return;
    const hash = hashOfJob(job);
    this.#ask(hash, `${hash} cures ${JSON.stringify(bolt)}`, null, async (signal) => {
      const task = { kind: 'cures' as const, short, bolt };
      keepCures(job, bolt, await this.#planner.cures({ job, seconds: null, signal }, task));
    });
  }

  /** Has another plan found that grants a wish. */
  askAlternative(job: PlanJob, wish: Wish): void {
    const least = knownPlan(job)?.plan;
    if (!least || knownAlternative(job, wish)) return;
    const hash = hashOfJob(job);
    this.#ask(hash, `${hash} ${wish}`, null, async (signal) => {
      const task = { kind: 'alternative' as const, wish, least, mostMoreBp: MOST_MORE_BP };
      keepAlternative(job, wish, await this.#planner.alternative({ job, seconds: null, signal }, task));
    });
  }

  standing(job: PlanJob): Standing {
    const hash = hashOfJob(job);
    const open = this.#open.get(hash);
    if (open) return { is: 'asked', seconds: open.seconds };
    const why = this.#stopped.get(hash);
    return why === undefined ? { is: 'idle' } : { is: 'stopped', why };
  }

  /** Whether anything is still awaited of a job: its plan, its cures or a wish. */
  isAwaited(job: PlanJob): boolean {
    const hash = hashOfJob(job);
    return [...this.#open.keys()].some((key) => key.startsWith(hash));
  }

  /** Questions that are not answered yet, over all. */
  get asked(): number {
    return this.#open.size;
  }

  /** Gives up all that is awaited of a job. True where there was something. */
  giveUp(hash: string): boolean {
    const keys = [...this.#open.keys()].filter((key) => key.startsWith(hash));
    if (keys.length > 0) this.#stopped.set(hash, 'The planner was stopped.');
    for (const key of keys) this.#open.get(key)?.stop.abort();
    return keys.length > 0;
  }

  #ask(
    hash: string,
    key: string,
    seconds: number | null,
    work: (signal: AbortSignal) => Promise<void>,
  ): void {
    if (this.#open.has(key) || this.#stopped.has(hash)) return;
    const stop = new AbortController();
    this.#open.set(key, { seconds, stop });
    new Promise<void>((resolve) => resolve(work(stop.signal)))
      .catch((error: unknown) => {
        // A refusal passes, as when too many plans wait, and the page asks again; what failed would fail again.
        if (error instanceof Refusal) return;
        this.#stopped.set(hash, 'The planner failed on this job.');
      })
      .finally(() => this.#open.delete(key));
  }
}

interface Planning {
  readonly planner: Planner;
  readonly desk: PlanDesk;
}

const opened = new WeakMap<House, Planning>();

/** Gives a house its one planner, which ends with the app. */
export function openPlanning(app: FastifyInstance, house: House): void {
  const planner = new Planner();
  app.addHook('onClose', () => planner.close());
  opened.set(house, { planner, desk: new PlanDesk(planner) });
}

/** Questions to the planner that no page waits for. */
export function deskOf(house: House): PlanDesk {
  return planningOf(house).desk;
}

export function plannerOf(house: House): Planner {
  return planningOf(house).planner;
}

function planningOf(house: House): Planning {
  const planning = opened.get(house);
  if (!planning) throw new Error('a house has its planner before its routes are used');
  return planning;
}
