import { type SewingJob, secondsToSew } from './sewing.ts';
import {
  conesOf,
  type Stitch,
  type Stitching,
  type Thread,
  type ThreadUse,
  threadLength,
  threadOf,
} from './thread.ts';

/** One job on a tier: how much is sewn, with how much thread, how long it takes; null where that is not known. */
export interface JobWork {
  readonly job: SewingJob;
  /** the length of the seam or edge, in ticks */
  readonly ticks: number;
  readonly passes: number;
  readonly sewnTicks: number;
  readonly stitch: Stitch | null;
  readonly thread: Thread;
  readonly use: ThreadUse | null;
  readonly rateTicksMin: number | null;
  readonly seconds: number | null;
}

/** A job of so many ticks, sewn at the rates of the workroom; `wasteBp` of thread goes into ends, in hundredths of a percent. */
export function workOfJob(
  job: SewingJob,
  ticks: number,
  rates: {
    readonly stitching: Stitching;
    readonly passes: number;
    readonly rateTicksMin: number | null;
  },
  wasteBp: number,
): JobWork {
  const { stitching, passes, rateTicksMin } = rates;
  const thread = threadOf(stitching);
  const sewnTicks = ticks * passes;
  return {
    job,
    ticks,
    passes,
    sewnTicks,
    stitch: stitching.stitch,
    thread,
    use: thread.ok ? threadUsed(sewnTicks, thread, wasteBp) : null,
    rateTicksMin,
    seconds: rateTicksMin === null ? null : secondsToSew(ticks, passes, rateTicksMin),
  };
}

function threadUsed(sewnTicks: number, thread: Extract<Thread, { ok: true }>, wasteBp: number): ThreadUse {
  return {
    threads: thread.threads,
    ticks: threadLength(sewnTicks, thread.ratio, wasteBp),
    eachTicks: thread.each?.map((ratio) => threadLength(sewnTicks, ratio, wasteBp)) ?? null,
  };
}

/** Seconds over all jobs; `complete` is false where a job has no rate. */
export function sewingTime(jobs: readonly Pick<JobWork, 'seconds'>[]): {
  readonly seconds: number;
  readonly complete: boolean;
} {
  return {
    seconds: jobs.reduce((sum, { seconds }) => sum + (seconds ?? 0), 0),
    complete: jobs.every(({ seconds }) => seconds !== null),
  };
}

/** The shade with most strips, for the thread; the first of them where several have as many, 0 where there is none. */
export function commonestShade(
  perShade: readonly { readonly shadeId: number; readonly count: number }[],
): number {
  const strips = new Map<number, number>();
  for (const { shadeId, count } of perShade) strips.set(shadeId, (strips.get(shadeId) ?? 0) + count);
  const most = Math.max(...strips.values());
  return [...strips].find(([, count]) => count === most)?.[0] ?? 0;
}

/** The thread of one colour for a garment, in ticks. `complete` is false where a job has no known thread. */
export interface ColourThread {
  readonly shadeId: number;
  readonly ticks: number;
  readonly complete: boolean;
  readonly stitches: readonly { readonly stitch: Stitch | null; readonly ticks: number }[];
  /** null without a put-up */
  readonly cones: { readonly cones: number; readonly exact: boolean } | null;
}

/** Thread by colour over all tiers, in the order in which the tiers name them; `putUpTicks` is what a cone holds. */
export function threadByColour(
  tiers: readonly { readonly threadShadeId: number; readonly jobs: readonly JobWork[] }[],
  putUpTicks: number | null,
): ColourThread[] {
  const shadeIds = [...new Set(tiers.map(({ threadShadeId }) => threadShadeId))];
  return shadeIds.map((shadeId) => {
    const jobs = tiers.filter(({ threadShadeId }) => threadShadeId === shadeId).flatMap((tier) => tier.jobs);
    const uses = jobs.flatMap(({ stitch, use }) => (use === null ? [] : [{ stitch, use }]));
    const ticksOf = (of: typeof uses) => of.reduce((sum, { use }) => sum + use.ticks, 0);
    return {
      shadeId,
      ticks: ticksOf(uses),
      complete: uses.length === jobs.length,
      stitches: [...new Set(uses.map(({ stitch }) => stitch))].map((stitch) => ({
        stitch,
        ticks: ticksOf(uses.filter((one) => one.stitch === stitch)),
      })),
      cones: putUpTicks === null ? null : conesOf(uses, putUpTicks),
    };
  });
}
