import {
  type ColourBlock,
  checkDepth,
  cutDepth,
  type DepthParts,
  type LotRule,
  type StripProblem,
} from './band.ts';
import { type Form, girthAt } from './form.ts';
import { countStrips, type StripCount } from './strips.ts';

/** A colour block as a tier names it; the strip's length follows from the cloth or from the tier. */
export interface TierBlock {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lots: LotRule;
  readonly strips: number;
}

/** Any gathered band: it hangs from the form at a drop, or edges another tier's lower edge. */
export interface Tier extends DepthParts {
  readonly tierId: number;
  readonly name: string;
  readonly hangs:
    | { readonly on: 'form'; readonly dropTicks: number }
    | { readonly on: 'tier'; readonly tierId: number };
  readonly closing: 'ring' | 'open';
  readonly fullnessMilli: number;
  readonly seamTicks: number;
  readonly endTicks: number;
  /** The cut length of a strip; null takes the whole usable width of each block's cloth. */
  readonly stripLengthTicks: number | null;
  readonly blocks: readonly TierBlock[];
  readonly finishRepeat: boolean;
}

export interface TierProblem {
  readonly tierId: number;
  readonly field: StripProblem['field'] | 'hangs' | 'drop' | 'cloth';
  readonly message: string;
}

/** A tier worked out: what it is gathered onto and what must be cut for it. */
export interface WorkedTier {
  readonly tierId: number;
  readonly name: string;
  /** The length it is gathered onto: the girth at its drop, or the sewn lower edge of the tier it edges. */
  readonly baseTicks: number;
  readonly cutDepthTicks: number;
  readonly count: StripCount;
}

/** `tiers` holds those that could be worked out, in the order given, even where others have problems. */
export type Worked =
  | { readonly ok: true; readonly tiers: readonly WorkedTier[] }
  | {
      readonly ok: false;
      readonly tiers: readonly WorkedTier[];
      readonly problems: readonly TierProblem[];
    };

/**
 * Works out every tier of a garment: base length, flat length and strips.
 *
 * `usableWidthTicks` gives the usable width of each cloth by its id. A tier that edges another is gathered onto that
 * tier's flat sewn length (for a ring of N strips N·(w − 2s)), for its lower edge is not gathered. Refused, with all
 * problems together: a drop outside the form, an unknown tier or cloth, tiers that edge each other in a loop (the
 * loop is named), a strip longer than the usable width, and whatever `countStrips` refuses. A tier that hangs on a
 * refused one is left out without a problem of its own.
 */
export function workTiers(
  form: Form,
  tiers: readonly Tier[],
  usableWidthTicks: ReadonlyMap<number, number>,
): Worked {
  const byId = new Map(tiers.map((tier) => [tier.tierId, tier]));
  if (byId.size !== tiers.length) {
    throw new RangeError('two tiers of a garment have the same id');
  }
  const problems: TierProblem[] = [...checkHanging(tiers, byId)];
  const worked = new Map<number, WorkedTier>();
  for (const tier of hangingOrder(tiers, byId)) {
    const base = baseOf(form, tier, worked);
    const [found, wrong] = base.ok
      ? workTier(tier, base.ticks, usableWidthTicks)
      : [undefined, base.problems];
    problems.push(...wrong);
    if (found !== undefined) {
      worked.set(tier.tierId, found);
    }
  }
  const inOrder = tiers.flatMap((tier) => worked.get(tier.tierId) ?? []);
  return problems.length === 0 ? { ok: true, tiers: inOrder } : { ok: false, tiers: inOrder, problems };
}

type TierMap = ReadonlyMap<number, Tier>;

