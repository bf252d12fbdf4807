import { type SewingJob, secondsToSew, sewingOf, type TierSewing } from '../../../src/garment/sewing.ts';
import {
  conesOf,
  type Stitch,
  type Thread,
  type ThreadUse,
  threadLength,
  threadOf,
} from '../../../src/garment/thread.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { type ClothMass, carriedMass, massOfStrips, stripsArea } from '../../../src/garment/weight.ts';
import { ratesOf, type Sewing } from '../../setup/rates/store.ts';
import type { TierRecord } from '../garment/records.ts';
import { type SewnClothFacts, weighedStrips } from './answer-facts.ts';
import { sewnTier } from './sheet.ts';

/** One job on a tier: how much is sewn, with how much thread, how long it takes; null where that is not known. */
export interface JobAnswer {
  readonly job: SewingJob;
  readonly ticks: number;
  readonly passes: number;
  readonly sewnTicks: number;
  readonly stitch: Stitch | null;
  readonly thread: Thread;
  readonly use: ThreadUse | null;
  readonly rateTicksMin: number | null;
  readonly seconds: number | null;
}

export interface TierAnswer {
  readonly tier: TierRecord;
  readonly worked: WorkedTier;
  readonly sewing: TierSewing;
  readonly areaTicks2: bigint;
  readonly mass: ClothMass;
  /** itself and all that is sewn on it */
  readonly carries: ClothMass;
  readonly threadShadeId: number;
  readonly jobs: readonly JobAnswer[];
}

export interface AnswerFacts {
  readonly cloths: ReadonlyMap<number, SewnClothFacts>;
  readonly sewing: Sewing;
  /** chosen shades of thread by tier */
  readonly threads: ReadonlyMap<number, number>;
}

/** What each tier takes besides its strips, from the tiers of a garment that could be worked out. */
export function answersOf(
  tiers: readonly { readonly tier: TierRecord; readonly worked: WorkedTier }[],
  facts: AnswerFacts,
): TierAnswer[] {
  const weighed = tiers.map((one) => ({ ...one, strips: weighedStrips(one.worked, facts.cloths) }));
  const masses = new Map(weighed.map(({ tier, strips }) => [tier.id, massOfStrips(strips)]));
  const carried = carriedMass(
    weighed.map(({ tier }) => ({
      tierId: tier.id,
      onTierId: tier.onTierId,
      ...(masses.get(tier.id) ?? NOTHING),
    })),
  );
  return weighed.map(({ tier, worked, strips }) => {
    const sewing = sewingOf(sewnTier(tier, worked));
    return {
      tier,
      worked,
      sewing,
      areaTicks2: stripsArea(strips),
      mass: masses.get(tier.id) ?? NOTHING,
      carries: carried.get(tier.id) ?? NOTHING,
      threadShadeId: facts.threads.get(tier.id) ?? commonestShade(worked),
      jobs: sewing.jobs.map(({ job, ticks }) => answerJob(job, ticks, facts.sewing)),
    };
  });
}

const NOTHING: ClothMass = { massMg: 0, complete: true };

/** The shade with most strips; the first of them where several have as many. */
function commonestShade({ count }: WorkedTier): number {
  const strips = new Map<number, number>();
  for (const one of count.perShade) strips.set(one.shadeId, (strips.get(one.shadeId) ?? 0) + one.count);
  const most = Math.max(...strips.values());
  return [...strips].find(([, number]) => number === most)?.[0] ?? 0;
}

function answerJob(job: SewingJob, ticks: number, sewing: Sewing): JobAnswer {
  const { stitching, passes, rateTicksMin } = ratesOf(sewing, job);
  const thread = threadOf(stitching);
  const sewnTicks = ticks * passes;
  return {
    job,
    ticks,
    passes,
    sewnTicks,
    stitch: stitching.stitch,
    thread,
    use: thread.ok ? useOf(sewnTicks, thread, sewing.wasteBp ?? 0) : null,
    rateTicksMin,
    seconds: rateTicksMin === null ? null : secondsToSew(ticks, passes, rateTicksMin),
  };
}

function useOf(sewnTicks: number, thread: Extract<Thread, { ok: true }>, wasteBp: number): ThreadUse {
  return {
    threads: thread.threads,
    ticks: threadLength(sewnTicks, thread.ratio, wasteBp),
    eachTicks: thread.each?.map((ratio) => threadLength(sewnTicks, ratio, wasteBp)) ?? null,
  };
}

/** The thread of one colour for a garment. `complete` is false where a job has no known thread. */
export interface ColourThread {
  readonly shadeId: number;
  readonly ticks: number;
  readonly complete: boolean;
  readonly stitches: readonly { readonly stitch: Stitch | null; readonly ticks: number }[];
  /** null without a put-up */
  readonly cones: { readonly cones: number; readonly exact: boolean } | null;
}

/** Thread by colour over all tiers, in the order in which the tiers name them. */
export function threadByColour(answers: readonly TierAnswer[], putUpTicks: number | null): ColourThread[] {
  const shadeIds = [...new Set(answers.map(({ threadShadeId }) => threadShadeId))];
  return shadeIds.map((shadeId) => {
    const jobs = answers
      .filter(({ threadShadeId }) => threadShadeId === shadeId)
      .flatMap((answer) => answer.jobs);
    const uses = jobs.flatMap(({ stitch, use }) => (use === null ? [] : [{ stitch, use }]));
    const stitches = [...new Set(uses.map(({ stitch }) => stitch))].map((stitch) => ({
      stitch,
      ticks: totalOf(uses.filter((one) => one.stitch === stitch).map(({ use }) => use.ticks)),
    }));
    return {
      shadeId,
      ticks: totalOf(uses.map(({ use }) => use.ticks)),
      complete: uses.length === jobs.length,
      stitches,
      cones: putUpTicks === null ? null : conesOf(uses, putUpTicks),
    };
  });
}

/** Seconds over all tiers; `complete` is false where a job has no rate. */
export function timeOf(answers: readonly Pick<TierAnswer, 'jobs'>[]): { seconds: number; complete: boolean } {
  const jobs = answers.flatMap((answer) => answer.jobs);
  return {
    seconds: totalOf(jobs.map(({ seconds }) => seconds ?? 0)),
    complete: jobs.every(({ seconds }) => seconds !== null),
  };
}

/** Masses added up; complete where all of them are. */
export function massOf(masses: readonly ClothMass[]): ClothMass {
  return {
    massMg: totalOf(masses.map(({ massMg }) => massMg)),
    complete: masses.every(({ complete }) => complete),
  };
}

export function totalOf(numbers: readonly number[]): number {
  return numbers.reduce((total, one) => total + one, 0);
}
