import { lotsThatMeet } from '../../../src/colour/lots-judged.ts';
import { laidOn } from '../../../src/fit/strips.ts';
import type { ShadeToCut } from '../../../src/fit/tier-cuts.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { type CutFor, type HeldFor, readCutStrips, readHeldStretches } from '../../garments/garment/done.ts';
import { bandsOf, type Garment } from '../../garments/garment/records.ts';
import { type StripRow, stripRowOf, stripRowsOf, wantedOfParts } from '../../garments/garment/strip-rows.ts';
import { readUsableWidths, type WorkedGarment, workGarment } from '../../garments/garment/worked.ts';
import { wantedNow } from '../../garments/tier/view.ts';
import { cuttingPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { unknown, withWayOn } from '../../refusal.ts';
import { readLotEvidence } from '../../shelf/lot/store.ts';
import { readLotCodes } from '../../shelf/names.ts';

/** A lot that a garment uses for a cloth and shade already, and for what. */
export interface LotInUse {
  readonly lotId: number;
  readonly code: string;
  readonly uses: readonly {
    readonly tierName: string;
    readonly cutStrips: number;
    readonly heldTicks: number;
  }[];
}

/** The strips of one shade of a tier: their size, how many, and from which lots. */
export interface ShadeAtTable extends ShadeToCut {
  readonly clothId: number;
  readonly shadeId: number;
  readonly cutStrips: number;
  readonly held: readonly HeldFor[];
  readonly inUse: readonly LotInUse[];
}

/** A tier or part as it comes to the cutting table: what it wants of each shade, and what is cut and held for it. */
export interface TierAtTable {
  readonly garment: Garment;
  readonly tier: StripRow;
  /** why nothing can be held or cut for it now, in a sentence; '' where it can */
  readonly closed: string;
  readonly shades: readonly ShadeAtTable[];
  /** all that is cut and held for this tier, in whatever cloth and shade */
  readonly cut: readonly CutFor[];
  readonly held: readonly HeldFor[];
}

/** @throws {Refusal} unknown, where the garment or the tier is not in the book */
export function readTierAtTable(reader: Reader, code: string, tierId: number): TierAtTable {
  const worked = workGarment(reader, code);
  const { garment } = worked;
  const tier = stripRowOf(garment, tierId);
  const tierIds = stripRowsOf(garment).map(({ id }) => id);
  const cut = readCutStrips(reader, tierIds);
  const held = readHeldStretches(reader, tierIds);
  return {
    garment,
    tier,
    closed: whyClosed(worked, tier),
    shades: shadesOf(reader, worked, tierId, { cut, held }),
    cut: cut.filter((row) => row.tierId === tierId),
    held: held.filter((row) => row.tierId === tierId),
  };
}

/** The number of a tier in a path. @throws {Refusal} unknown */
export function readTierId(text: string): number {
  if (!/^[1-9][0-9]{0,14}$/.test(text)) throw unknown('such tier');
  return Number(text);
}

/** "Tier 1 of G3". */
export function sayTier({ garment, tier }: Pick<TierAtTable, 'garment' | 'tier'>): string {
  return `${tier.name} of ${garment.code}`;
}

function whyClosed({ garment, tiers, parts, problems }: WorkedGarment, tier: StripRow): string {
  if (garment.finishedAt !== null) {
    return `${garment.code} was finished ${showMoment(garment.finishedAt)}: reopen it before anything is held or cut for it.`;
  }
  if (tier.takenOutAt !== null)
    return `${tier.name} is taken out of ${garment.code}, so nothing is cut for it.`;
  if ([...tiers, ...parts].some(({ tierId }) => tierId === tier.id)) return '';
  if (tier.isPart) return `${tier.name} is not cut of cloth as it was asked for: change the part.`;
  const problem = problems.find(({ tierId }) => tierId === tier.id);
  const why = problem?.message ?? 'The tier that it follows from cannot be worked out.';
  return `The strips of ${tier.name} cannot be counted. ${why}`;
}

interface Done {
  readonly cut: readonly CutFor[];
  readonly held: readonly HeldFor[];
}

function shadesOf(reader: Reader, worked: WorkedGarment, tierId: number, done: Done): ShadeAtTable[] {
  const wantedHere = [...worked.tiers.flatMap(wantedNow), ...wantedOfParts(worked)].filter(
    (one) => one.tierId === tierId,
  );
  const widths = readUsableWidths(reader, [...new Set(wantedHere.map(({ clothId }) => clothId))]);
  return wantedHere.map((wanted): ShadeAtTable => {
    const isOfNeed = (row: { readonly clothId: number; readonly shadeId: number }) =>
      row.clothId === wanted.clothId && row.shadeId === wanted.shadeId;
    const need = { cut: done.cut.filter(isOfNeed), held: done.held.filter(isOfNeed) };
    const lots = worked.needs.find(isOfNeed)?.lots ?? 'one';
    const cutStrips = need.cut.reduce((sum, row) => sum + (row.tierId === tierId ? row.count : 0), 0);
    return {
      // At the table a strip has its sides as it lies: the depth is what a cut length takes along the piece.
      ...laidOn(wanted, widths.get(wanted.clothId) ?? 0),
      clothId: wanted.clothId,
      shadeId: wanted.shadeId,
      direction: 'across',
      lots,
      meets: lots === 'meet' ? readMeetingLots(reader, worked.garment, wanted) : [],
      cutStrips,
      leftStrips: Math.max(0, wanted.count - cutStrips),
      held: need.held.filter((row) => row.tierId === tierId),
      inUse: lotsInUse(reader, worked.garment, need),
    };
  });
}

/** Does what the ledger may refuse; a conflict then leads back to the cut list, where other pieces are. */
export function withCutListWayOn<T>(
  { garment, tier }: Pick<TierAtTable, 'garment' | 'tier'>,
  work: () => T,
): T {
  return withWayOn(work, () => ({
    text: `What else fits ${tier.name} of ${garment.code}`,
    href: cuttingPath(garment.code, tier.id),
  }));
}

/** The lots of a need that are in use, in the order in which they came to be. */
function lotsInUse(
  reader: Reader,
  garment: Garment,
  need: { readonly cut: readonly CutFor[]; readonly held: readonly HeldFor[] },
): LotInUse[] {
  const lotIds = [...new Set([...need.cut, ...need.held].map(({ lotId }) => lotId))];
  const codes = readLotCodes(reader, lotIds);
  return lotIds.map((lotId) => {
    const uses = stripRowsOf(garment).map((tier) => ({
      tierName: tier.name,
      cutStrips: sumOf(need.cut, lotId, tier.id, ({ count }) => count),
      heldTicks: sumOf(need.held, lotId, tier.id, ({ lengthTicks }) => lengthTicks),
    }));
    return {
      lotId,
      code: codes.get(lotId) ?? '',
      uses: uses.filter(({ cutStrips, heldTicks }) => cutStrips > 0 || heldTicks > 0),
    };
  });
}

const lotsOf = prepared((db, clothId: Param<number>, shadeId: Param<number>) =>
  db
    .selectFrom('lot')
    .select('id')
    .where('joined_to_id', 'is', null)
    .where('cloth_id', '=', clothId)
    .where('shade_id', '=', shadeId),
);

/** The pairs of lots of a cloth and shade that may meet in a garment, by what is known of them. */
function readMeetingLots(
  reader: Reader,
  garment: Garment,
  of: { readonly clothId: number; readonly shadeId: number },
): (readonly [number, number])[] {
  const lots = reader.all(lotsOf(of.clothId, of.shadeId));
  const lotIds = lots.map(({ id }) => id);
  return lotsThatMeet(lotIds, readLotEvidence(reader, lotIds), bandsOf(garment));
}

function sumOf<T extends { readonly lotId: number; readonly tierId: number }>(
  rows: readonly T[],
  lotId: number,
  tierId: number,
  measure: (row: T) => number,
): number {
  const mine = rows.filter((row) => row.lotId === lotId && row.tierId === tierId);
  return mine.reduce((sum, row) => sum + measure(row), 0);
}
