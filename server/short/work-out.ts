import { lotsThatMeet } from '../../src/colour/lots-judged.ts';
import { laysAsWantedNow } from '../../src/cut-plan/held-lays.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import { type CuttingWays, flawsBehind, USUAL_WAYS } from '../../src/cut-plan/stock.ts';
import { type NeededLength, neededOf } from '../../src/fit/needed.ts';
import { type Claim, type Share, type ShortFigures, shareOut } from '../../src/fit/sharing.ts';
import type { CutStrips } from '../../src/fit/short.ts';
import { type ClothShade, type Need, needKey } from '../../src/garment/need.ts';
import { type KnownPlan, knownPlan } from '../cut-plans/answers.ts';
import { readHeldPlans, readPlannedNeeds, type StoredPlan } from '../cut-plans/store.ts';
import type { Reader } from '../database/book.ts';
import type { LengthInDye } from '../dye-bench/batch/dyeing.ts';
import { type CutFor, type HeldFor, readCutStrips, readHeldStretches } from '../garments/garment/done.ts';
import { bandsOf, type Garment } from '../garments/garment/records.ts';
import type { WorkedGarment } from '../garments/garment/worked.ts';
import { grouped } from '../kit/grouped.ts';
import { readWorkroom } from '../kit/workroom.ts';
import { readLotEvidence } from '../shelf/lot/store.ts';
import {
  type ClothName,
  readClothNames,
  readLotCodes,
  readShadeNames,
  type ShadeName,
} from '../shelf/names.ts';
import { type FreeStretch, type OnOrder, readFreeStretches, readPlaces, stretchesInDye } from './supply.ts';

/** One cloth and shade that open garments need: wanted, cut, held, free, on order, short. Lengths in ticks. */
export interface NeedLine extends ShortFigures {
  readonly cloth: ClothName;
  readonly shade: ShadeName;
  /** Each garment that needs it, those due first first: the free cloth is shared out in that order. */
  readonly shares: readonly Share<Garment>[];
  /** Each lot that is free, held or cut for these garments, and its free length. */
  readonly lots: readonly { readonly id: number; readonly code: string; readonly freeTicks: number }[];
  /** By piece, what the garments will cut off what is free of it; a piece that none needs has no entry. */
  readonly needed: ReadonlyMap<number, NeededLength>;
  /** Batches in the pot and planned that will give some of it. */
  readonly dyeing: readonly LengthInDye[];
  /** Orders that bring some of it, those expected first first. */
  readonly arriving: readonly {
    readonly orderCode: string;
    readonly expectedOn: string | null;
    readonly lengthTicks: number;
  }[];
}

/** What one cloth and shade comes to. */
export interface WorkedNeed {
  /** null where no open garment needs it */
  readonly line: NeedLine | null;
  /** the plans that are held for open garments of it, as far as their strips are still wanted */
  readonly plans: readonly StoredPlan[];
}

/** What the needs of open garments are shaped from. */
export interface NeedsFound {
  /** every open garment, those due first first */
  readonly worked: readonly WorkedGarment[];
  /** by `needKey`; one that is still being worked out is not there */
  readonly found: ReadonlyMap<string, WorkedNeed>;
  /** by cloth */
  readonly freeGrounds: ReadonlyMap<number, number>;
  readonly waiting: number;
}

/** The keys of all that a garment needs, and of the plans that were held for it. */
export function keysOf(reader: Reader, { garment, needs }: WorkedGarment): string[] {
  return [...new Set([...needs, ...readPlannedNeeds(reader, garment.id)].map(needKey))];
}

/** The book looked at as it might be. */
export interface Afresh {
  /** the garment whose held plans are looked at as given up, so that it is planned anew */
  readonly afresh?: string | null;
  /** lengths taken off the free ends of pieces, by piece, in ticks */
  readonly taken?: ReadonlyMap<number, number>;
  /** whether the lays of a garment may straddle a flaw; those of others may */
  readonly flaws?: { readonly of: string; readonly ways: CuttingWays['flaws'] } | null;
}

interface Given extends Afresh {
  readonly onOrder: readonly OnOrder[];
  readonly dyeing: readonly LengthInDye[];
  /** where the planner's answers come from; told the key of the need that asks */
  readonly planKnown?: (job: PlanJob, key: string) => KnownPlan | null;
}