/** Unknown tiers and loops; each loop is told once, at its first tier. */
function checkHanging(tiers: readonly Tier[], byId: TierMap): TierProblem[] {
  const problems: TierProblem[] = [];
  const told = new Set<number>();
  for (const tier of tiers) {
    if (tier.hangs.on === 'tier' && !byId.has(tier.hangs.tierId)) {
      problems.push({
        tierId: tier.tierId,
        field: 'hangs',
        message: 'The tier that this one edges does not exist.',
      });
    }
    const loop = loopFrom(tier, byId);
    if (loop.length > 0 && !told.has(tier.tierId)) {
      const names = [...loop.slice(1), tier].map((next) => next.name).join(', which edges ');
      const message = `${tier.name} edges ${names}: one tier of a loop must hang from the form.`;
      problems.push({ tierId: tier.tierId, field: 'hangs', message });
      loop.forEach((member) => {
        told.add(member.tierId);
      });
    }
  }
  return problems;
}

/** The loop that starts and ends at a tier, in the order of hanging; empty where it is in none. */
function loopFrom(tier: Tier, byId: TierMap): Tier[] {
  const path: Tier[] = [];
  let next: Tier | undefined = tier;
  while (next !== undefined && path.length < byId.size) {
    path.push(next);
    next = next.hangs.on === 'tier' ? byId.get(next.hangs.tierId) : undefined;
    if (next === tier) {
      return path;
    }
  }
  return [];
}

/** The tiers that lead down to the form, each after the tier it edges. */
function hangingOrder(tiers: readonly Tier[], byId: TierMap): Tier[] {
  const depths = tiers.flatMap((tier) => {
    let steps = 0;
    let next: Tier | undefined = tier;
    while (next !== undefined && next.hangs.on === 'tier' && steps <= tiers.length) {
      next = byId.get(next.hangs.tierId);
      steps += 1;
    }
    return next === undefined || steps > tiers.length ? [] : [{ tier, steps }];
  });
  return depths.sort((a, b) => a.steps - b.steps).map(({ tier }) => tier);
}

type Base =
  | { readonly ok: true; readonly ticks: number }
  | { readonly ok: false; readonly problems: readonly TierProblem[] };

function baseOf(form: Form, tier: Tier, worked: ReadonlyMap<number, WorkedTier>): Base {
  if (tier.hangs.on === 'tier') {
    const edged = worked.get(tier.hangs.tierId);
    return edged === undefined ? { ok: false, problems: [] } : { ok: true, ticks: edged.count.flatTicks };
  }
  const girth = girthAt(form, tier.hangs.dropTicks);
  return girth.ok
    ? { ok: true, ticks: girth.girthTicks }
    : {
        ok: false,
        problems: [{ tierId: tier.tierId, field: 'drop', message: girth.reason }],
      };
}

function workTier(
  tier: Tier,
  baseTicks: number,
  usableWidthTicks: ReadonlyMap<number, number>,
): readonly [WorkedTier | undefined, readonly TierProblem[]] {
  const { tierId, name } = tier;
  const problems: TierProblem[] = [];
  const blocks: ColourBlock[] = [];
  for (const block of tier.blocks) {
    const widthTicks = usableWidthTicks.get(block.clothId);
    if (widthTicks === undefined) {
      problems.push({
        tierId,
        field: 'cloth',
        message: 'This cloth does not exist.',
      });
    } else if (tier.stripLengthTicks !== null && tier.stripLengthTicks > widthTicks) {
      problems.push({
        tierId,
        field: 'length',
        message: 'A strip is longer than the usable width of its cloth.',
      });
    } else {
      blocks.push({
        ...block,
        stripLengthTicks: tier.stripLengthTicks ?? widthTicks,
        direction: 'across',
      });
    }
  }
  problems.push(...checkDepth(tier).map((problem) => ({ tierId, ...problem })));
  if (blocks.length < tier.blocks.length) {
    return [undefined, problems];
  }
  const { fullnessMilli, closing, seamTicks, endTicks, finishRepeat } = tier;
  const counted = countStrips({
    baseTicks,
    fullnessMilli,
    closing,
    seamTicks,
    endTicks,
    blocks,
    finishRepeat,
  });
  if (!counted.ok) {
    problems.push(...counted.problems.map((problem) => ({ tierId, ...problem })));
  }
  if (!counted.ok || problems.length > 0) {
    return [undefined, problems];
  }
  return [
    {
      tierId,
      name,
      baseTicks,
      cutDepthTicks: cutDepth(tier),
      count: counted.count,
    },
    [],
  ];
}
