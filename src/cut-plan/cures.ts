import type { Stretch } from '../fit/filling.ts';
import { type Buying, MOST_PIECES, MOST_TICKS, type PlanJob, type PlanKind } from './job.ts';
import { type CutPlan, planCuts } from './planner.ts';
import type { Effort } from './solve.ts';
import { flawsWithin } from './stock.ts';

/** What would cure a plan that leaves strips uncut, each with the plan that it gives. */
export type Cure =
  | { readonly kind: 'lots may meet'; readonly plan: CutPlan }
  | { readonly kind: 'past flaws'; readonly plan: CutPlan }
  | { readonly kind: 'either way round'; readonly plan: CutPlan }
  /** Strips of these kinds a little shorter, so that one more lies side by side. */
  | {
      readonly kind: 'shorter strips';
      readonly kinds: readonly { readonly kindId: number; readonly lengthTicks: number }[];
      readonly plan: CutPlan;
    }
  /** Cloth bought in a lot of its own: so much of it, in ticks. */
  | { readonly kind: 'buy'; readonly buyTicks: number; readonly plan: CutPlan };

/** Cloth that can be bought: its usable width, its lot's number in the job, and how it is sold. */
export interface ClothToBuy extends Buying {
  readonly pieceId: number;
  readonly lotId: number;
  readonly widthTicks: number;
  readonly mostTicks: number;
}

/**
 * Cures of a plan that is short, in the order in which they cost least; each is planned anew and kept where fewer strips
 * stay uncut. `bolt` is cloth to buy, null for none.
 */
export function curesOf(job: PlanJob, short: CutPlan, bolt: ClothToBuy | null, effort: Effort): Cure[] {
  if (short.missingStrips === 0) return [];
  const cures: Cure[] = [];
  const better = (changed: PlanJob): CutPlan | null => {
    const plan = planCuts(changed, effort);
    return plan.missingStrips < short.missingStrips ? plan : null;
  };
  const meeting = job.kinds.some(({ lots }) => lots !== 'any') ? better(anyLots(job)) : null;
  if (meeting) cures.push({ kind: 'lots may meet', plan: meeting });
  const past = job.flaws === 'skip' && hasFlaws(job) ? better({ ...job, flaws: 'straddle' }) : null;
  if (past) cures.push({ kind: 'past flaws', plan: past });
  const turned = job.kinds.some(({ direction }) => direction !== 'either') ? better(eitherWay(job)) : null;
  if (turned) cures.push({ kind: 'either way round', plan: turned });
  const shorter = shorterStrips(job, short);
  const shortened = shorter.length > 0 ? better(withLengths(job, shorter)) : null;
  if (shortened) cures.push({ kind: 'shorter strips', kinds: shorter, plan: shortened });
  const bought = bolt ? buy(job, bolt, better) : null;
  if (bought) cures.push(bought);
  return cures;
}

function anyLots(job: PlanJob): PlanJob {
  return { ...job, kinds: job.kinds.map((kind) => ({ ...kind, lots: 'any' as const })) };
}

/**
 * A job with the free cloth of lots that it does not have, since they do not match what is cut; its strips may then be of
 * any lots. null where there is no such cloth.
 */
export function withOtherLots(job: PlanJob, free: readonly Stretch[]): PlanJob | null {
  const known = new Set(job.pieces.map(({ pieceId }) => pieceId));
  const others = free.filter(({ pieceId, lengthTicks }) => !known.has(pieceId) && lengthTicks > 0);
  if (others.length === 0) return null;
  const pieces = others.map(({ pieceId, lotId, usableWidthTicks, lengthTicks, flaws = [] }) => ({
    pieceId,
    lotId,
    widthTicks: usableWidthTicks,
    lengthTicks,
    flaws: flawsWithin(flaws, lengthTicks, usableWidthTicks),
    count: 1,
  }));
  return { ...anyLots(job), pieces: [...job.pieces, ...pieces] };
}

/**
 * Cloth as wide as the widest piece of a job, in a lot of its own, sold by `stepTicks`: as much as all strips take one
 * kind a lay. null where the plan takes no more pieces, or no width takes every strip.
 */
