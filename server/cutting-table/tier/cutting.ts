import {
  cutInLengths,
  fitsBeside,
  leftoverOf,
  placeOfLeftover,
  type Rectangle,
} from '../../../src/fit/cut-length.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Tx } from '../../database/book.ts';
import { showStrip } from '../../garments/versions/differences.ts';
import type { Quantity } from '../../kit/fields.ts';
import { cuttingPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { cutLength, type PieceRef } from '../../ledger/verbs.ts';
import { conflict, type Problem, refuseAny } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { secondLotProblems } from './lots.ts';
import { type PieceForTier, readPieceForTier } from './piece.ts';
import type { ShadeAtTable } from './table.ts';
import { sayTier, type TierAtTable, withCutListWayOn } from './table.ts';

export interface AskedCut {
  readonly piece: string;
  readonly strips: number;
  readonly length: Quantity | null;
  readonly keep: boolean;
  readonly leftover_width: Quantity | null;
  readonly leftover_length: Quantity | null;
  readonly place_id: number | null;
  readonly more_than_wanted: boolean;
  readonly lots_meet: boolean;
  readonly why: string;
  readonly size: string;
}

export interface DoneCut {
  readonly piece: PieceForTier;
  readonly lengthTicks: number;
  readonly remnant: PieceRef | null;
  /** one sentence that says what was done */
  readonly said: string;
}

/** The size of strip that a form shows, so that a change of the tier in the meantime is noticed. */
export function stripSizeKey({ depthTicks, lengthTicks }: ShadeAtTable): string {
  return `${depthTicks}x${lengthTicks}`;
}

/** Cuts strips for a tier out of one piece: one entry, and one more where the rest is kept as a remnant. */
export function cutForTier(tx: Tx, table: TierAtTable, asked: AskedCut, asker: Asker): DoneCut {
  const { units } = asker;
  const piece = readPieceForTier(tx, table, asked.piece, units);
  const { shade, state } = piece;
  refuseOtherSize(table, shade, asked.size, units);
  const cut = cutInLengths(shade, state.usableWidthTicks, asked.strips);
  if (!cut) throw new Error('a piece too narrow for a strip was let through');
  const lengthTicks = asked.length?.value ?? cut.lengthTicks;
  const found = asked.keep ? leftoverOf(shade, state.usableWidthTicks, cut, lengthTicks) : null;
  const rest = asked.keep ? asRest(asked, found) : null;
  const problems: Problem[] = [
    ...tooMany(table, shade, asked),
    ...tooShort(cut, lengthTicks, units),
    ...secondLotProblems(shade, { ...state, lotCode: piece.lotCode }, asked.lots_meet, units),
    ...restProblems(piece, { strips: asked.strips, lengthTicks }, asked, rest),
  ];
  refuseAny(problems);
  const isAsFound = found !== null && rest !== null && isSame(found, rest);
  const where = isAsFound ? placeOfLeftover(shade, cut, found) : {};
  const { remnant } = withCutListWayOn(table, () =>
    cutLength(tx, state.id, {
      tierId: table.tier.id,
      strips: asked.strips,
      lengthTicks,
      typed: asked.length?.typed ?? '',
      why: asked.why,
      ...(rest ? { leftover: { ...rest, ...where, placeId: asked.place_id ?? state.placeId } } : {}),
    }),
  );
  return {
    piece,
    lengthTicks,
    remnant,
    said: sayCut(table, piece, asked, { lengthTicks, rest, remnant }, units),
  };
}

function isSame(a: Rectangle, b: Rectangle): boolean {
  return a.widthTicks === b.widthTicks && a.lengthTicks === b.lengthTicks;
}

function refuseOtherSize(table: TierAtTable, shade: ShadeAtTable, shown: string, units: Units): void {
  if (shown === '' || shown === stripSizeKey(shade)) return;
  const { tier, garment } = table;
  const who = tier.changedBy === null ? '' : ` by ${tier.changedBy}`;
  const when = tier.changedAt === null ? '' : `, ${showMoment(tier.changedAt)}`;
  throw conflict(
    `${tier.name} was changed${who}${when}, after this page was opened: a strip is now ${showStrip(shade, units)}.`,
    { text: `${tier.name} as it is now`, href: cuttingPath(garment.code, tier.id) },
  );
}

function tooMany({ tier }: TierAtTable, shade: ShadeAtTable, asked: AskedCut): Problem[] {
  const over = asked.strips - shade.leftStrips;
  if (over <= 0 || asked.more_than_wanted) return [];
  const left = shade.leftStrips === 0 ? 'no more' : `only ${shade.leftStrips} more`;
  const message = `${tier.name} wants ${left} of this shade (${shade.cutStrips} of ${shade.count} are cut). Tick “more than wanted” where a strip was spoiled.`;
  return [{ field: 'strips', message }];
}

function tooShort(
  cut: { strips: number; cutLengths: number; lengthTicks: number },
  taken: number,
  units: Units,
) {
  if (taken >= cut.lengthTicks) return [];
  const needs = `${countOf(cut.strips, 'strip needs', 'strips need')} ${showLength(cut.lengthTicks, units, 'up')}`;
  return [
    { field: 'length', message: `${needs} in ${countOf(cut.cutLengths, 'cut length', 'cut lengths')}.` },
  ];
}

function asRest(asked: AskedCut, found: Rectangle | null): Rectangle | null {
  const widthTicks = asked.leftover_width?.value ?? found?.widthTicks;
  const lengthTicks = asked.leftover_length?.value ?? found?.lengthTicks;
  return widthTicks === undefined || lengthTicks === undefined ? null : { widthTicks, lengthTicks };
}

function restProblems(
  { shade, state }: PieceForTier,
  taken: { readonly strips: number; readonly lengthTicks: number },
  asked: AskedCut,
  rest: Rectangle | null,
): Problem[] {
  if (!asked.keep) return [];
  const strips = countOf(taken.strips, 'strip takes', 'strips take');
  if (!rest) {
    return [
      {
        field: 'rest',
        message: `${strips} the whole width of ${state.code}: there is no remnant, so untick this.`,
      },
    ];
  }
  if (rest.lengthTicks > taken.lengthTicks) {
    return [{ field: 'leftover_length', message: 'Longer than what is cut: enter the cut length or less.' }];
  }
  if (rest.widthTicks > state.usableWidthTicks) {
    return [
      { field: 'leftover_width', message: `Wider than ${state.code}: enter its usable width or less.` },
    ];
  }
  const widthTicks = state.usableWidthTicks;
  if (fitsBeside(shade, { strips: taken.strips, widthTicks, lengthTicks: taken.lengthTicks }, rest))
    return [];
  const message = 'The strips and this remnant are more cloth than is cut: enter a smaller remnant.';
  return [{ field: 'leftover_width', message }];
}

function sayCut(
  table: TierAtTable,
  { state }: PieceForTier,
  { strips }: AskedCut,
  done: { readonly lengthTicks: number; readonly rest: Rectangle | null; readonly remnant: PieceRef | null },
  units: Units,
): string {
  const length = showLength(done.lengthTicks, units, 'near');
  const cut = `${countOf(strips, 'strip', 'strips')} cut for ${sayTier(table)} from ${length} of ${state.code}`;
  if (!done.rest || !done.remnant) return `${cut}.`;
  const size = `${showSize(done.rest.widthTicks, units, 'down')} wide and ${showLength(done.rest.lengthTicks, units, 'down')} long`;
  return `${cut}; the remnant, ${size}, is ${done.remnant.code}.`;
}
