/**
 * Where a bath stands: its steps laid over the clock, from what was logged. Nothing but the log is remembered, so the
 * timer of a step is the same after a reload and after a restart.
 */
import type { WorkStep } from './work-step.ts';

/** A step that was done, or the beginning of the bath (`BEGUN`), at an instant in ms. */
export interface StepDone {
  readonly key: string;
  readonly atMs: number;
}

/** The key that tells of the beginning: the first step runs from then. */
export const BEGUN = 'begin';

export interface TimedStep {
  readonly step: WorkStep;
  readonly state: 'done' | 'now' | 'to come';
  /** by the plan, counted from the beginning of the bath; null before that */
  readonly planned: { readonly fromMs: number; readonly toMs: number } | null;
  /** as it was, or is: null where it has not begun, and `toMs` null where it is under way */
  readonly actual: { readonly fromMs: number; readonly toMs: number | null } | null;
}

export interface BathClock {
  readonly begunMs: number | null;
  readonly steps: readonly TimedStep[];
  /** the step that is under way, or the first one before the bath has begun; null when all are done */
  readonly now: TimedStep | null;
  /** when the step under way is over by its minutes; null where none is under way */
  readonly untilMs: number | null;
}

const MINUTE_MS = 60_000;

/**
 * Lays steps over the clock. Steps are done in order: a step counts as begun when the one before it was done. What is
 * done and named by no step is passed over.
 */
export function bathClock(steps: readonly WorkStep[], done: readonly StepDone[]): BathClock {
  const begunMs = done.find(({ key }) => key === BEGUN)?.atMs ?? null;
  const doneAt = new Map(done.map(({ key, atMs }) => [key, atMs]));
  const place = steps.findIndex(({ key }) => !doneAt.has(key));
  let plannedMs = begunMs;
  let fromMs = begunMs;
  const timed = steps.map((step, at): TimedStep => {
    const planned =
      plannedMs === null ? null : { fromMs: plannedMs, toMs: plannedMs + step.minutes * MINUTE_MS };
    plannedMs = planned?.toMs ?? null;
    const isDone = place < 0 || at < place;
    const toMs = isDone ? (doneAt.get(step.key) ?? null) : null;
    const begun = fromMs !== null && at <= (place < 0 ? steps.length : place);
    const actual = begun && fromMs !== null ? { fromMs, toMs } : null;
    if (toMs !== null) fromMs = toMs;
    return { step, state: isDone ? 'done' : at === place ? 'now' : 'to come', planned, actual };
  });
  const now = place < 0 ? null : (timed[place] ?? null);
  const since = now?.actual?.fromMs ?? null;
  return {
    begunMs,
    steps: timed,
    now,
    untilMs: now && since !== null ? since + now.step.minutes * MINUTE_MS : null,
  };
}

/** A hold may end so much early without a question: a tenth of its minutes (common practice). */
const HOLD_MAY_LACK = 1 / 10;

/** Whole minutes left of the hold under way, where they are more than may be lacking; else null. */
export function holdLeftMinutes({ now, untilMs }: BathClock, atMs: number): number | null {
  if (now?.step.kind !== 'hold' || untilMs === null) return null;
  const leftMs = untilMs - atMs;
  return leftMs > now.step.minutes * MINUTE_MS * HOLD_MAY_LACK ? Math.ceil(leftMs / MINUTE_MS) : null;
}

/**
 * The temperature that the plan asks for at an instant, in °C, by the step that was then under way; null where no step
 * with a heat of its own was. A step that lasts longer than planned stays at the heat it ends with.
 */
export function plannedC(clock: BathClock, atMs: number): number | null {
  const timed = underWay(clock, atMs);
  if (!timed?.actual || !hasHeat(timed.step)) return null;
  const { fromC, toC, minutes } = timed.step;
  const gone = (atMs - timed.actual.fromMs) / MINUTE_MS;
  const part = minutes === 0 ? 1 : Math.min(1, Math.max(0, gone / minutes));
  return fromC + (toC - fromC) * part;
}

/** The step that was under way at an instant; undefined before the bath began. */
export function underWay({ steps }: BathClock, atMs: number): TimedStep | undefined {
  return steps.findLast(({ actual }) => actual !== null && actual.fromMs <= atMs);
}

/** Whether the heat of the bath matters at a step: weighing, dissolving, rinsing and drying have none of their own. */
function hasHeat({ kind }: Pick<WorkStep, 'kind'>): boolean {
  return !['weigh', 'dissolve', 'rinse', 'dry'].includes(kind);
}

/** Whether a step belongs to the dye bath itself, which the ramp chart draws. */
export function isOfBath({ kind }: Pick<WorkStep, 'kind'>): boolean {
  return ['set', 'add', 'heat', 'hold', 'cool'].includes(kind);
}
