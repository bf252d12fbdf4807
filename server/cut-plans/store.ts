import type { InferResult } from 'kysely';
import { z } from 'zod';
import { holdKey, type LayState, type TierPart, takeHolds } from '../../src/cut-plan/held-lays.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared, type Query } from '../database/statements.ts';
import { readStored } from '../database/stored.ts';
import { grouped } from '../kit/grouped.ts';
import { LOT_OF_PIECE } from '../ledger/joined-lots.ts';
import { inForce } from '../ledger/standing.ts';

/** A run of equal strips of one tier in a lay, from the left edge. In ticks; `turned` where their length lies along. */
const slitSchema = z.object({
  tierId: z.number().int().positive(),
  depthTicks: z.number().int().positive(),
  lengthTicks: z.number().int().positive(),
  turned: z.boolean(),
  leftTicks: z.number().int().nonnegative(),
  acrossTicks: z.number().int().positive(),
  alongTicks: z.number().int().positive(),
  columns: z.number().int().positive(),
  stack: z.number().int().positive(),
  strips: z.number().int().positive(),
});
export type StoredSlit = z.output<typeof slitSchema>;

/** A lay of a plan that was held. Along the piece it counts from where the free end first was. */
export interface StoredLay {
  readonly id: number;
  readonly planId: number;
  readonly position: number;
  readonly pieceId: number;
  readonly lotId: number;
  readonly fromTicks: number;
  readonly lengthTicks: number;
  readonly slits: readonly StoredSlit[];
  /** what it gives each tier, and how much of its length is held for that tier */
  readonly parts: readonly TierPart[];
  readonly state: LayState;
  /** the request that cut it; '' where it is not cut */
  readonly cutKey: string;
}

/** A plan that is held now, with its lays in the order of cutting. */
export interface StoredPlan {
  readonly id: number;
  readonly garmentId: number;
  readonly clothId: number;
  readonly shadeId: number;
  readonly wish: 'least length' | 'fewest lays' | 'longest remnants';
  readonly shortStrips: number;
  readonly chargedTicks: number;
  readonly chargedArea: number;
  readonly boundArea: number;
  readonly boundOver: 'all lots' | 'these lots';
  readonly heldKey: string;
  readonly at: string;
  readonly by: string;
  readonly lays: readonly StoredLay[];
}

/**
 * The plans that are held for garments, the latest last; of some cloths and shades only where they are given. Undone and
 * given-up ones are left out.
 */
export function readHeldPlans(
  reader: Reader,
  garmentIds: readonly number[],
  of: readonly ClothShade[] | null = null,
): StoredPlan[] {
  if (garmentIds.length === 0 || of?.length === 0) return [];
  if (of === null) return readPlans(reader, plansOfGarments(garmentIds));
  const keys = new Set(of.map(needKey));
  const clothIds = [...new Set(of.map(({ clothId }) => clothId))];
  const shadeIds = [...new Set(of.map(({ shadeId }) => shadeId))];
  const plans = readPlans(reader, plansOfNeeds(garmentIds, clothIds, shadeIds));
  return plans.filter((plan) => keys.has(needKey(plan)));
}

const plannedNeeds = prepared((db, garmentId: Param<number>) =>
  db
    .selectFrom('cut_plan')
    .select(['cloth_id as clothId', 'shade_id as shadeId'])
    .distinct()
    .where('garment_id', '=', garmentId),
);

/** The cloths and shades of which plans were ever held for a garment. */
export function readPlannedNeeds(reader: Reader, garmentId: number): ClothShade[] {
  return reader.all(plannedNeeds(garmentId));
}

/** The held plans that have a lay on one of these pieces. */
export function readPlansOnPieces(reader: Reader, pieceIds: readonly number[]): StoredPlan[] {
  return pieceIds.length === 0 ? [] : readPlans(reader, plansOnPieces(pieceIds));
}

/** One plan by its number, null where it is not held (any more). */
export function readHeldPlan(reader: Reader, planId: number): StoredPlan | null {
  return readPlans(reader, planOfId(planId))[0] ?? null;
}

type PlanRow = InferResult<ReturnType<typeof planRows>>[number];

function planRows(db: Reader['db']) {
  return db
    .selectFrom('cut_plan')
    .innerJoin('request', 'request.key', 'cut_plan.held_key')
    .innerJoin('person', 'person.id', 'request.person_id')
    .select([
      'cut_plan.id',
      'cut_plan.garment_id as garmentId',
      'cut_plan.cloth_id as clothId',
      'cut_plan.shade_id as shadeId',
      'cut_plan.wish',
      'cut_plan.short_strips as shortStrips',
      'cut_plan.charged_ticks as chargedTicks',
      'cut_plan.charged_area as chargedArea',
      'cut_plan.bound_area as boundArea',
      'cut_plan.bound_over as boundOver',
      'cut_plan.held_key as heldKey',
      'cut_plan.given_up_key as givenUpKey',
      'request.at',
      'person.name as by',
    ])
    .orderBy('cut_plan.id');
}

