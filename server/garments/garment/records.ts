import type { ExpressionBuilder, NotNull } from 'kysely';
import type { ShadeBands } from '../../../src/colour/lot-pair.ts';
import type { Direction, LotRule } from '../../../src/garment/band.ts';
import type { Profile } from '../../../src/garment/girth.ts';
import type { Hangs } from '../../../src/garment/hanging.ts';
import type { Fastening, OpeningWay } from '../../../src/garment/opening.ts';
import type { PlacedBy } from '../../../src/garment/placing.ts';
import type { LowerEdge, SeamKind, UpperEdge } from '../../../src/garment/seams-and-edges.ts';
import { labelTiers, type TierLabel, type TierToLabel } from '../../../src/garment/tier-labels.ts';
import { type Fullness, withExact } from '../../../src/quantity/fullness.ts';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import type { Schema } from '../../database/schema.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import { readKept } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';
import { type KeptPart, readPartsOf } from '../parts/record.ts';

/** A garment as the book has it, with its form and all its tiers, those taken out included. */
export interface Garment {
  readonly id: number;
  readonly code: string;
  readonly name: string;
  readonly note: string;
  readonly dueOn: string | null;
  readonly finishedAt: string | null;
  /** of the waist above the floor, and of the hem, where they are known */
  readonly waistHeightTicks: number | null;
  readonly clearanceTicks: number | null;
  /** from the waist to a level hem down a tilted form */
  readonly frontDropTicks: number | null;
  readonly sideDropTicks: number | null;
  readonly backDropTicks: number | null;
  readonly profile: Profile;
  readonly foundationEaseTicks: number;
  /** how deep it opens below the waist; null where it does not */
  readonly openingTicks: number | null;
  readonly fastening: Fastening;
  /** from one hook, snap or button to the next */
  readonly fastenerTicks: number | null;
  /** the girth of hips or shoulders that it is put on over */
  readonly overTicks: number | null;
  /** how far matching lots may differ, in hundredths of a CIEDE2000 unit */
  readonly meetCentiDeltaE: number;
  /** how far beyond that they are looked at, before they are kept apart */
  readonly lookCentiDeltaE: number;
  /** JSON: the lengths above as they were typed */
  readonly typed: string;
  readonly version: number;
  readonly changedAt: string | null;
  readonly changedBy: string | null;
  readonly girths: readonly GirthRecord[];
  readonly tiers: readonly TierRecord[];
  /** all that it has besides its tiers, those taken out included */
  readonly parts: readonly KeptPart[];
}

/** Up to where lots may meet in a garment, and from where they are kept apart. */
export function bandsOf(garment: Pick<Garment, 'meetCentiDeltaE' | 'lookCentiDeltaE'>): ShadeBands {
  const { meetCentiDeltaE: meetCenti, lookCentiDeltaE } = garment;
  return { meetCenti, apartCenti: meetCenti + lookCentiDeltaE };
}

/** `typed` is JSON: what was typed, and in which system of lengths. A round hoop has a width and no depth. */
export interface GirthRecord {
  readonly dropTicks: number;
  readonly girthTicks: number;
  readonly hoopWidthTicks: number | null;
  readonly hoopDepthTicks: number | null;
  readonly typed: string;
}

export interface TierRecord extends Required<Fullness> {
  readonly id: number;
  readonly position: number;
  /** "1", "2"; of a ruffle "2r"; '' where it is taken out */
  readonly label: string;
  /** the name that somebody gave it; '' where it goes by its label */
  readonly ownName: string;
  /** the name with the label, as it is shown */
  readonly name: string;
  readonly hangs: Hangs;
  /** on the form and its foundation layer; of one placed by its lower edge as it was saved: `tiersIn` has what it follows to */
  readonly dropTicks: number | null;
  readonly placedBy: PlacedBy;
  /** the drop of its lower edge, or the height of that above the floor */
  readonly placedTicks: number | null;
  /** the tier whose lower edge its own is level with */
  readonly levelTierId: number | null;
  /** the drop of its lower edge as it was last measured on the stand; null where it was not */
  readonly madeTicks: number | null;
  /** the tier that it edges or whose face it lies on */
  readonly onTierId: number | null;
  /** on a face: above the lower edge of that tier */
  readonly heightTicks: number | null;
  /** the cloth of the blocks that have none of their own */
  readonly clothId: number;
  readonly depthTicks: number;
  /** how far it is meant to cover the next tier down */
  readonly overlapTicks: number;
  /** the tier whose flat length the fullness is a ratio of; null where it is of what it is sewn on */
  readonly ratioTierId: number | null;
  /** by itself, whatever the opening makes of it */
  readonly ring: boolean;
  readonly openingWay: OpeningWay;
  readonly seamKind: SeamKind;
  readonly seamTicks: number;
  readonly endTicks: number;
  readonly headingTicks: number;
  readonly upperEdge: UpperEdge;
  /** allowance of the upper edge: inside the seam it hangs by, or turned above a heading */
  readonly hangSeamTicks: number;
  readonly lowerEdge: LowerEdge;
  readonly hemTicks: number;
  /** strips are hemmed one by one and then joined */
  readonly hemFirst: boolean;
  readonly direction: Direction;
  readonly stripLengthTicks: number | null;
  /** strips by which the order of colours starts later */
  readonly offsetStrips: number;
  readonly finishRepeat: boolean;
  readonly takenOutAt: string | null;
  readonly version: number;
  readonly changedAt: string | null;
  readonly changedBy: string | null;
  readonly typed: string;
  readonly blocks: readonly BlockRecord[];
}

