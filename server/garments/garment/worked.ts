import { type ClothWay, type ClothWays, layOnCloth, NO_WAYS } from '../../../src/garment/cloth-way.ts';
import type { Form } from '../../../src/garment/girth.ts';
import type { Hanging } from '../../../src/garment/hanging.ts';
import { type Need, needsOf, type PartToCut } from '../../../src/garment/need.ts';
import { type Placing, placeTiers } from '../../../src/garment/placing.ts';
import { compareLabels } from '../../../src/garment/tier-labels.ts';
import {
  type Tier,
  type TierProblem,
  type Worked,
  type WorkedTier,
  workTiers,
} from '../../../src/garment/tiers.ts';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { onceFor } from '../../kit/once.ts';
import { clothsOfParts, partsToCut, type ShapedRow, shapedRows } from '../parts/cut.ts';
import { type Garment, type GirthRecord, readGarment, type TierFigures, type TierRecord } from './records.ts';

/** A garment worked out: the tiers that can be, what stands against the others, and what is needed. */
export interface WorkedGarment {
  readonly garment: Garment;
  readonly tiers: readonly WorkedTier[];
  readonly problems: readonly TierProblem[];
  /** the parts that are cut of cloth */
  readonly parts: readonly PartToCut[];
  readonly needs: readonly Need[];
}

/** Works out garments from what is in the book now; tiers that were taken out do not count. */
export function workGarments(reader: Reader, garments: readonly Garment[]): WorkedGarment[] {
  const clothIds = garments.flatMap((garment) => [
    ...garment.tiers.flatMap(clothIdsOf),
    ...clothsOfParts(garment),
  ]);
  const ids = [...new Set(clothIds)];
  const widths = readUsableWidths(reader, ids);
  const ways = readClothWays(reader, ids);
  return garments.map((garment) => workedBy(garment, widths, ways));
}

/** A garment worked out from what is in the book now. @throws {Refusal} unknown */
export const workGarment = keptUntilWritten((reader, code: string): WorkedGarment => {
  const [worked] = workGarments(reader, [readGarment(reader, code)]);
  if (!worked) throw new Error('a garment that was read is worked out');
  return worked;
});

/** Works out a garment with the usable widths, and the ways and patterns, of its cloths that are given. */
export function workedBy(
  garment: Garment,
  widths: ReadonlyMap<number, number>,
  ways: ClothWays = NO_WAYS,
): WorkedGarment {
  const worked = workTiersOf(garment, widths);
  const tiers = worked.tiers.map((tier) => layTier(tier, widths, ways));
  const parts = partsToCut(garment, widths, ways);
  const needs = needsOf(tiers, parts);
  return { garment, tiers, problems: problemsOf(worked), parts, needs };
}

/** A tier with its strips as their cloths let them lie. */
export function layTier(tier: WorkedTier, widths: ReadonlyMap<number, number>, ways: ClothWays): WorkedTier {
  if (!tier.count.perShade.some(({ clothId }) => ways.has(clothId))) return tier;
  const perShade = tier.count.perShade.map((shade) => {
    const way = ways.get(shade.clothId);
    if (!way) return shade;
    const { direction, ...cutAs } = layOnCloth(
      { depthTicks: tier.cutDepthTicks, lengthTicks: shade.stripLengthTicks, direction: shade.direction },
      way,
      widths.get(shade.clothId) ?? 0,
    );
    return { ...shade, direction, cutAs };
  });
  return { ...tier, count: { ...tier.count, perShade } };
}

/** The tiers of a garment alone. */
export function workTiersOf(garment: Garment, widths: ReadonlyMap<number, number>): Worked {
  return workTiers(formOfGarment(garment), tiersIn(garment).map(asTier), widths);
}

/** The shapes that are cut out of the rectangles of a garment's parts, by the row that they are cut for. */
export function readShapedRows(reader: Reader, garment: Garment): Map<number, ShapedRow> {
  return shapedRows(garment, readUsableWidths(reader, [...new Set(clothsOfParts(garment))]));
}

export function problemsOf(worked: Worked): readonly TierProblem[] {
  return worked.ok ? [] : worked.problems;
}

/**
 * The tiers of a garment that were not taken out, in the order of their labels: from the top down, each followed by what
 * is sewn to it. One that is placed by its lower edge hangs at the drop that follows; where none does, at that of its
 * last saving.
 */
