import type { SewnClosing } from '../../../src/garment/opening.ts';
import {
  planGathering,
  TAIL_TICKS,
  USUAL_PULL_TICKS,
  USUAL_ROWS,
} from '../../../src/garment/parts/gathering-plan.ts';
import { type SewnTier, sewingOf, type TierSewing } from '../../../src/garment/sewing.ts';
import { type SewingStep, sewingOrder } from '../../../src/garment/sewing-order.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { countOf, listed } from '../../kit/words.ts';
import type { Names } from '../garment/names.ts';
import type { TierRecord } from '../garment/records.ts';
import { tiersIn, type WorkedGarment } from '../garment/worked.ts';
import { SEAM_WORDS } from '../tier/seam-and-edge-words.ts';
import { showBase, wantedNow } from '../tier/view.ts';
import { showStrip } from '../versions/differences.ts';

/** The order of work of a garment, tier by tier, each step a sentence; tiers that cannot be worked out are left out. */
export function sewingSheet(
  worked: WorkedGarment,
  names: Names,
  units: Units,
  pleated: ReadonlyMap<number, PleatedStrips> = new Map(),
) {
  const tiers = tiersIn(worked.garment);
  const found = tiers.flatMap((tier) => {
    const count = worked.tiers.find(({ tierId }) => tierId === tier.id);
    return count ? [{ tier, worked: count, sewing: sewingOf(sewnTier(tier, count)) }] : [];
  });
  const byId = new Map(found.map((one) => [one.tier.id, one]));
  const order = sewingOrder(
    found.map(({ tier, worked: { count, baseTicks, closing, endTicks } }) => ({
      ...tier,
      tierId: tier.id,
      gathered: count.flatTicks > baseTicks,
      joined: closing !== 'open' || count.strips > 1,
      opened: opensBelowWaist(tier, closing) || hasTurnedEnds(closing, endTicks),
    })),
  );
  return order.flatMap(({ tierId, steps }) => {
    const one = byId.get(tierId);
    if (!one) return [];
    const say = (step: SewingStep) =>
      sayStep(step, { ...one, pleated: pleated.get(tierId) }, byId, names, units);
    return [{ name: one.tier.name, steps: steps.map(say) }];
  });
}

/** Whether the garment's opening goes through a tier: one that is an open band by itself has two ends anyway. */
function opensBelowWaist(tier: TierRecord, closing: SewnClosing): boolean {
  return tier.ring && closing !== 'ring';
}

/** The two ends of an open band are work of their own. */
function hasTurnedEnds(closing: SewnClosing, endTicks: number): boolean {
  return closing === 'open' && endTicks > 0;
}

export function sewnTier(tier: TierRecord, worked: WorkedTier): SewnTier {
  const { baseTicks, cutDepthTicks, count, closing, openTicks, endTicks } = worked;
  const aboveTicks = tier.headingTicks + tier.hangSeamTicks;
  return {
    closing,
    openCutTicks: closing === 'partly' ? Math.min(cutDepthTicks, openTicks + aboveTicks) : 0,
    lowerTicks: count.lowerTicks,
    baseTicks,
    flatTicks: count.flatTicks,
    cutDepthTicks,
    strips: count.perShade.map(({ stripLengthTicks, count: strips }) => ({
      lengthTicks: stripLengthTicks,
      count: strips,
    })),
    seamKind: tier.seamKind,
    upperEdge: tier.upperEdge,
    lowerEdge: tier.lowerEdge,
    hemFirst: tier.hemFirst,
    endsTurned: endTicks > 0,
  };
}

/** Strips of a tier that were sent to pleaters, and where they are, in a sentence. */
export interface PleatedStrips {
  readonly strips: number;
  readonly text: string;
}

interface Sewn {
  readonly tier: TierRecord;
  readonly worked: WorkedTier;
  readonly sewing: TierSewing;
}

