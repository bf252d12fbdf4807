import { type Fullness, sayFullness, showFullness } from '../quantity/fullness.ts';
import {
  type ColourBlock,
  checkDepth,
  cutDepth,
  type DepthParts,
  type Direction,
  type LotRule,
  type StripProblem,
} from './band.ts';
import { girthAt } from './form.ts';
import type { Form } from './girth.ts';
import { type Hung, hangingOrder } from './hanging.ts';
import { type OpeningWay, openingsOf, type TierOpening } from './opening.ts';
import { countStrips, type StripCount } from './strips.ts';

/** A colour block as a tier names it; the strip's length follows from the cloth or from the tier. */
export interface TierBlock {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lots: LotRule;
  readonly strips: number;
}

/** Any gathered band, wherever it is sewn on. Its fullness is of what it is sewn on, or of the sewn flat length of the tier `ratioTierId`. */
export interface Tier extends DepthParts, Hung, Fullness {
  /** by itself, whatever the garment's opening makes of it */
  readonly closing: 'ring' | 'open';
  /** what becomes of it where the garment opens: two finished ends unless said */
  readonly openingWay?: OpeningWay;
  readonly seamTicks: number;
  readonly endTicks: number;
  /** Where the length of a strip lies on the cloth. */
  readonly direction: Direction;
  /** The cut length of a strip; null takes the whole usable width of each block's cloth. */
  readonly stripLengthTicks: number | null;
  readonly blocks: readonly TierBlock[];
  /** Strips by which the order of colours starts later, so that colours step from tier to tier. */
  readonly offsetStrips: number;
  readonly finishRepeat: boolean;
}

export interface TierProblem {
  readonly tierId: number;
  readonly field: StripProblem['field'] | 'hangs' | 'ratio' | 'drop' | 'placed' | 'height' | 'cloth';
  readonly message: string;
}

/** A tier worked out: what it is gathered onto and what must be cut for it. */
export interface WorkedTier extends TierOpening {
  readonly tierId: number;
  readonly name: string;
  /** The length it is gathered onto: the girth at its drop, or the sewn flat length of the tier it is sewn on. */
  readonly baseTicks: number;
  /** What its fullness multiplies: the same, or the sewn flat length of the tier that it is a ratio of. */
  readonly ofTicks: number;
  readonly cutDepthTicks: number;
  readonly count: StripCount;
}

/** The fullness that is wanted of what a tier is sewn on, in thousandths, rounded down: of a ratio what it comes to. */
export function fullnessWanted(
  tier: Pick<Tier, 'fullnessMilli' | 'ratioTierId'>,
  worked: WorkedTier,
): number {
  if (tier.ratioTierId === null) return tier.fullnessMilli;
  return Number((BigInt(worked.count.flatWantedTicks) * 1000n) / BigInt(worked.baseTicks));
}

