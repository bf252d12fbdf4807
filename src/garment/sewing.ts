import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';
import type { SewnClosing } from './opening.ts';
import type { LowerEdge, SeamKind, UpperEdge } from './seams-and-edges.ts';

/** What is sewn alike: the kinds of seams, the kinds of edges, gathering, and attaching a tier to what it hangs on. */
export const SEWING_JOBS = [
  'plain',
  'french',
  'overlocked',
  'rolled',
  'narrow',
  'faced',
  'bound',
  'gathering',
  'attaching',
] as const;
export type SewingJob = (typeof SEWING_JOBS)[number];

/**
 * Times that the same length is sewn, where the workroom has not said otherwise: a French seam is sewn twice (Conover,
 * Complete Course in Dressmaking, 1922, vol. 1), gathering takes two rows (webcasty.com: ½ and ¼ in from the edge).
 */
export const USUAL_PASSES: Readonly<Record<SewingJob, number>> = {
  plain: 1,
  french: 2,
  overlocked: 1,
  rolled: 1,
  narrow: 1,
  faced: 1,
  bound: 1,
  gathering: 2,
  attaching: 1,
};

/** A tier as its sewing sees it; lengths in ticks. */
export interface SewnTier {
  readonly closing: SewnClosing;
  /** How far down its cut depth a ring is open above; 0 of others. */
  readonly openCutTicks?: number;
  /** What it is gathered onto. */
  readonly baseTicks: number;
  /** The joined strips, ends turned in. */
  readonly flatTicks: number;
  /** The same along the lower edge, where that differs. */
  readonly lowerTicks?: number;
  readonly cutDepthTicks: number;
  /** Cut lengths of the strips, and how many there are of each. */
  readonly strips: readonly { readonly lengthTicks: number; readonly count: number }[];
  readonly seamKind: SeamKind;
  readonly upperEdge: UpperEdge;
  readonly lowerEdge: LowerEdge;
  /** True where the strips are hemmed before they are joined, each along its whole cut length. */
  readonly hemFirst: boolean;
  /** Whether the two ends of an open band have an allowance to be turned in. */
  readonly endsTurned: boolean;
}

/** What is sewn on a tier, before passes are counted. */
export interface TierSewing {
  readonly seams: number;
  readonly seamTicks: number;
  /** Both edges and the ends. */
  readonly hemTicks: number;
  readonly gatherTicks: number;
  readonly attachTicks: number;
  /** The length by job; only jobs that there are. */
  readonly jobs: readonly { readonly job: SewingJob; readonly ticks: number }[];
}

/**
 * The lengths to sew on a tier, in ticks. A ring of N strips has N seams and an open band N − 1, each as long as a
 * strip is deep; where a ring is open above, one of its seams is not sewn there. Edges are as long as the joined band, or as all strips where these are hemmed first. Ends that are
 * turned in are hemmed like the lower edge, or like the upper one where the lower is left raw, or narrow. A band that
 * is no longer than its base is not gathered.
 */
export function sewingOf(tier: SewnTier): TierSewing {
  const strips = sum(tier.strips.map(({ count }) => count));
  const seams = seamsOf(tier.closing, strips);
  const openTicks = tier.closing === 'open' ? tier.cutDepthTicks : (tier.openCutTicks ?? 0);
  const seamTicks = seams * tier.cutDepthTicks - (tier.closing === 'partly' ? openTicks : 0);
  const hemmedFirst = sum(tier.strips.map(({ lengthTicks, count }) => lengthTicks * count));
  const upperTicks = tier.hemFirst ? hemmedFirst : tier.flatTicks;
  const lowerTicks = tier.hemFirst ? hemmedFirst : (tier.lowerTicks ?? tier.flatTicks);
  const endTicks = tier.endsTurned ? 2 * openTicks : 0;
  const gatherTicks = tier.flatTicks > tier.baseTicks ? tier.flatTicks : 0;
  const [lower, upper] = [finished(tier.lowerEdge), finished(tier.upperEdge)];
  const found = new Map<SewingJob, number>();
  const add = (job: SewingJob | null, ticks: number) => {
    if (job !== null && ticks > 0) found.set(job, (found.get(job) ?? 0) + ticks);
  };
  add(tier.seamKind, seamTicks);
  add(lower, lowerTicks);
  add(upper, upperTicks);
  add(lower ?? upper ?? 'narrow', endTicks);
  add('gathering', gatherTicks);
  add('attaching', tier.baseTicks);
  const edges = (lower === null ? 0 : lowerTicks) + (upper === null ? 0 : upperTicks);
  return {
    seams,
    seamTicks,
    hemTicks: edges + endTicks,
    gatherTicks,
    attachTicks: tier.baseTicks,
    jobs: SEWING_JOBS.flatMap((job) => {
      const ticks = found.get(job);
      return ticks === undefined ? [] : [{ job, ticks }];
    }),
  };
}

/** The seams that join so many strips: as many in a ring, also in one that is open above, one fewer in an open band. */
export function seamsOf(closing: SewnClosing, strips: number): number {
  return closing === 'open' ? Math.max(0, strips - 1) : strips;
}

/** The job that finishes an edge; null where there is none. */
function finished(edge: UpperEdge): SewingJob | null {
  return edge === 'seam' || edge === 'raw' ? null : edge;
}

/** Seconds to sew a length so often at a rate of ticks a minute, rounded up to a tenth of a minute: so shown, they add up. */
export function secondsToSew(ticks: number, passes: number, rateTicksMin: number): number {
  return 6 * stored(divideRounded(exactly(ticks) * exactly(passes) * 10n, exactly(rateTicksMin), 'up'));
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, one) => total + one, 0);
}