function sayStep(
  step: SewingStep,
  { tier, worked, sewing, pleated }: Sewn & { readonly pleated: PleatedStrips | undefined },
  byId: ReadonlyMap<number, Sewn>,
  names: Names,
  units: Units,
): string {
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const long = (ticks: number) => showLength(ticks, units, 'up');
  const base = showBase(worked.baseTicks, units);
  switch (step.kind) {
    case 'cut': {
      const strips = wantedNow(worked).map(
        (now) =>
          `${countOf(now.count, 'strip', 'strips')} of ${showStrip(now, units)} in ${names.letter(now.shadeId)} ${names.shade(now.shadeId)}`,
      );
      return `Cut ${listed(strips)}.`;
    }
    case 'join': {
      const seams = countOf(sewing.seams, 'seam', 'seams');
      const how = worked.closing === 'open' ? 'Join' : 'Join into a ring';
      return `${how} in the order of the chart: ${seams}, ${SEAM_WORDS[tier.seamKind]}, ${size(tier.seamTicks)} allowance, ${long(sewing.seamTicks)} in all.`;
    }
    case 'opening':
      return opensBelowWaist(tier, worked.closing)
        ? sayOpening(worked, size)
        : `Turn in ${size(worked.endTicks)} at both ends and hem them, ${long(2 * worked.cutDepthTicks)}.`;
    case 'lower edge':
      return `${edgeName(tier.lowerEdge)} ${tier.hemFirst ? 'each strip' : 'the lower edge'}, ${size(tier.hemTicks)} allowance${tier.hemFirst ? '' : `, ${long(worked.count.lowerTicks)}`}.`;
    case 'upper edge':
      return `${edgeName(tier.upperEdge)} the upper edge${tier.hemFirst ? ' of each strip' : ''}, ${size(tier.hangSeamTicks)} allowance.`;
    case 'sew on': {
      const sewnOn = byId.get(step.tierId);
      const other = sewnOn?.tier;
      const where =
        other?.hangs === 'face'
          ? `to its face, ${size(other.heightTicks ?? 0)} above the lower edge`
          : 'along its lower edge';
      return `Sew ${other?.name ?? 'the other tier'} on while it lies flat, ${where}: ${long(sewnOn?.worked.baseTicks ?? worked.count.lowerTicks)}.`;
    }
    case 'gather': {
      if (pleated) return sayPleated(pleated, worked, base, long);
      const heading = tier.headingTicks > 0 ? `, ${size(tier.headingTicks)} below the heading` : '';
      return `Gather ${long(worked.count.flatTicks)} to ${base}${heading}. ${sayGathering(worked, units)}`;
    }
    case 'hang': {
      const what = tier.hangs === 'foundation' ? 'foundation layer' : 'form';
      return `Hang it from the ${what} at a drop of ${size(tier.dropTicks ?? 0)}, ${base} round.`;
    }
  }
}

/** Pleats take the place of gathers. */
function sayPleated(
  { strips, text }: PleatedStrips,
  { count }: WorkedTier,
  base: string,
  long: (ticks: number) => string,
): string {
  return strips < count.strips
    ? `${text} Gather only the strips that are not pleated: the whole tier, ${long(count.flatTicks)} flat, goes to ${base}.`
    : `${text} Sew the pleats to ${base}: they are not gathered.`;
}

/** How a tier is gathered: rows, marks on both edges, sections, thread or cord, and tails. */
function sayGathering({ count, baseTicks }: WorkedTier, units: Units): string {
  const plan = planGathering(count.flatTicks, baseTicks, {
    rows: USUAL_ROWS,
    mostTicks: USUAL_PULL_TICKS[units.system],
  });
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const long = (ticks: number) => showLength(ticks, units, 'up');
  const rows = countOf(plan.rows, 'row', 'rows');
  const { sections, flatTicks, finishedTicks, threadTicks, cordTicks } = plan;
  return `${rows}, ${sections} sections: mark it every ${size(flatTicks)} and what it is sewn to every ${size(finishedTicks)}, and begin a new thread at each mark. ${long(threadTicks)} of thread with tails of ${size(TAIL_TICKS)}, or ${long(cordTicks)} of cord under a zigzag.`;
}

/** Where the garment opens: two ends all the way down, or the last seam left open above. */
function sayOpening(worked: WorkedTier, size: (ticks: number) => string): string {
  const { closing, openTicks, endTicks, unsewn } = worked;
  const where =
    closing === 'open'
      ? 'Leave it open from top to bottom'
      : `Leave the last seam open for ${size(openTicks)} of its finished depth`;
  if (unsewn) return `${where}, the edges as they are.`;
  if (endTicks === 0) return `${where}: finish both edges with a lap strip or a facing.`;
  return `${where}: turn in ${size(endTicks)} on each side and hem it.`;
}

const EDGES = {
  seam: 'Leave',
  raw: 'Leave raw',
  rolled: 'Roll-hem',
  narrow: 'Narrow-hem',
  faced: 'Face',
  bound: 'Bind with ribbon',
} as const;

function edgeName(edge: keyof typeof EDGES): string {
  return EDGES[edge];
}
