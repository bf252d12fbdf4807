import { createHash } from 'node:crypto';
import type { AlternativePlan, Wish } from '../../src/cut-plan/alternative.ts';
import type { ClothToBuy, Cure } from '../../src/cut-plan/cures.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import { comparePlans } from '../../src/cut-plan/plan.ts';
import type { CutPlan } from '../../src/cut-plan/planner.ts';

/** What the planner found for a job. `stopped` says why planning ended early; '' where it ended well. */
export interface KnownPlan {
  readonly plan: CutPlan;
  readonly stopped: string;
  /** seconds that somebody allowed; null for what every plan gets */
  readonly seconds: number | null;
}

interface Known {
  plan?: KnownPlan;
  /** by the cloth that could be bought */
  readonly cures: Map<string, readonly Cure[]>;
  readonly wishes: Map<Wish, AlternativePlan>;
}

const MOST_KEPT = 400;

// The answer follows from the job alone, so answers are kept by the job's content, whatever book it was made from.
const known = new Map<string, Known>();
const changes = { count: 0 };

/** How often a plan was found or forgotten: who keeps what follows from plans looks again where it has moved on. */
export function planChanges(): number {
  return changes.count;
}

/** The same for equal jobs, and for no others: 64 hex digits. */
export function hashOfJob(job: PlanJob): string {
  return createHash('sha256').update(JSON.stringify(job)).digest('hex');
}

export function knownPlan(job: PlanJob): KnownPlan | null {
  return find(hashOfJob(job))?.plan ?? null;
}

/** By the hash alone, where the job itself is not at hand any more. */
export function planOfHash(hash: string): KnownPlan | null {
  return find(hash)?.plan ?? null;
}

export function knownCures(job: PlanJob, bolt: ClothToBuy | null): readonly Cure[] | null {
  return find(hashOfJob(job))?.cures.get(JSON.stringify(bolt)) ?? null;
}

export function knownAlternative(job: PlanJob, wish: Wish): AlternativePlan | null {
  return find(hashOfJob(job))?.wishes.get(wish) ?? null;
}

/** Keeps a plan where it is better than what is known, or proves more of as good a plan. */
export function keepPlan(job: PlanJob, found: KnownPlan): void {
  const answers = findOrMake(hashOfJob(job));
  const before = answers.plan;
  const order = before ? comparePlans(found.plan, before.plan) : -1;
  const isBetter = order < 0 || (order === 0 && found.plan.bound.gapBp <= (before?.plan.bound.gapBp ?? 0));
  const plan = !before || isBetter ? found : { ...before, seconds: found.seconds ?? before.seconds };
  answers.plan = plan;
  changes.count += 1;
}

export function keepCures(job: PlanJob, bolt: ClothToBuy | null, cures: readonly Cure[]): void {
  findOrMake(hashOfJob(job)).cures.set(JSON.stringify(bolt), cures);
}

export function keepAlternative(job: PlanJob, wish: Wish, alternative: AlternativePlan): void {
  findOrMake(hashOfJob(job)).wishes.set(wish, alternative);
}

/** Forgets every answer, as a program that was started afresh has none. */
export function forgetPlans(): void {
  known.clear();
  changes.count += 1;
}

function find(hash: string): Known | undefined {
  const found = known.get(hash);
  if (!found) return undefined;
  // What was asked for last is dropped last.
  known.delete(hash);
  known.set(hash, found);
  return found;
}

function findOrMake(hash: string): Known {
  const found = find(hash) ?? { cures: new Map(), wishes: new Map() };
  known.set(hash, found);
  const [oldest] = known.keys();
  if (known.size > MOST_KEPT && oldest !== undefined) {
    known.delete(oldest);
    changes.count += 1;
  }
  return found;
}
