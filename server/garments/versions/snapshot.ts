import { z } from 'zod';
import { USUAL_BANDS } from '../../../src/colour/lot-pair.ts';
import type { ClothWays } from '../../../src/garment/cloth-way.ts';
import { FASTENINGS, OPENING_WAYS } from '../../../src/garment/opening.ts';
import { PLACED_BY } from '../../../src/garment/placing.ts';
import { readStored } from '../../database/stored.ts';
import { type Garment, type TierRecord, withLabels } from '../garment/records.ts';

const ticks = z.int();
const count = z.int().min(0);
const optionalTicks = ticks.nullable();

const block = z.object({
  shadeId: count,
  clothId: count.nullable(),
  strips: count,
  lots: z.enum(['one', 'meet', 'any']),
});

const edge = ['rolled', 'narrow', 'faced', 'bound', 'raw'] as const;

const tier = z.object({
  id: count,
  position: count,
  name: z.string(),
  hangs: z.enum(['form', 'foundation', 'edge', 'face']),
  dropTicks: optionalTicks,
  onTierId: count.nullable(),
  heightTicks: optionalTicks,
  clothId: count,
  depthTicks: ticks,
  overlapTicks: ticks,
  fullnessMilli: count,
  // A version of before fractions were kept stands at its thousandths.
  fullnessExact: z.object({ num: count, den: count }).nullable().default(null),
  ratioTierId: count.nullable(),
  ring: z.boolean(),
  openingWay: z.enum(OPENING_WAYS).default('finished'),
  placedBy: z.enum(PLACED_BY).default('upper'),
  placedTicks: optionalTicks.default(null),
  levelTierId: count.nullable().default(null),
  madeTicks: optionalTicks.default(null),
  seamKind: z.enum(['plain', 'french', 'overlocked']),
  seamTicks: ticks,
  endTicks: ticks,
  headingTicks: ticks,
  upperEdge: z.enum(['seam', ...edge]),
  hangSeamTicks: ticks,
  lowerEdge: z.enum(edge),
  hemTicks: ticks,
  hemFirst: z.boolean(),
  direction: z.enum(['across', 'along', 'either']),
  stripLengthTicks: optionalTicks,
  offsetStrips: count,
  finishRepeat: z.boolean(),
  takenOutAt: z.string().nullable(),
  blocks: z.array(block),
});

const part = z
  .object({
    id: count,
    rows: z.array(z.object({ id: count, size: z.string() })).optional(),
    // A version of before parts had several sizes names the row of their one.
    rowId: count.nullable().optional(),
    kind: z.string(),
    name: z.string(),
    unit: z.enum(['mm', 'cm', 'm', 'in', 'ft', 'yd']),
    asked: z.record(z.string(), z.string()),
    pieces: count,
    clothId: count.nullable(),
    shadeId: count.nullable(),
    takenOutAt: z.string().nullable(),
  })
  .transform(({ rows, rowId, ...figures }) => ({
    ...figures,
    rows: rows ?? (rowId ? [{ id: rowId, size: '' }] : []),
  }));

const girth = z.object({
  dropTicks: ticks,
  girthTicks: ticks,
  hoopWidthTicks: optionalTicks,
  hoopDepthTicks: optionalTicks,
});

/**
 * A garment as it stood: what its strips and pictures follow from, the usable widths of its cloths included, so that
 * an old version comes to the same figures later. What a later program adds to a garment gets a default here.
 */
const snapshotSchema = z.object({
  name: z.string(),
  note: z.string(),
  dueOn: z.string().nullable(),
  waistHeightTicks: optionalTicks,
  clearanceTicks: optionalTicks,
  frontDropTicks: optionalTicks,
  sideDropTicks: optionalTicks,
  backDropTicks: optionalTicks,
  profile: z.enum(['straight', 'domed']),
  foundationEaseTicks: ticks,
  meetCentiDeltaE: count,
  openingTicks: optionalTicks.default(null),
  fastening: z.enum(FASTENINGS).default('hooks'),
  fastenerTicks: optionalTicks.default(null),
  overTicks: optionalTicks.default(null),
  lookCentiDeltaE: count.default(USUAL_BANDS.apartCenti - USUAL_BANDS.meetCenti),
  girths: z.array(girth),
  tiers: z.array(tier),
  // A version of before parts were kept with it stands with the parts of today.
  parts: z.array(part).nullable().default(null),
  usableWidths: z.array(z.object({ clothId: count, widthTicks: ticks })),
  clothWays: z
    .array(z.object({ clothId: count, oneWay: z.boolean(), repeatTicks: optionalTicks }))
    .default([]),
});

export type Snapshot = z.output<typeof snapshotSchema>;

/** What is kept of a garment as it stands, as JSON. */
export function writeSnapshot(
  garment: Garment,
  widths: ReadonlyMap<number, number>,
  ways: ClothWays,
): string {
  const usableWidths = [...widths].map(([clothId, widthTicks]) => ({ clothId, widthTicks }));
  const clothWays = [...ways].map(([clothId, way]) => ({ clothId, ...way }));
  // Labels follow from where the tiers hang, so of a name only what somebody gave is kept.
  const tiers = garment.tiers.map((each) => ({ ...each, name: each.ownName }));
  // Parsing leaves out what a row says of itself: its version, who changed it, what was typed.
  return JSON.stringify(snapshotSchema.parse({ ...garment, tiers, usableWidths, clothWays }));
}

/** Reads a snapshot. Throws where it is none: nobody but this program writes them. */
export function readSnapshot(json: string): Snapshot {
  return readStored(snapshotSchema, json);
}

/** A garment as it stood in a snapshot, in the place of what it is now. */
export function garmentOf(now: Garment, snapshot: Snapshot): Garment {
  const { usableWidths: _, clothWays: __, girths, tiers, parts, ...rest } = snapshot;
  const asTier = (figures: Snapshot['tiers'][number]): Omit<TierRecord, 'label' | 'ownName'> => ({
    ...figures,
    version: 1,
    changedAt: null,
    changedBy: null,
    typed: '{}',
  });
  return {
    ...now,
    ...rest,
    girths: girths.map((one) => ({ ...one, typed: '{}' })),
    tiers: withLabels(tiers.map(asTier)),
    parts: parts?.map((one) => ({ ...one, version: 1, changedAt: '', changedBy: null })) ?? now.parts,
  };
}

export function waysOf({ clothWays }: Snapshot): ClothWays {
  return new Map(clothWays.map(({ clothId, ...way }) => [clothId, way]));
}

export function widthsOf(snapshot: Snapshot): Map<number, number> {
  return new Map(snapshot.usableWidths.map(({ clothId, widthTicks }) => [clothId, widthTicks]));
}