/** The figures of a tier, without what the book keeps about the row. */
export type TierFigures = Omit<
  TierRecord,
  'position' | 'label' | 'takenOutAt' | 'version' | 'changedAt' | 'changedBy' | 'typed' | 'madeTicks'
>;

/** Tiers as they were entered, with their labels and the names that follow from these. */
export function withLabels<T extends TierToLabel & { readonly ownName?: string }>(
  tiers: readonly T[],
): (T & TierLabel)[] {
  const labels = labelTiers(tiers.map((tier) => ({ ...tier, name: tier.ownName || tier.name })));
  return tiers.map((tier) => ({ ...tier, label: '', ownName: '', ...labels.get(tier.id) }));
}

export interface BlockRecord {
  readonly shadeId: number;
  /** its own cloth; null takes the tier's */
  readonly clothId: number | null;
  readonly strips: number;
  readonly lots: LotRule;
}

const garmentWithCode = prepared((db, code: Param<string>) => headsOf(db).where('garment.code', '=', code));

/** The parts of a page ask for the same garment. @throws {Refusal} unknown */
export const readGarment = keptUntilWritten((reader, code: string): Garment => {
  const [garment] = withParts(reader, reader.all(garmentWithCode(code)));
  if (!garment) throw unknown(`garment ${code.slice(0, 40)}`);
  return garment;
});

/** The tier of a garment by its number. @throws {Refusal} unknown */
export function tierOf(garment: Garment, tierId: number): TierRecord {
  const tier = garment.tiers.find(({ id }) => id === tierId);
  if (!tier) throw unknown(`such tier of ${garment.code}`);
  return tier;
}

/** A tier with its garment, by the code of that. @throws {Refusal} unknown */
export function readTierOf(reader: Reader, code: string, tierId: number) {
  const garment = readGarment(reader, code);
  return { garment, tier: tierOf(garment, tierId) };
}

const openGarments = prepared((db) =>
  headsOf(db)
    .where('garment.finished_at', 'is', null)
    .orderBy('garment.due_on', (by) => by.asc().nullsLast())
    .orderBy('garment.id'),
);

/** All garments that are not finished: those due first come first, those without a day last. */
export function readOpenGarments(reader: Reader): Garment[] {
  return withParts(reader, reader.all(openGarments()));
}

export type FinishedGarment = ReturnType<typeof readFinishedGarments>[number];

const finishedGarments = prepared((db, most: Param<number>, skip: Param<number>) =>
  db
    .selectFrom('garment')
    .select(['id', 'code', 'name', 'finished_at as finishedAt'])
    .where('finished_at', 'is not', null)
    .orderBy('finished_at', 'desc')
    .orderBy('id', 'desc')
    .limit(most)
    .offset(skip)
    .$narrowType<{ finishedAt: NotNull }>(),
);

/** A stretch of the finished garments in few words, the last finished first. */
export function readFinishedGarments(reader: Reader, skip: number, most: number) {
  return reader.all(finishedGarments(most, skip));
}

const finishedCount = prepared((db) =>
  db
    .selectFrom('garment')
    .select((count) => count.fn.countAll<number>().as('total'))
    .where('finished_at', 'is not', null),
);

export function countFinishedGarments(reader: Reader): number {
  return reader.first(finishedCount())?.total ?? 0;
}

type Head = Omit<Garment, 'girths' | 'tiers' | 'parts'>;

function headsOf(db: Reader['db']) {
  return db
    .selectFrom('garment')
    .leftJoin('person', 'person.id', 'garment.changed_by_id')
    .select([
      'garment.id',
      'garment.code',
      'garment.name',
      'garment.note',
      'garment.due_on as dueOn',
      'garment.finished_at as finishedAt',
      'garment.waist_height_ticks as waistHeightTicks',
      'garment.clearance_ticks as clearanceTicks',
      'garment.front_drop_ticks as frontDropTicks',
      'garment.side_drop_ticks as sideDropTicks',
      'garment.back_drop_ticks as backDropTicks',
      'garment.profile',
      'garment.foundation_ease_ticks as foundationEaseTicks',
      'garment.opening_ticks as openingTicks',
      'garment.fastening',
      'garment.fastener_ticks as fastenerTicks',
      'garment.over_ticks as overTicks',
      'garment.meet_centi_delta_e as meetCentiDeltaE',
      'garment.look_centi_delta_e as lookCentiDeltaE',
      'garment.typed',
      'garment.version',
      'garment.changed_at as changedAt',
      'person.name as changedBy',
    ]);
}