/**
 * Works out what open garments need of some cloths and shades (by `needKey`), from what is in the book now. `worked` is
 * every open garment, those due first first: what is free is shared out in that order.
 */
export function workOutNeeds(
  reader: Reader,
  worked: readonly WorkedGarment[],
  keys: ReadonlySet<string>,
  given: Given,
): Map<string, WorkedNeed> {
  const asked = worked.flatMap(({ garment, needs }) =>
    needs.filter((need) => keys.has(needKey(need))).map((need) => ({ garment, need })),
  );
  const { claims, plans, fresh } = readClaims(reader, worked, asked, keys, given);
  const lines = readLines(reader, claims, fresh, given);
  const plansOf = grouped(plans, needKey);
  return new Map(
    [...keys].map((key) => [key, { line: lines.get(key) ?? null, plans: plansOf.get(key) ?? [] }]),
  );
}

interface NeedOf {
  readonly garment: Garment;
  readonly need: Need;
}

/** The workroom's ways of cutting: what length it keeps. */
function readWays(reader: Reader): CuttingWays {
  return { ...USUAL_WAYS, usefulTicks: readWorkroom(reader).usefulRemnantTicks };
}

function readLines(
  reader: Reader,
  all: readonly Claim<Garment>[],
  fresh: Garment | null,
  { onOrder, dyeing, planKnown = knownPlan, taken = new Map() }: Given,
): Map<string, NeedLine> {
  const claims = grouped(all, ({ need }) => needKey(need));
  const clothIds = [...new Set(all.map(({ need }) => need.clothId))];
  const shadeIds = [...new Set(all.map(({ need }) => need.shadeId))];
  const onShelf = readFreeStretches(reader, { clothIds, shadeIds }, fresh?.id ?? null);
  const free = grouped(
    onShelf.flatMap((stretch) => behind(stretch, taken.get(stretch.pieceId) ?? 0)),
    needKey,
  );
  const cloths = readClothNames(reader, clothIds);
  const shades = readShadeNames(reader);
  const ways = readWays(reader);
  const named = all.flatMap(({ cut, held }) => [...cut, ...held]);
  const freeOfKeys = [...claims.keys()].flatMap((key) => free.get(key) ?? []);
  const allLotIds = [...new Set([...freeOfKeys, ...named].map(({ lotId }) => lotId))];
  const lotCodes = readLotCodes(reader, allLotIds);
  const evidence = readLotEvidence(reader, allLotIds);
  const lines = new Map<string, NeedLine>();
  for (const [key, group] of claims) {
    const { clothId, shadeId } = readNeedKey(key);
    const cloth = cloths.get(clothId);
    const shade = shades.get(shadeId);
    if (!cloth || !shade) continue;
    const ofShade = free.get(key) ?? [];
    const ordered = onOrder.filter((line) => needKey(line) === key);
    const inDye = dyeing.filter((length) => needKey(length) === key);
    const ofGroup = group.flatMap(({ cut, held }) => [...cut, ...held]);
    const lotIds = new Set([...ofShade, ...ofGroup].map(({ lotId }) => lotId));
    const meeting = group.map((claim) =>
      claim.need.lots === 'meet'
        ? { ...claim, meets: lotsThatMeet([...lotIds], evidence, bandsOf(claim.garment)) }
        : claim,
    );
    const { usableWidthTicks } = cloth;
    const coming = { onOrderTicks: lengthOf(ordered), inDye: stretchesInDye(inDye) };
    const supply = { free: ofShade, usableWidthTicks, ...coming, ways };
    const { shares, figures, left } = shareOut(meeting, supply, (job) => planKnown(job, key)?.plan ?? null);
    const needed = neededOf(ofShade, left);
    const ofLot = grouped(ofShade, ({ lotId }) => lotId);
    const lots = [...lotIds].map((id) => ({
      id,
      code: lotCodes.get(id) ?? '',
      freeTicks: lengthOf(ofLot.get(id) ?? []),
    }));
    lines.set(key, { cloth, shade, ...figures, shares, needed, lots, dyeing: inDye, arriving: ordered });
  }
  return lines;
}

/** What is left of a free length behind what is taken off its free end. */
function behind(stretch: FreeStretch, takenTicks: number): FreeStretch[] {
  if (takenTicks === 0) return [stretch];
  const lengthTicks = stretch.lengthTicks - takenTicks;
  const { flaws = [], ...whole } = stretch;
  return lengthTicks > 0 ? [{ ...whole, lengthTicks, flaws: flawsBehind(flaws, takenTicks) }] : [];
}

