/** A tier backwards: from the cloth that there is to how full, how deep and of which strips it can be. */
import { greatestThatWorks, leastWasteLengths } from '../garment/backwards.ts';
import { MAX_FULLNESS_MILLI } from '../garment/band.ts';
import { clothLength } from '../garment/cloth-length.ts';
import type { Form } from '../garment/girth.ts';
import { seamsOf } from '../garment/sewing.ts';
import { type Tier, type WorkedTier, workTiers } from '../garment/tiers.ts';
import { stripsArea } from '../garment/weight.ts';
import { divideRounded, stored } from '../quantity/figure-show.ts';
import { fitStrips, type Stretch } from './strips.ts';

interface OfShade {
  readonly clothId: number;
  readonly shadeId: number;
}

/** What there is for a tier: free cloth of its kinds and shades, and what is held and cut for it already. */
export interface TierSupply {
  readonly free: readonly (Stretch & OfShade)[];
  readonly held: readonly (Stretch & OfShade)[];
  readonly cut: readonly (OfShade & {
    readonly lotId: number;
    /** strips */
    readonly count: number;
    /** in ticks; null where it was not kept */
    readonly size: { readonly depthTicks: number; readonly lengthTicks: number } | null;
  })[];
}

export type TierChanges = Partial<
  Pick<Tier, 'fullnessMilli' | 'fullnessExact' | 'depthTicks' | 'stripLengthTicks'>
>;

/** A tier with some of its figures changed, worked out among the other tiers as they are; null where that cannot be. */
export type Rework = (changes: TierChanges) => WorkedTier | null;

/** Works a tier of a garment anew, by the usable width of each cloth in ticks. */
export function reworkOf(
  { form, tiers }: { readonly form: Form; readonly tiers: readonly Tier[] },
  tierId: number,
  usableWidthTicks: ReadonlyMap<number, number>,
): Rework {
  return (changes) => {
    const changed = tiers.map((one) => (one.tierId === tierId ? { ...one, ...changes } : one));
    const worked = workTiers(form, changed, usableWidthTicks);
    // What stands against tiers that hang on this one is told where the change is saved.
    return worked.tiers.find((one) => one.tierId === tierId) ?? null;
  };
}

/**
 * Whether all strips of a tier can be cut from what there is: those that are cut in the same size count, the others
 * must fit into lengths that are held for it or free. Unless any lot will do, each shade comes from one lot, and from
 * the lot that was cut into already.
 */
export function canBeCut(worked: WorkedTier, { free, held, cut }: TierSupply): boolean {
  return worked.count.perShade.every((strips) => {
    const isSame = (row: OfShade) => row.clothId === strips.clothId && row.shadeId === strips.shadeId;
    const mine = cut.filter(isSame);
    const alike = mine.filter(
      ({ size }) =>
        size === null ||
        (size.depthTicks === worked.cutDepthTicks && size.lengthTicks === strips.stripLengthTicks),
    );
    const count = strips.count - alike.reduce((sum, one) => sum + one.count, 0);
    if (count <= 0) return true;
    const lots = new Set(mine.map(({ lotId }) => lotId));
    const isAllowed = ({ lotId }: Stretch) => strips.lots === 'any' || lots.size === 0 || lots.has(lotId);
    const demand = {
      tierId: worked.tierId,
      depthTicks: worked.cutDepthTicks,
      lengthTicks: strips.stripLengthTicks,
      direction: strips.direction,
      count,
    };
    const stretches = [...held, ...free].filter(isSame).filter(isAllowed);
    return fitStrips([demand], stretches, strips.lots).missingStrips === 0;
  });
}

/** Whether as many strips are cut of each shade as the tier wants. */
export function isAllCut(now: WorkedTier, { cut }: TierSupply): boolean {
  return now.count.perShade.every(
    ({ clothId, shadeId, count }) =>
      cut
        .filter((row) => row.clothId === clothId && row.shadeId === shadeId)
        .reduce((sum, one) => sum + one.count, 0) >= count,
  );
}

