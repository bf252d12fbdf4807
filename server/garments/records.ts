import type { LotRule } from '../../src/band.ts';
import type { Reader } from '../database/book.ts';
import { unknown } from '../refusal.ts';
import { grouped } from './grouped.ts';

/** A garment as the book has it, with its form and all its tiers, those taken out included. */
export interface Garment {
  readonly id: number;
  readonly code: string;
  readonly name: string;
  readonly note: string;
  readonly dueOn: string | null;
  readonly finishedAt: string | null;
  readonly version: number;
  readonly changedAt: string | null;
  readonly changedBy: string | null;
  readonly girths: readonly GirthRecord[];
  readonly tiers: readonly TierRecord[];
}

/** `typed` is JSON: what was typed, and in which system of lengths. */
export interface GirthRecord {
  readonly dropTicks: number;
  readonly girthTicks: number;
  readonly typed: string;
}

export interface TierRecord {
  readonly id: number;
  readonly position: number;
  readonly name: string;
  readonly dropTicks: number | null;
  readonly edgesTierId: number | null;
  readonly clothId: number;
  readonly depthTicks: number;
  readonly fullnessMilli: number;
  readonly ring: boolean;
  readonly seamTicks: number;
  readonly endTicks: number;
  readonly headingTicks: number;
  readonly hangSeamTicks: number;
  readonly hemTicks: number;
  readonly stripLengthTicks: number | null;
  readonly finishRepeat: boolean;
  readonly takenOutAt: string | null;
  readonly version: number;
  readonly changedAt: string | null;
  readonly changedBy: string | null;
  readonly typed: string;
  readonly blocks: readonly BlockRecord[];
}

export interface BlockRecord {
  readonly shadeId: number;
  readonly strips: number;
  readonly lots: LotRule;
}

/** @throws {Refusal} unknown */
export function readGarment(reader: Reader, code: string): Garment {
  const [garment] = withParts(reader, reader.all(headsOf(reader).where('garment.code', '=', code)));
  if (!garment) throw unknown(`garment ${code.slice(0, 40)}`);
  return garment;
}

/** The tier of a garment by its number. @throws {Refusal} unknown */
export function tierOf(garment: Garment, tierId: number): TierRecord {
  const tier = garment.tiers.find(({ id }) => id === tierId);
  if (!tier) throw unknown(`such tier of ${garment.code}`);
  return tier;
}

/** All garments that are not finished: those due first come first, those without a day last. */
export function readOpenGarments(reader: Reader): Garment[] {
  const heads = headsOf(reader)
    .where('garment.finished_at', 'is', null)
    .orderBy('garment.due_on', (by) => by.asc().nullsLast())
    .orderBy('garment.id');
  return withParts(reader, reader.all(heads));
}

/** A stretch of the finished garments, the last finished first, and how many there are in all. */
export function readFinishedGarments(reader: Reader, skip: number, most: number) {
  const heads = headsOf(reader)
    .where('garment.finished_at', 'is not', null)
    .orderBy('garment.finished_at', 'desc')
    .orderBy('garment.id', 'desc')
    .limit(most)
    .offset(skip);
  const counted = reader.first(
    reader.db
      .selectFrom('garment')
      .select((count) => count.fn.countAll<number>().as('total'))
      .where('finished_at', 'is not', null),
  );
  return { garments: withParts(reader, reader.all(heads)), total: counted?.total ?? 0 };
}

type Head = Omit<Garment, 'girths' | 'tiers'>;

function headsOf(reader: Reader) {
  return reader.db
    .selectFrom('garment')
    .leftJoin('person', 'person.id', 'garment.changed_by_id')
    .select([
      'garment.id',
      'garment.code',
      'garment.name',
      'garment.note',
      'garment.due_on as dueOn',
      'garment.finished_at as finishedAt',
      'garment.version',
      'garment.changed_at as changedAt',
      'person.name as changedBy',
    ]);
}

/** Girths, tiers and blocks of all the garments, in one query each. */
function withParts(reader: Reader, heads: readonly Head[]): Garment[] {
  if (heads.length === 0) return [];
  const ids = heads.map(({ id }) => id);
  const girths = reader.all(
    reader.db
      .selectFrom('girth')
      .select(['garment_id', 'drop_ticks as dropTicks', 'girth_ticks as girthTicks', 'typed'])
      .where('garment_id', 'in', ids)
      .orderBy('garment_id')
      .orderBy('drop_ticks'),
  );
  const tiers = readTierRows(reader, ids);
  const tierIds = tiers.map(({ id }) => id);
  const blocks = grouped(readBlockRows(reader, tierIds), ({ tierId }) => tierId);
  const whole = tiers.map(({ garmentId, ring, finishRepeat, ...tier }) => ({
    garmentId,
    tier: {
      ...tier,
      ring: ring === 1,
      finishRepeat: finishRepeat === 1,
      blocks: (blocks.get(tier.id) ?? []).map(({ tierId: _, ...block }) => block),
    },
  }));
  return heads.map((head) => ({
    ...head,
    girths: girths
      .filter((girth) => girth.garment_id === head.id)
      .map(({ garment_id: _, ...girth }) => girth),
    tiers: whole.filter(({ garmentId }) => garmentId === head.id).map(({ tier }) => tier),
  }));
}

function readTierRows(reader: Reader, garmentIds: readonly number[]) {
  return reader.all(
    reader.db
      .selectFrom('tier')
      .leftJoin('person', 'person.id', 'tier.changed_by_id')
      .select([
        'tier.id',
        'tier.garment_id as garmentId',
        'tier.position',
        'tier.name',
        'tier.drop_ticks as dropTicks',
        'tier.edges_tier_id as edgesTierId',
        'tier.cloth_id as clothId',
        'tier.depth_ticks as depthTicks',
        'tier.fullness_milli as fullnessMilli',
        'tier.ring',
        'tier.seam_ticks as seamTicks',
        'tier.end_ticks as endTicks',
        'tier.heading_ticks as headingTicks',
        'tier.hang_seam_ticks as hangSeamTicks',
        'tier.hem_ticks as hemTicks',
        'tier.strip_length_ticks as stripLengthTicks',
        'tier.finish_repeat as finishRepeat',
        'tier.taken_out_at as takenOutAt',
        'tier.version',
        'tier.changed_at as changedAt',
        'person.name as changedBy',
        'tier.typed',
      ])
      .where('tier.garment_id', 'in', garmentIds)
      .orderBy('tier.garment_id')
      .orderBy('tier.position')
      .orderBy('tier.id'),
  );
}

function readBlockRows(reader: Reader, tierIds: readonly number[]) {
  if (tierIds.length === 0) return [];
  return reader.all(
    reader.db
      .selectFrom('colour_block')
      .select(['tier_id as tierId', 'shade_id as shadeId', 'strips', 'lots'])
      .where('tier_id', 'in', tierIds)
      .orderBy('tier_id')
      .orderBy('position'),
  );
}