const plansOfGarments = prepared((db, garmentIds: Param<readonly number[]>) =>
  planRows(db).where('cut_plan.garment_id', 'in', inList(garmentIds)),
);
const plansOfNeeds = prepared(
  (
    db,
    garmentIds: Param<readonly number[]>,
    clothIds: Param<readonly number[]>,
    shadeIds: Param<readonly number[]>,
  ) =>
    planRows(db)
      .where('cut_plan.garment_id', 'in', inList(garmentIds))
      .where('cut_plan.cloth_id', 'in', inList(clothIds))
      .where('cut_plan.shade_id', 'in', inList(shadeIds)),
);
const plansOnPieces = prepared((db, pieceIds: Param<readonly number[]>) =>
  planRows(db).where(
    'cut_plan.id',
    'in',
    db.selectFrom('cut_lay').select('plan_id').where('piece_id', 'in', inList(pieceIds)),
  ),
);
const planOfId = prepared((db, planId: Param<number>) => planRows(db).where('cut_plan.id', '=', planId));

function readPlans(reader: Reader, query: Query<PlanRow>): StoredPlan[] {
  const rows = reader.all(query);
  const keys = rows.flatMap(({ heldKey, givenUpKey }) => [heldKey, givenUpKey ?? '']);
  const entries = readEntryCounts(reader, keys);
  const held = rows.filter(({ heldKey, givenUpKey }) => {
    const isHeld = (entries.get(heldKey)?.standing ?? 0) > 0;
    if (!isHeld || givenUpKey === null) return isHeld;
    // A request that gave up nothing has no entries, and nothing of it can be undone.
    const given = entries.get(givenUpKey);
    return given !== undefined && given.standing === 0;
  });
  const lays = grouped(
    readLays(
      reader,
      held.map(({ id }) => id),
    ),
    ({ planId }) => planId,
  );
  return held.map(({ givenUpKey: _, ...plan }) => ({ ...plan, lays: lays.get(plan.id) ?? [] }));
}

const entryCounts = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('entry')
    .select((of) => ['entry.request_key as key', of.fn.sum<number>(inForce('entry')).as('standing')])
    .where('entry.request_key', 'in', inList(keys))
    .groupBy('entry.request_key'),
);

/** Of requests that made entries, how many of these were not undone. */
function readEntryCounts(
  reader: Reader,
  keys: readonly string[],
): Map<string, { readonly standing: number }> {
  const wanted = [...new Set(keys)].filter((key) => key !== '');
  if (wanted.length === 0) return new Map();
  const rows = reader.all(entryCounts(wanted));
  return new Map(rows.map(({ key, standing }) => [key, { standing }]));
}

const laysOf = prepared((db, planIds: Param<readonly number[]>) =>
  db
    .selectFrom('cut_lay')
    .innerJoin('piece', 'piece.id', 'cut_lay.piece_id')
    .select([
      'cut_lay.id',
      'cut_lay.plan_id as planId',
      'cut_lay.position',
      'cut_lay.piece_id as pieceId',
      LOT_OF_PIECE.as('lotId'),
      'cut_lay.from_ticks as fromTicks',
      'cut_lay.length_ticks as lengthTicks',
      'cut_lay.slit_into as slitInto',
      'cut_lay.cut_key as cutKey',
    ])
    .where('cut_lay.plan_id', 'in', inList(planIds))
    .orderBy('cut_lay.plan_id')
    .orderBy('cut_lay.position'),
);

function readLays(reader: Reader, planIds: readonly number[]): StoredLay[] {
  if (planIds.length === 0) return [];
  const lays = reader.all(laysOf(planIds));
  const parts = grouped(readParts(reader, planIds), ({ layId }) => layId);
  const cuts = readEntryCounts(
    reader,
    lays.map(({ cutKey }) => cutKey ?? ''),
  );
  const holds = readHolds(reader, [...new Set(lays.map(({ pieceId }) => pieceId))]);
  return lays.map(({ slitInto, cutKey, ...lay }) => {
    const given = (parts.get(lay.id) ?? []).map(({ layId: _, ...part }) => part);
    const isCut = cutKey !== null && (cuts.get(cutKey)?.standing ?? 0) > 0;
    return {
      ...lay,
      slits: readStored(z.array(slitSchema), slitInto),
      parts: given,
      state: isCut ? 'cut' : takeHolds(holds, lay.pieceId, given) ? 'held' : 'out',
      cutKey: isCut ? cutKey : '',
    };
  });
}

const layParts = prepared((db, planIds: Param<readonly number[]>) =>
  db
    .selectFrom('cut_lay_tier')
    .innerJoin('cut_lay', 'cut_lay.id', 'cut_lay_tier.lay_id')
    .select([
      'cut_lay_tier.lay_id as layId',
      'cut_lay_tier.tier_id as tierId',
      'cut_lay_tier.strips',
      'cut_lay_tier.length_ticks as lengthTicks',
    ])
    .where('cut_lay.plan_id', 'in', inList(planIds))
    .orderBy('cut_lay_tier.lay_id')
    .orderBy('cut_lay_tier.tier_id'),
);

function readParts(reader: Reader, planIds: readonly number[]) {
  return reader.all(layParts(planIds));
}

const holdsOn = prepared((db, pieceIds: Param<readonly number[]>) =>
  db
    .selectFrom('hold')
    .select(['piece_id', 'tier_id', 'held_ticks'])
    .where('piece_id', 'in', inList(pieceIds))
    .where('tier_id', 'is not', null)
    .$narrowType<{ tier_id: number }>(),
);

function readHolds(reader: Reader, pieceIds: readonly number[]): Map<string, number> {
  if (pieceIds.length === 0) return new Map();
  const rows = reader.all(holdsOn(pieceIds));
  return new Map(rows.map((row) => [holdKey(row.piece_id, row.tier_id), row.held_ticks]));
}
