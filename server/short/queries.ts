import type { CuttingWays } from '../../src/cut-plan/stock.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import type { StoredPlan } from '../cut-plans/store.ts';
import type { Reader } from '../database/book.ts';
import { readDyeing } from '../dye-bench/batch/dyeing.ts';
import { type Garment, readOpenGarments } from '../garments/garment/records.ts';
import { type WorkedGarment, workGarments } from '../garments/garment/worked.ts';
import { keptNeedsOf } from './kept.ts';
import { readFreeGrounds, readOnOrder } from './supply.ts';
import { keysOf, type NeedLine, type NeedsFound, workOutNeeds } from './work-out.ts';

/** One cloth and shade that open garments need, with what could be dyed into it. Lengths in ticks. */
export interface ShortLine extends NeedLine {
  /** Free length of the same cloth in undyed grounds, from which this shade could be dyed; 0 for a ground. */
  readonly groundTicks: number;
}

/** A tier whose strips cannot be counted, so that its need is not known. */
export interface UncountedTier {
  readonly garmentCode: string;
  readonly tierId: number;
  readonly tierName: string;
  readonly message: string;
}

export interface Needs {
  /** every open garment, whichever was asked for: those due first come first, those without a day last */
  readonly garments: readonly Garment[];
  /** the same, worked out */
  readonly worked: readonly WorkedGarment[];
  readonly lines: readonly ShortLine[];
  readonly troubles: readonly UncountedTier[];
  /** the plans that are held for open garments, as far as their strips are still wanted */
  readonly plans: readonly StoredPlan[];
  /** cloths and shades that are still being worked out, and so are not among the lines */
  readonly waiting: number;
}

/**
 * What is short over all open garments, the most pressing first: what an order is made from. What is still being worked out
 * is not among it.
 */
export function readShort(reader: Reader): ShortLine[] {
  return readNeeds(reader).lines.filter(({ shortStrips }) => shortStrips > 0);
}

interface NeedsAsked {
  /** waits until all is worked out, where a part would mislead */
  readonly whole?: boolean;
  /** waits until these cloths and shades are worked out, by `needKey` */
  readonly of?: ReadonlySet<string>;
  readonly garmentCode?: string;
  /** a garment whose held plans are looked at as given up, so that it is planned anew */
  readonly afresh?: string | null;
  /** whether lays of the garment asked for may straddle a flaw; those of others may */
  readonly flaws?: CuttingWays['flaws'];
}

/**
 * Every need of the open garments, in the order of the garments' days and their tiers. With `garmentCode` only what that
 * garment needs; what garments that are due before it take is still taken.
 *
 * The book as it is comes from what is kept; a look at it as it might be is worked out for itself.
 */
export function readNeeds(reader: Reader, only: NeedsAsked = {}): Needs {
  const { garmentCode, whole = false, of, afresh = null, flaws } = only;
  const kept = afresh === null && flaws === undefined ? keptNeedsOf(reader) : null;
  if (!kept) return shapeNeeds(workOutAfresh(reader, only), garmentCode);
  const found = kept.read({ garmentCode, whole, of });
  if (garmentCode !== undefined) return shapeNeeds(found, garmentCode);
  const needs = SHAPED.get(found) ?? shapeNeeds(found);
  SHAPED.set(found, needs);
  return needs;
}

/** What is kept is the same as long as nothing changes, and is shaped once. */
const SHAPED = new WeakMap<NeedsFound, Needs>();

/** The same, worked out from nothing: what is kept must equal it. */
export function needsAfresh(reader: Reader): Needs {
  return shapeNeeds(workOutAfresh(reader, {}, workGarments(reader, readOpenGarments(reader))));
}

/** A need as it would be if lengths were taken off pieces (by piece, in ticks); null where no open garment has it. */
export function needWithout(
  reader: Reader,
  need: ClothShade,
  taken: ReadonlyMap<number, number>,
): NeedLine | null {
  const key = needKey(need);
  const found = workOutNeeds(reader, readWorked(reader), new Set([key]), { ...readAllComing(reader), taken });
  return found.get(key)?.line ?? null;
}

function workOutAfresh(
  reader: Reader,
  { garmentCode, afresh = null, flaws }: NeedsAsked,
  worked = readWorked(reader),
): NeedsFound {
  const keys = new Set(looked(worked, garmentCode).flatMap((one) => keysOf(reader, one)));
  const found = workOutNeeds(reader, worked, keys, {
    ...readAllComing(reader),
    afresh,
    flaws: flaws && garmentCode !== undefined ? { of: garmentCode, ways: flaws } : null,
  });
  const clothIds = [...new Set(worked.flatMap(({ needs }) => needs.map(({ clothId }) => clothId)))];
  return { worked, found, freeGrounds: readFreeGrounds(reader, clothIds), waiting: 0 };
}

/** Every open garment, worked out. */
function readWorked(reader: Reader): readonly WorkedGarment[] {
  return keptNeedsOf(reader)?.worked ?? workGarments(reader, readOpenGarments(reader));
}

function readAllComing(reader: Reader) {
  return { onOrder: readOnOrder(reader), dyeing: readDyeing(reader) };
}

function shapeNeeds({ worked, found, freeGrounds, waiting }: NeedsFound, garmentCode?: string): Needs {
  const of = looked(worked, garmentCode);
  const keys = new Set(of.flatMap(({ needs }) => needs.map(needKey)));
  const lines = [...keys].flatMap((key) => found.get(key)?.line ?? []);
  return {
    garments: worked.map(({ garment }) => garment),
    worked,
    lines: lines.map((line) => ({
      ...line,
      groundTicks: line.shade.ground ? 0 : (freeGrounds.get(line.cloth.id) ?? 0),
    })),
    troubles: of.flatMap(troublesOf),
    plans: [...found.values()].flatMap(({ plans }) => plans).sort((a, b) => a.id - b.id),
    waiting,
  };
}

function looked(worked: readonly WorkedGarment[], garmentCode: string | undefined) {
  return worked.filter(({ garment }) => garmentCode === undefined || garment.code === garmentCode);
}

function troublesOf({ garment, problems }: WorkedGarment): UncountedTier[] {
  return problems.map(({ tierId, message }) => ({
    garmentCode: garment.code,
    tierId,
    tierName: garment.tiers.find(({ id }) => id === tierId)?.name ?? garment.name,
    message,
  }));
}
