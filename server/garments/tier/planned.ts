import { usualEdge, usualSeam } from '../../../src/garment/seams-and-edges.ts';
import { type TierProblem, workTiers } from '../../../src/garment/tiers.ts';
import { withExact } from '../../../src/quantity/fullness.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import type { Problem } from '../../refusal.ts';
import { belowFloor, coverWords, nearFloor } from '../garment/hem-words.ts';
import { type Garment, type TierFigures, type TierRecord, withLabels } from '../garment/records.ts';
import {
  asTier,
  clothIdsOf,
  formOfGarment,
  layTier,
  placingsOf,
  problemsOf,
  readClothWays,
  readUsableWidths,
  tiersIn,
} from '../garment/worked.ts';
import type { TierForm } from './fields.ts';

/** The number of a tier that is not in the book yet. */
export const NEW_TIER = 0;

/** What a tier would come to with these figures, among the garment's other tiers as they are. */
export function planTier(reader: Reader, garment: Garment, figures: TierFigures, units: Units) {
  const changed = withTier(garment, figures);
  const all = tiersIn(changed);
  const mine = all.find(({ id }) => id === figures.id) ?? figures;
  const others = all.filter(({ id }) => id !== figures.id);
  // The tier in hand goes first, so that a loop is told from where the person stands.
  const tiers = [asTier(mine), ...others.map(asTier)];
  const clothIds = [...new Set([figures, ...others].flatMap(clothIdsOf))];
  const widths = readUsableWidths(reader, clothIds);
  const ways = readClothWays(reader, clothIds);
  const form = formOfGarment(garment);
  const worked = workTiers(form, tiers, widths);
  const mineWorked = worked.tiers.find(({ tierId }) => tierId === figures.id);
  const hung = tiers.map((tier, place) => ({
    ...tier,
    overlapTicks: (place === 0 ? figures : others[place - 1])?.overlapTicks ?? 0,
  }));
  const placing = [...placingsOf(changed)].flatMap(([tierId, one]) => (one.ok ? [] : [{ tierId, ...one }]));
  const problems = [...placing, ...problemsOf(worked), ...belowFloor(form, tiers, garment, units)];
  // The tiers of the book hang together, so whatever does not hang now is due to this one.
  const [own, theirs] = parted(problems, (problem) => {
    return problem.tierId === figures.id || problem.field === 'hangs' || problem.field === 'ratio';
  });
  return {
    /** null where it cannot be worked out */
    tier: own.length > 0 || !mineWorked ? null : layTier(mineWorked, widths, ways),
    /** at the fields of the tier's form */
    /** the same figures at the drop that follows, and the name */
    figures: { ...figures, name: mine.name, dropTicks: mine.dropTicks },
    problems: distinct(own.map(({ field, message }) => ({ field: FIELD[field], message }))),
    /** what then stands against other tiers, in words */
    others: theirs.map(({ tierId, message }) => {
      return `${others.find(({ id }) => id === tierId)?.name ?? ''}: ${message}`;
    }),
    /** what is possible but seldom meant, in words */
    warnings: [
      ...coverWords(hung, units, ({ aboveId, reachingId, belowId }) =>
        [aboveId, reachingId, belowId].includes(figures.id),
      ),
      ...nearFloor(form, tiers, garment, units, (tierId) => tierId === figures.id),
    ],
  };
}

/** The garment with these figures in the place of the tier of that number, or as one tier more. */
export function withTier(garment: Garment, figures: TierFigures): Garment {
  const old = garment.tiers.find(({ id }) => id === figures.id);
  const record: Omit<TierRecord, 'label'> = {
    position: garment.tiers.length + 1,
    version: 1,
    changedAt: null,
    changedBy: null,
    typed: '{}',
    madeTicks: null,
    ...old,
    ...figures,
    takenOutAt: null,
  };
  const others = garment.tiers.filter(({ id }) => id !== figures.id);
  const tiers = [...others, record];
  const placings = placingsOf({ ...garment, tiers: withLabels(tiers) });
  const placed = tiers.map((tier) => {
    const placing = placings.get(tier.id);
    return placing?.ok ? { ...tier, dropTicks: placing.dropTicks } : tier;
  });
  return { ...garment, tiers: withLabels(placed) };
}

/** The figures of a form that was read; `units` are those in which it was typed. */
export function tierFigures(form: TierForm, tierId: number, units: Units): TierFigures {
  const { system } = units;
  const { hangs, onTierId } = form.hangs;
  return {
    id: tierId,
    ownName: form.name,
    name: form.name,
    hangs,
    dropTicks: onTierId === null ? (form.drop?.value ?? 0) : null,
    placedBy: form.placed.by,
    placedTicks: placedTicksOf(form),
    levelTierId: form.placed.levelTierId,
    onTierId,
    heightTicks: hangs === 'face' ? (form.height?.value ?? null) : null,
    clothId: form.cloth_id,
    depthTicks: form.depth.value,
    overlapTicks: form.overlap?.value ?? 0,
    ...withExact(form.fullness),
    ratioTierId: form.ratio_tier_id,
    ring: form.closing === 'ring',
    openingWay: form.opening_way,
    seamKind: form.seam_kind,
    seamTicks: form.seam?.value ?? usualSeam(form.seam_kind, system).ticks,
    endTicks: form.end?.value ?? 0,
    headingTicks: form.heading?.value ?? 0,
    upperEdge: form.upper_edge,
    hangSeamTicks: form.hang_seam?.value ?? usualEdge(form.upper_edge, system).ticks,
    lowerEdge: form.lower_edge,
    hemTicks: form.hem?.value ?? usualEdge(form.lower_edge, system).ticks,
    hemFirst: form.hem_first,
    direction: form.direction,
    offsetStrips: form.offset?.value ?? 0,
    stripLengthTicks: form.strip_length?.value ?? null,
    finishRepeat: form.finish_repeat,
    blocks: form.blocks.map((block) => ({
      shadeId: block.shade_id,
      clothId: block.cloth_id === form.cloth_id ? null : block.cloth_id,
      strips: block.strips.value,
      lots: block.lots,
    })),
  };
}

function placedTicksOf({ placed, drop, height }: TierForm): number | null {
  if (placed.by === 'lower') return drop?.value ?? 0;
  return placed.by === 'floor' ? (height?.value ?? 0) : null;
}

const FIELD: Record<TierProblem['field'], string> = {
  hangs: 'hangs',
  height: 'height',
  ratio: 'ratio_tier_id',
  drop: 'drop',
  placed: 'placed',
  cloth: 'cloth_id',
  depth: 'depth',
  fullness: 'fullness',
  seam: 'seam',
  end: 'end',
  heading: 'heading',
  'hang seam': 'hang_seam',
  hem: 'hem',
  length: 'strip_length',
  blocks: 'blocks',
  base: '',
};

function parted<T>(all: readonly T[], isFirst: (one: T) => boolean): [T[], T[]] {
  return [all.filter(isFirst), all.filter((one) => !isFirst(one))];
}

function distinct(problems: readonly Problem[]): readonly Problem[] {
  const isFirst = (problem: Problem, place: number) =>
    problems.findIndex(({ field, message }) => field === problem.field && message === problem.message) ===
    place;
  return problems.filter(isFirst);
}
