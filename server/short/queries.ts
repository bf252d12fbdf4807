import { laysAsWantedNow } from '../../src/cut-plan/held-lays.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import { type CuttingWays, USUAL_WAYS } from '../../src/cut-plan/stock.ts';
import { lotsThatMeet } from '../../src/fit/lots.ts';
import { type Claim, type Share, type ShortFigures, shareOut } from '../../src/fit/sharing.ts';
import type { CutStrips } from '../../src/fit/short.ts';
import { needKey } from '../../src/garment/need.ts';
import { knownPlan } from '../cut-plans/answers.ts';
import { readHeldPlans, type StoredPlan } from '../cut-plans/store.ts';
import type { Reader } from '../database/book.ts';
import { type CutFor, type HeldFor, readCutStrips, readHeldStretches } from '../garments/garment/done.ts';
import { type Garment, readOpenGarments } from '../garments/garment/records.ts';
import { type WorkedGarment, workGarments } from '../garments/garment/worked.ts';
import { grouped } from '../kit/grouped.ts';
import { readWorkroom } from '../kit/workroom.ts';
import { readLotColours } from '../shelf/lot/store.ts';
import {
  type ClothName,
  readClothNames,
  readLotCodes,
  readShadeNames,
  type ShadeName,
} from '../shelf/names.ts';
import { readFreeStretches, readOnOrder, readPlaces } from './supply.ts';

/** One cloth and shade that open garments need: wanted, cut, held, free, on order, short. Lengths in ticks. */
export interface ShortLine extends ShortFigures {
  readonly cloth: ClothName;
  readonly shade: ShadeName;
  /** Each garment that needs it, those due first first: the free cloth is shared out in that order. */
  readonly shares: readonly Share<Garment>[];
  /** Free length of the same cloth in undyed grounds, from which this shade could be dyed; 0 for a ground. */
  readonly groundTicks: number;
  /** Each lot that is free, held or cut for these garments, and its free length. */
  readonly lots: readonly { readonly id: number; readonly code: string; readonly freeTicks: number }[];
  /** Orders that bring some of it, those expected first first. */
  readonly arriving: readonly { readonly orderCode: string; readonly expectedOn: string | null }[];
}

/** A tier whose strips cannot be counted, so that its need is not known. */
export interface UncountedTier {
  readonly garmentCode: string;
  readonly tierId: number;
  readonly tierName: string;
  readonly message: string;
}

export interface Needs {
  readonly lines: readonly ShortLine[];
  readonly troubles: readonly UncountedTier[];
  /** the plans that are held for open garments, as far as their strips are still wanted */
  readonly plans: readonly StoredPlan[];
}

/** What is short over all open garments, the most pressing first: what Orders and Today need to know. */
export function readShort(reader: Reader): ShortLine[] {
  return readNeeds(reader).lines.filter(({ shortStrips }) => shortStrips > 0);
}

/**
 * Every need of the open garments, in the order of the garments' days and their tiers.
 *
 * With `garmentCode` only what that garment needs; what garments that are due before it take is still taken.
 */
export function readNeeds(reader: Reader, only: NeedsAsked = {}): Needs {
  const worked = workGarments(reader, readOpenGarments(reader));
  const { garmentCode } = only;
  const looked = worked.filter(({ garment }) => garmentCode === undefined || garment.code === garmentCode);
  const keys = new Set(looked.flatMap(({ needs }) => needs.map(needKey)));
  const claims = readClaims(reader, worked, only);
  const { plans } = claims;
  return { lines: readLines(reader, claims, keys), troubles: looked.flatMap(troublesOf), plans };
}

interface NeedsAsked {
  readonly garmentCode?: string;
  /** a garment whose held plans are looked at as given up, so that it is planned anew */
  readonly afresh?: string | null;
  /** whether lays of the garment asked for may straddle a flaw; those of others may */
  readonly flaws?: CuttingWays['flaws'];
}

/** The workroom's ways of cutting: what length it keeps. */
function readWays(reader: Reader): CuttingWays {
  return { ...USUAL_WAYS, usefulTicks: readWorkroom(reader).usefulRemnantTicks };
}

function troublesOf({ garment, problems }: WorkedGarment): UncountedTier[] {
  return problems.map(({ tierId, message }) => ({
    garmentCode: garment.code,
    tierId,
    tierName: garment.tiers.find(({ id }) => id === tierId)?.name ?? garment.name,
    message,
  }));
}

interface Claims {
  readonly claims: readonly Claim<Garment>[];
  readonly plans: readonly StoredPlan[];
  readonly afresh: Garment | null;
}