const girthsOf = prepared((db, garmentIds: Param<readonly number[]>) =>
  db
    .selectFrom('girth')
    .select([
      'garment_id',
      'drop_ticks as dropTicks',
      'girth_ticks as girthTicks',
      'hoop_width_ticks as hoopWidthTicks',
      'hoop_depth_ticks as hoopDepthTicks',
      'typed',
    ])
    .where('garment_id', 'in', inList(garmentIds))
    .orderBy('garment_id')
    .orderBy('drop_ticks'),
);

/** Girths, tiers, blocks and parts of all the garments, in one query each. */
function withParts(reader: Reader, heads: readonly Head[]): Garment[] {
  if (heads.length === 0) return [];
  const ids = heads.map(({ id }) => id);
  const girths = reader.all(girthsOf(ids));
  const tiers = readTierRows(reader, ids);
  const parts = readPartsOf(reader, ids);
  const tierIds = tiers.map(({ id }) => id);
  const blocks = grouped(readBlockRows(reader, tierIds), ({ tierId }) => tierId);
  const whole = tiers.map(({ garmentId, ring, hemFirst, finishRepeat, ...tier }) => ({
    garmentId,
    tier: {
      ...tier,
      // The column has thousandths; the text that was typed has all of it.
      ...withExact({ value: tier.fullnessMilli, typed: readKept(tier.typed)?.texts.fullness ?? '' }),
      ring: ring === 1,
      hemFirst: hemFirst === 1,
      finishRepeat: finishRepeat === 1,
      blocks: (blocks.get(tier.id) ?? []).map(({ tierId: _, ...block }) => block),
    },
  }));
  return heads.map((head) => ({
    ...head,
    girths: girths
      .filter((girth) => girth.garment_id === head.id)
      .map(({ garment_id: _, ...girth }) => girth),
    tiers: withLabels(whole.filter(({ garmentId }) => garmentId === head.id).map(({ tier }) => tier)),
    parts: parts.filter(({ garmentId }) => garmentId === head.id).map(({ part }) => part),
  }));
}

const tiersOf = prepared((db, garmentIds: Param<readonly number[]>) =>
  db
    .selectFrom('tier')
    .leftJoin('person', 'person.id', 'tier.changed_by_id')
    .select([
      'tier.id',
      'tier.garment_id as garmentId',
      'tier.position',
      'tier.name',
      'tier.hangs',
      'tier.drop_ticks as dropTicks',
      'tier.on_tier_id as onTierId',
      'tier.height_ticks as heightTicks',
      'tier.cloth_id as clothId',
      'tier.depth_ticks as depthTicks',
      'tier.overlap_ticks as overlapTicks',
      'tier.fullness_milli as fullnessMilli',
      'tier.ratio_tier_id as ratioTierId',
      'tier.ring',
      'tier.opening_way as openingWay',
      'tier.placed_by as placedBy',
      'tier.placed_ticks as placedTicks',
      'tier.level_tier_id as levelTierId',
      (of) => lastMeasure(of).as('madeTicks'),
      'tier.seam_kind as seamKind',
      'tier.seam_ticks as seamTicks',
      'tier.end_ticks as endTicks',
      'tier.heading_ticks as headingTicks',
      'tier.upper_edge as upperEdge',
      'tier.hang_seam_ticks as hangSeamTicks',
      'tier.lower_edge as lowerEdge',
      'tier.hem_ticks as hemTicks',
      'tier.hem_first as hemFirst',
      'tier.direction',
      'tier.strip_length_ticks as stripLengthTicks',
      'tier.offset_strips as offsetStrips',
      'tier.finish_repeat as finishRepeat',
      'tier.taken_out_at as takenOutAt',
      'tier.version',
      'tier.changed_at as changedAt',
      'person.name as changedBy',
      'tier.typed',
    ])
    .where('tier.garment_id', 'in', inList(garmentIds))
    .where('tier.garment_part_id', 'is', null)
    .orderBy('tier.garment_id')
    .orderBy('tier.position')
    .orderBy('tier.id'),
);

function lastMeasure(of: ExpressionBuilder<Schema, 'tier'>) {
  return of
    .selectFrom('made_measure')
    .select('made_measure.lower_ticks')
    .whereRef('made_measure.tier_id', '=', 'tier.id')
    .orderBy('made_measure.id', 'desc')
    .limit(1);
}

function readTierRows(reader: Reader, garmentIds: readonly number[]) {
  return reader.all(tiersOf(garmentIds));
}

const blocksOf = prepared((db, tierIds: Param<readonly number[]>) =>
  db
    .selectFrom('colour_block')
    .select(['tier_id as tierId', 'shade_id as shadeId', 'cloth_id as clothId', 'strips', 'lots'])
    .where('tier_id', 'in', inList(tierIds))
    .orderBy('tier_id')
    .orderBy('position'),
);

function readBlockRows(reader: Reader, tierIds: readonly number[]) {
  if (tierIds.length === 0) return [];
  return reader.all(blocksOf(tierIds));
}