export const tiersIn = onceFor((garment: Garment): readonly TierRecord[] => {
  const placings = placingsOf(garment);
  const tiers = garment.tiers
    .filter(({ takenOutAt }) => takenOutAt === null)
    .map((tier) => {
      const placing = placings.get(tier.id);
      return placing?.ok ? { ...tier, dropTicks: placing.dropTicks } : tier;
    });
  return tiers.sort((a, b) => compareLabels(a.label, b.label) || a.position - b.position);
});

/** Where the tiers that are placed by their lower edge come to hang, or why they do not. */
export function placingsOf(garment: Garment): Map<number, Placing> {
  const tiers = garment.tiers.filter(({ takenOutAt }) => takenOutAt === null);
  if (tiers.every(({ placedBy }) => placedBy === 'upper')) return new Map();
  const placed = tiers.map((tier) => ({ ...tier, ...asTier(tier) }));
  return placeTiers(formOfGarment(garment), garment.waistHeightTicks, placed);
}

/** The cloths of a tier: its own and those of its blocks. */
export function clothIdsOf({ clothId, blocks }: Pick<TierRecord, 'clothId' | 'blocks'>): number[] {
  return [clothId, ...blocks.flatMap((block) => block.clothId ?? [])];
}

/** The form of a garment as the arithmetic takes it. */
export function formOfGarment(
  garment: Pick<Garment, 'profile' | 'foundationEaseTicks' | 'openingTicks'> & {
    readonly girths: readonly Girths[];
  },
): Form {
  const { profile, foundationEaseTicks, openingTicks } = garment;
  const girths = garment.girths.map(({ dropTicks, girthTicks, hoopWidthTicks, hoopDepthTicks }) => ({
    dropTicks,
    girthTicks,
    hoop:
      hoopWidthTicks === null
        ? null
        : { widthTicks: hoopWidthTicks, depthTicks: hoopDepthTicks ?? hoopWidthTicks },
  }));
  return { girths, profile, foundationEaseTicks, openingTicks: openingTicks ?? 0 };
}

type Girths = Omit<GirthRecord, 'typed'>;

/** A tier as the arithmetic takes it. */
export function asTier(tier: TierFigures): Tier {
  const { clothId } = tier;
  return {
    tierId: tier.id,
    name: tier.name,
    hangs: hangingOf(tier),
    ratioTierId: tier.ratioTierId,
    closing: tier.ring ? 'ring' : 'open',
    openingWay: tier.openingWay,
    fullnessMilli: tier.fullnessMilli,
    fullnessExact: tier.fullnessExact,
    seamTicks: tier.seamTicks,
    endTicks: tier.endTicks,
    direction: tier.direction,
    stripLengthTicks: tier.stripLengthTicks,
    blocks: tier.blocks.map((block) => ({ ...block, clothId: block.clothId ?? clothId })),
    offsetStrips: tier.offsetStrips,
    finishRepeat: tier.finishRepeat,
    depthTicks: tier.depthTicks,
    headingTicks: tier.headingTicks,
    hangSeamTicks: tier.hangSeamTicks,
    hemTicks: tier.hemTicks,
  };
}

function hangingOf({ hangs, dropTicks, onTierId, heightTicks }: TierFigures): Hanging {
  if (hangs === 'edge') return { on: hangs, tierId: onTierId ?? 0 };
  if (hangs === 'face') return { on: hangs, tierId: onTierId ?? 0, heightTicks: heightTicks ?? 0 };
  return { on: hangs, dropTicks: dropTicks ?? 0 };
}

const waysOf = prepared((db, clothIds: Param<readonly number[]>) =>
  db
    .selectFrom('cloth')
    .select(['id', 'one_way', 'repeat_ticks'])
    .where('id', 'in', inList(clothIds))
    .where(({ or, eb }) => or([eb('one_way', '=', 1), eb('repeat_ticks', 'is not', null)])),
);

/** Those of the cloths that have a way or a pattern. */
export function readClothWays(reader: Reader, clothIds: readonly number[]): ClothWays {
  if (clothIds.length === 0) return new Map();
  const rows = reader.all(waysOf(clothIds));
  return new Map(
    rows.map((row): [number, ClothWay] => [
      row.id,
      { oneWay: row.one_way === 1, repeatTicks: row.repeat_ticks },
    ]),
  );
}

const widthsOf = prepared((db, clothIds: Param<readonly number[]>) =>
  db.selectFrom('cloth').select(['id', 'usable_width_ticks']).where('id', 'in', inList(clothIds)),
);

export function readUsableWidths(reader: Reader, clothIds: readonly number[]): Map<number, number> {
  if (clothIds.length === 0) return new Map();
  const rows = reader.all(widthsOf(clothIds));
  return new Map(rows.map((row) => [row.id, row.usable_width_ticks]));
}