function readLines(reader: Reader, { claims: all, afresh }: Claims, keys: ReadonlySet<string>): ShortLine[] {
  const claims = grouped(
    all.filter(({ need }) => keys.has(needKey(need))),
    ({ need }) => needKey(need),
  );
  const clothIds = [
    ...new Set([...claims.values()].flatMap((group) => group.map(({ need }) => need.clothId))),
  ];
  const free = readFreeStretches(reader, clothIds, afresh?.id ?? null);
  const onOrder = readOnOrder(reader, clothIds);
  const cloths = readClothNames(reader, clothIds);
  const shades = readShadeNames(reader);
  const ways = readWays(reader);
  const named = [...claims.values()].flat().flatMap(({ cut, held }) => [...cut, ...held]);
  const allLotIds = [...new Set([...free, ...named].map(({ lotId }) => lotId))];
  const lotCodes = readLotCodes(reader, allLotIds);
  const colours = readLotColours(reader, allLotIds);
  return [...claims.values()].flatMap((group) => {
    const need = group[0]?.need;
    const cloth = cloths.get(need?.clothId ?? 0);
    const shade = shades.get(need?.shadeId ?? 0);
    if (!need || !cloth || !shade) return [];
    const ofCloth = free.filter(({ clothId }) => clothId === cloth.id);
    const ofShade = ofCloth.filter(({ shadeId }) => shadeId === shade.id);
    const grounds = ofCloth.filter(({ shadeId }) => shades.get(shadeId)?.ground);
    const ordered = onOrder.filter((line) => needKey(line) === needKey(need));
    const lotIds = [...ofShade, ...group.flatMap(({ cut, held }) => [...cut, ...held])].map(
      ({ lotId }) => lotId,
    );
    const ofLots = colours.filter(({ lotId }) => lotIds.includes(lotId));
    const meeting = group.map((claim) =>
      claim.need.lots === 'meet'
        ? { ...claim, meets: lotsThatMeet(ofLots, claim.garment.meetCentiDeltaE) }
        : claim,
    );
    const { shares, figures } = shareOut(
      meeting,
      { free: ofShade, usableWidthTicks: cloth.usableWidthTicks, onOrderTicks: lengthOf(ordered), ways },
      planKnownOf,
    );
    const groundTicks = shade.ground ? 0 : lengthOf(grounds);
    const lots = [...new Set(lotIds)].map((id) => ({
      id,
      code: lotCodes.get(id) ?? '',
      freeTicks: lengthOf(ofShade.filter(({ lotId }) => lotId === id)),
    }));
    return [{ cloth, shade, ...figures, shares, groundTicks, lots, arriving: ordered }];
  });
}

function planKnownOf(job: PlanJob) {
  return knownPlan(job)?.plan ?? null;
}

function readClaims(reader: Reader, worked: readonly WorkedGarment[], asked: NeedsAsked): Claims {
  const tierIds = worked.flatMap(({ tiers }) => tiers.map(({ tierId }) => tierId));
  const cut = grouped(readCutStrips(reader, tierIds), ({ tierId }) => tierId);
  const fresh = worked.find(({ garment }) => garment.code === asked.afresh)?.garment ?? null;
  const garmentIds = worked.map(({ garment }) => garment.id);
  const needsOf = new Map(worked.map(({ garment, needs }) => [garment.id, needs]));
  const plans = readHeldPlans(reader, garmentIds).map((plan) => {
    const need = needsOf.get(plan.garmentId)?.find((one) => needKey(one) === needKey(plan));
    const ofNeed = (need?.demands ?? [])
      .flatMap(({ tierId }) => cut.get(tierId) ?? [])
      .filter((row) => needKey(row) === needKey(plan));
    return { ...plan, lays: laysAsWantedNow(plan.lays, need?.demands ?? [], ofNeed) };
  });
  const counted = plans.filter(({ garmentId }) => garmentId !== fresh?.id);
  const held = grouped(readHeldBesidePlans(reader, tierIds, counted, fresh), ({ tierId }) => tierId);
  const claims = worked.flatMap(({ garment, needs }) =>
    needs.map((need) => {
      const of = <T extends CutFor | HeldFor>(rows: ReadonlyMap<number, readonly T[]>) =>
        need.demands
          .flatMap(({ tierId }) => rows.get(tierId) ?? [])
          .filter((row) => needKey(row) === needKey(need));
      const mine = counted.filter((plan) => plan.garmentId === garment.id && needKey(plan) === needKey(need));
      const claim = { garment, need, cut: of(cut), held: of(held), planned: mine.flatMap(stripsToCome) };
      return asked.flaws && garment.code === asked.garmentCode ? { ...claim, flaws: asked.flaws } : claim;
    }),
  );
  return { claims, plans, afresh: fresh };
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