export function clothToBuyFor({ kinds, pieces }: PlanJob, stepTicks: number): ClothToBuy | null {
  const widthTicks = Math.max(0, ...pieces.map((piece) => piece.widthTicks));
  const lengths = kinds.map(({ lengthTicks, depthTicks, direction, count }) => {
    const [across, along] = direction === 'along' ? [depthTicks, lengthTicks] : [lengthTicks, depthTicks];
    const beside = Math.floor(widthTicks / across);
    return beside > 0 ? Math.ceil(count / beside) * along : 0;
  });
  const mostTicks = lengths.reduce((sum, ticks) => sum + ticks, 0) + stepTicks;
  if (pieces.length >= MOST_PIECES || mostTicks > MOST_TICKS) return null;
  const pieceId = Math.max(-1, ...pieces.map((piece) => piece.pieceId)) + 1;
  const lotId = Math.max(-1, ...pieces.map((piece) => piece.lotId)) + 1;
  return { pieceId, lotId, widthTicks, stepTicks, leastTicks: stepTicks, mostTicks };
}

function hasFlaws(job: PlanJob): boolean {
  return job.pieces.some(({ flaws }) => flaws.length > 0);
}

function eitherWay(job: PlanJob): PlanJob {
  return { ...job, kinds: job.kinds.map((kind) => ({ ...kind, direction: 'either' as const })) };
}

/** A strip that lies across may be shortened by up to a fifth for one more beside it on the widest piece. */
const MOST_SHORTER_BP = 2000;

function shorterStrips(job: PlanJob, short: CutPlan): { kindId: number; lengthTicks: number }[] {
  const widest = Math.max(0, ...job.pieces.map(({ widthTicks }) => widthTicks));
  return job.kinds.flatMap((kind, i) => {
    if ((short.missing[i] ?? 0) === 0 || kind.direction === 'along') return [];
    const beside = Math.floor(widest / kind.lengthTicks);
    const lengthTicks = Math.floor(widest / (beside + 1));
    const least = kind.lengthTicks - Math.floor((kind.lengthTicks * MOST_SHORTER_BP) / 10_000);
    return lengthTicks >= least && lengthTicks < kind.lengthTicks
      ? [{ kindId: kind.kindId, lengthTicks }]
      : [];
  });
}

function withLengths(
  job: PlanJob,
  shorter: readonly { readonly kindId: number; readonly lengthTicks: number }[],
): PlanJob {
  const kinds = job.kinds.map((kind): PlanKind => {
    const found = shorter.find(({ kindId }) => kindId === kind.kindId);
    return found ? { ...kind, lengthTicks: found.lengthTicks } : kind;
  });
  return { ...job, kinds };
}

/**
 * As little as will do: what is on the shelf is counted first where the strips may be of any lot; where they must match,
 * the planner decides which lot gives them all. The length is found by halving, each try planned anew.
 */
function buy(job: PlanJob, bolt: ClothToBuy, better: (changed: PlanJob) => CutPlan | null): Cure | null {
  const withBolt = (lengthTicks: number): PlanJob => {
    const { pieceId, lotId, widthTicks } = bolt;
    const piece = { pieceId, lotId, widthTicks, lengthTicks, flaws: [], count: 1 };
    return { ...job, pieces: [...job.pieces, piece] };
  };
  const steps = Math.floor(bolt.mostTicks / bolt.stepTicks);
  const leastSteps = Math.max(1, Math.ceil(bolt.leastTicks / bolt.stepTicks));
  const whole = steps >= leastSteps ? better(withBolt(steps * bolt.stepTicks)) : null;
  if (!whole) return null;
  const fewest = whole.missingStrips;
  let best = { steps, plan: whole };
  let [short, enough] = [leastSteps - 1, steps];
  while (enough - short > 1) {
    const middle = Math.floor((short + enough) / 2);
    const plan = better(withBolt(middle * bolt.stepTicks));
    if (plan && plan.missingStrips <= fewest) {
      best = { steps: middle, plan };
      enough = middle;
    } else short = middle;
  }
  return { kind: 'buy', buyTicks: best.steps * bolt.stepTicks, plan: best.plan };
}