/** The fullest that a tier can be, in thousandths, and what it comes to then; null where not even flat can be cut. */
export function fullest(
  now: WorkedTier,
  rework: Rework,
  supply: TierSupply,
): { readonly fullnessMilli: number; readonly worked: WorkedTier } | null {
  const works = (fullnessMilli: number) => {
    const worked = rework({ fullnessMilli, fullnessExact: null });
    return worked !== null && canBeCut(worked, supply);
  };
  // Of a ratio, the least is what comes to the length that it is gathered onto.
  const least = Math.max(1000, Math.ceil((now.baseTicks * 1000) / now.ofTicks));
  const found = greatestThatWorks(least, MAX_FULLNESS_MILLI, works);
  if (found === null) return null;
  // Two places are as many as anybody types, and less full can always be cut too.
  const fullnessMilli = Math.max(least, found - (found % 10));
  const worked = rework({ fullnessMilli, fullnessExact: null });
  return worked && { fullnessMilli, worked };
}

/** The deepest finished depth of which all strips can be cut, in whole `stepTicks`; null where none can. */
export function deepest(
  rework: Rework,
  supply: TierSupply,
  mostTicks: number,
  stepTicks: number,
): { readonly depthTicks: number; readonly worked: WorkedTier } | null {
  const works = (steps: number) => {
    const worked = rework({ depthTicks: steps * stepTicks });
    return worked !== null && canBeCut(worked, supply);
  };
  const steps = greatestThatWorks(1, Math.floor(mostTicks / stepTicks), works);
  const worked = steps === null ? null : rework({ depthTicks: steps * stepTicks });
  return steps !== null && worked ? { depthTicks: steps * stepTicks, worked } : null;
}

/** A tier with one strip length: what it takes of fresh cloth, and what of it goes to waste. */
export interface StripLengthAnswer {
  /** null takes the whole usable width of each cloth */
  readonly stripLengthTicks: number | null;
  readonly strips: number;
  readonly seams: number;
  readonly fullnessMilli: number;
  readonly clothTicks: number;
  /** cloth beside and after the strips, in hundredths of a percent of what is bought, rounded up */
  readonly wasteBp: number;
}

type TierOfStrips = Pick<Tier, 'seamTicks' | 'stripLengthTicks'>;

const MOST_COLUMNS = 4;

/**
 * The strip lengths that waste least of the usable width, and the present one, the present one first. The lengths of
 * several cloths are added up; each shade has whole cut lengths of its own.
 */
export function stripLengths(
  tier: TierOfStrips,
  rework: Rework,
  usableWidthTicks: ReadonlyMap<number, number>,
): StripLengthAnswer[] {
  const narrowest = Math.min(...usableWidthTicks.values());
  const fractions = leastWasteLengths(narrowest, 2 * tier.seamTicks, MOST_COLUMNS);
  const lengths = [
    tier.stripLengthTicks,
    ...fractions.map(({ columns, lengthTicks }) => (columns === 1 ? null : lengthTicks)),
  ];
  return [...new Set(lengths)].flatMap((stripLengthTicks) => {
    const worked = rework({ stripLengthTicks });
    const found = worked && answerLength(worked, stripLengthTicks, usableWidthTicks);
    return found ? [found] : [];
  });
}

function answerLength(
  { closing, cutDepthTicks, count }: WorkedTier,
  stripLengthTicks: number | null,
  usableWidthTicks: ReadonlyMap<number, number>,
): StripLengthAnswer | null {
  let clothTicks = 0;
  let bought = 0n;
  let used = 0n;
  for (const one of count.perShade) {
    const widthTicks = usableWidthTicks.get(one.clothId) ?? 0;
    const strips = {
      depthTicks: cutDepthTicks,
      lengthTicks: one.stripLengthTicks,
      direction: one.direction,
      count: one.count,
    };
    const cloth = clothLength([strips], widthTicks);
    if (!cloth.ok) return null;
    clothTicks += cloth.totalTicks;
    bought += BigInt(cloth.totalTicks) * BigInt(widthTicks);
    used += stripsArea([strips]);
  }
  return {
    stripLengthTicks,
    strips: count.strips,
    seams: seamsOf(closing, count.strips),
    fullnessMilli: count.fullnessMilli,
    clothTicks,
    wasteBp: stored(divideRounded((bought - used) * 10_000n, bought, 'up')),
  };
}

/** The best of several: least cloth, then fewest seams, then the present one. */
export function leastCloth(answers: readonly StripLengthAnswer[]): StripLengthAnswer | null {
  return answers.reduce<StripLengthAnswer | null>(
    (best, one) =>
      best === null ||
      one.clothTicks < best.clothTicks ||
      (one.clothTicks === best.clothTicks && one.seams < best.seams)
        ? one
        : best,
    null,
  );
}