interface Claims {
  readonly claims: readonly Claim<Garment>[];
  readonly plans: readonly StoredPlan[];
  readonly fresh: Garment | null;
}

function readClaims(
  reader: Reader,
  worked: readonly WorkedGarment[],
  asked: readonly NeedOf[],
  keys: ReadonlySet<string>,
  { afresh = null, flaws = null }: Afresh,
): Claims {
  const tierIds = [...new Set(asked.flatMap(({ need }) => need.demands.map(({ tierId }) => tierId)))];
  const cut = grouped(readCutStrips(reader, tierIds), tierAndKey);
  const fresh = worked.find(({ garment }) => garment.code === afresh)?.garment ?? null;
  const needsOf = grouped(asked, ({ garment }) => garment.id);
  const garmentIds = worked.map(({ garment }) => garment.id);
  const plans = readHeldPlans(reader, garmentIds, [...keys].map(readNeedKey)).map((plan) => {
    const found = needsOf.get(plan.garmentId)?.find(({ need }) => needKey(need) === needKey(plan));
    const demands = found?.need.demands ?? [];
    return { ...plan, lays: laysAsWantedNow(plan.lays, demands, ofDemands(cut, demands, plan)) };
  });
  const counted = plans.filter(({ garmentId }) => garmentId !== fresh?.id);
  const held = grouped(readHeldBesidePlans(reader, tierIds, counted, fresh), tierAndKey);
  const claims = asked.map(({ garment, need }) => {
    const mine = counted.filter((plan) => plan.garmentId === garment.id && needKey(plan) === needKey(need));
    const claim = {
      garment,
      need,
      cut: ofDemands(cut, need.demands, need),
      held: ofDemands(held, need.demands, need),
      planned: mine.flatMap(stripsToCome),
    };
    return flaws?.of === garment.code ? { ...claim, flaws: flaws.ways } : claim;
  });
  return { claims, plans, fresh };
}

function tierAndKey(row: ClothShade & { readonly tierId: number }): string {
  return `${row.tierId} ${needKey(row)}`;
}

function ofDemands<T extends CutFor | HeldFor>(
  rows: ReadonlyMap<string, readonly T[]>,
  demands: Need['demands'],
  { clothId, shadeId }: ClothShade,
): T[] {
  return demands.flatMap(({ tierId }) => rows.get(tierAndKey({ tierId, clothId, shadeId })) ?? []);
}

/** The cloth and shade that a key was made of. */
export function readNeedKey(key: string): ClothShade {
  const [clothId = 0, shadeId = 0] = key.split(' ').map(Number);
  return { clothId, shadeId };
}

/** Strips that the lays of a held plan have still to give. */
function stripsToCome({ lays }: StoredPlan): CutStrips[] {
  return lays
    .filter(({ state }) => state === 'held')
    .flatMap(({ lotId, parts }) => parts.map(({ tierId, strips }) => ({ tierId, lotId, count: strips })));
}

/** What tiers hold beside the lays of their plans. */
function readHeldBesidePlans(
  reader: Reader,
  tierIds: readonly number[],
  plans: readonly StoredPlan[],
  fresh: Garment | null,
): HeldFor[] {
  const planned = new Map<string, number>();
  for (const lay of plans.flatMap(({ lays }) => lays)) {
    for (const { tierId, lengthTicks } of lay.state === 'held' ? lay.parts : []) {
      const key = `${lay.pieceId} ${tierId}`;
      planned.set(key, (planned.get(key) ?? 0) + lengthTicks);
    }
  }
  const rows = readHeldStretches(reader, tierIds);
  const places = readPlaces(
    reader,
    rows.map(({ pieceId }) => pieceId),
    fresh?.id ?? null,
  );
  return rows.flatMap((row) => {
    const lengthTicks = row.lengthTicks - (planned.get(`${row.pieceId} ${row.tierId}`) ?? 0);
    const flaws = places.get(row.pieceId)?.flaws ?? [];
    if (lengthTicks <= 0) return [];
    return [flaws.length > 0 ? { ...row, lengthTicks, flaws } : { ...row, lengthTicks }];
  });
}

function lengthOf(lengths: readonly { readonly lengthTicks: number }[]): number {
  return lengths.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
}