/** The fullness that is wanted, as it was typed; of a ratio what it comes to. */
export function sayWanted(tier: Pick<Tier, 'ratioTierId'> & Fullness, worked: WorkedTier): string {
  return tier.ratioTierId === null ? sayFullness(tier) : showFullness(fullnessWanted(tier, worked));
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
 * A band that hangs alone from a straight form as wide as what it is gathered onto (`baseTicks`), of cloths of one usable
 * width, both in ticks.
 */
export function workLoneBand(band: Tier, baseTicks: number, usableWidthTicks: number): Worked {
  const form = { girths: [0, 1].map((dropTicks) => ({ dropTicks, girthTicks: baseTicks })) };
  return workTiers(form, [band], new Map(band.blocks.map(({ clothId }) => [clothId, usableWidthTicks])));
}

/**
 * Works out every tier of a garment: base length, flat length and strips.
 *
 * `usableWidthTicks` gives the usable width of each cloth by its id. A tier at a drop is gathered onto the girth
 * there, on the foundation layer onto the girth and its ease. A tier that edges another or lies on its face is
 * gathered onto that tier's flat sewn length (for a ring of N strips N·(w − 2s)), since cloth is as long there as
 * flat. A ratio is of another tier's flat sewn length, as each flounce is "1⅓ of the one above" (1907 petticoat,
 * tudorlinks.com). Refused, with all problems together: a drop outside the form, a height outside the face, an unknown
 * tier or cloth, tiers that follow from each other in a loop (the loop is named), a strip that does not lie on its
 * cloth, and whatever `countStrips` refuses. A tier that follows from a refused one is left out without a problem of
 * its own.
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
  const { order, problems: hanging } = hangingOrder(tiers);
  const problems: TierProblem[] = [...hanging];
  const worked = new Map<number, WorkedTier>();
  const openings = openingsOf(form.openingTicks ?? 0, tiers);
  for (const tier of order) {
    const base = baseOf(form, tier, byId, worked);
    if (!base.ok) {
      problems.push(...base.problems);
      continue;
    }
    const ofTicks = tier.ratioTierId === null ? base.ticks : worked.get(tier.ratioTierId)?.count.flatTicks;
    const opening = openings.get(tier.tierId);
    if (ofTicks === undefined || !opening) continue;
    const [found, wrong] = workTier(tier, opening, base.ticks, ofTicks, usableWidthTicks);
    problems.push(...wrong);
    if (found !== undefined) {
      worked.set(tier.tierId, found);
    }
  }
  const inOrder = tiers.flatMap((tier) => worked.get(tier.tierId) ?? []);
  return problems.length === 0 ? { ok: true, tiers: inOrder } : { ok: false, tiers: inOrder, problems };
}

type Base =
  | { readonly ok: true; readonly ticks: number }
  | { readonly ok: false; readonly problems: readonly TierProblem[] };

function baseOf(
  form: Form,
  tier: Tier,
  byId: ReadonlyMap<number, Tier>,
  worked: ReadonlyMap<number, WorkedTier>,
): Base {
  const { tierId, hangs } = tier;
  const wrong = (field: TierProblem['field'], message: string): Base => ({
    ok: false,
    problems: [{ tierId, field, message }],
  });
  if (hangs.on === 'edge' || hangs.on === 'face') {
    const under = byId.get(hangs.tierId);
    const found = worked.get(hangs.tierId);
    if (!under || !found) return { ok: false, problems: [] };
    if (hangs.on === 'face' && !(hangs.heightTicks > 0 && hangs.heightTicks < under.depthTicks)) {
      return wrong(
        'height',
        `The height must lie on ${under.name}, above its lower edge and below its upper.`,
      );
    }
    // What lies on a face that is open there goes round its open part; below that it is a ring.
    const isAbove = hangs.on === 'face' && under.depthTicks - hangs.heightTicks < found.openTicks;
    return { ok: true, ticks: isAbove ? found.count.flatTicks : found.count.lowerTicks };
  }
  const girth = girthAt(form, hangs.dropTicks);
  if (!girth.ok) return wrong('drop', girth.reason);
  const easeTicks = hangs.on === 'foundation' ? (form.foundationEaseTicks ?? 0) : 0;
  return { ok: true, ticks: girth.girthTicks + easeTicks };
}

function workTier(
  tier: Tier,
  opening: TierOpening,
  baseTicks: number,
  ofTicks: number,
  usableWidthTicks: ReadonlyMap<number, number>,
): readonly [WorkedTier | undefined, readonly TierProblem[]] {
  const { tierId, name } = tier;
  const problems: TierProblem[] = [];
  const blocks: ColourBlock[] = [];
  for (const block of tier.blocks) {
    const laid = layBlock(tier, block, usableWidthTicks.get(block.clothId));
    if ('message' in laid) problems.push({ tierId, ...laid });
    else blocks.push(laid);
  }
  problems.push(...checkDepth(tier).map((problem) => ({ tierId, ...problem })));
  if (blocks.length < tier.blocks.length) {
    return [undefined, problems];
  }
  const { fullnessMilli, fullnessExact = null, seamTicks, offsetStrips, finishRepeat } = tier;
  const { closing, endTicks } = opening;
  const counted = countStrips({
    baseTicks,
    ofTicks,
    fullnessMilli,
    fullnessExact,
    closing,
    seamTicks,
    endTicks,
    blocks,
    offsetStrips,
    finishRepeat,
  });
  if (!counted.ok) {
    problems.push(...counted.problems.map((problem) => ({ tierId, ...problem })));
  }
  if (!counted.ok || problems.length > 0) {
    return [undefined, problems];
  }
  const cutDepthTicks = cutDepth(tier);
  return [{ tierId, name, baseTicks, ofTicks, cutDepthTicks, ...opening, count: counted.count }, []];
}

/**
 * The strips of a block as they lie on its cloth. Across it a strip is at most the usable width long; along it the
 * depth is what the width bounds, and the length must be given, since cloth has no end that would bound it.
 */
function layBlock(
  tier: Tier,
  block: TierBlock,
  widthTicks: number | undefined,
): ColourBlock | Pick<TierProblem, 'field' | 'message'> {
  const { direction } = tier;
  if (widthTicks === undefined)
    return { field: 'cloth', message: 'This cloth does not exist: choose one of the list.' };
  if (direction === 'along' && tier.stripLengthTicks === null) {
    return { field: 'length', message: 'Give the strip length: along the cloth nothing else bounds it.' };
  }
  const stripLengthTicks = tier.stripLengthTicks ?? widthTicks;
  const fitsAcross = stripLengthTicks <= widthTicks;
  const fitsAlong = cutDepth(tier) <= widthTicks;
  if (direction === 'across' && !fitsAcross) {
    return {
      field: 'length',
      message:
        'A strip is longer than the usable width of its cloth: enter a shorter one, or cut it along the cloth.',
    };
  }
  if (direction === 'along' && !fitsAlong) {
    return {
      field: 'depth',
      message:
        'A strip along the cloth is cut deeper than its usable width: enter less depth, or cut it across.',
    };
  }
  if (!fitsAcross && !fitsAlong) {
    return {
      field: 'length',
      message: 'A strip is longer and deeper than the usable width of its cloth: enter a shorter one.',
    };
  }
  return { ...block, stripLengthTicks, direction };
}
