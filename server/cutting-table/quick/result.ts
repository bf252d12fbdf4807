import {
  actualCuts,
  type Columns,
  differentLays,
  type Lay,
  remnants,
  slitting,
} from '../../../src/cut-plan/plan.ts';
import { isShortProved } from '../../../src/cut-plan/plan-bound.ts';
import { toSquareMetres } from '../../../src/quantity/area.ts';
import { showLength, showSize, toMillimetres, type Units } from '../../../src/quantity/length-show.ts';
import { countOf } from '../../kit/words.ts';
import { drawLay, type LayPicture } from '../lay/picture.ts';
import { saySearchLonger } from '../plan/figures.ts';
import type { QuickAnswer } from './answer.ts';
import { type QuickCure, type QuickWish, shapeQuickCures, shapeQuickWish } from './cures.ts';
import type { QuickAsked } from './form.ts';
import { drawTape, type TapePicture } from './picture.ts';

/** A quick plan as page and JSON have it. Lengths are in millimetres beside the text for people. */
export interface QuickResult {
  readonly said: string;
  readonly stopped: string;
  readonly madeStrips: number;
  readonly missingStrips: number;
  /** Strips that no plan of this style can make. */
  readonly leastMissingStrips: number;
  /** what to do before cloth is bought where more are missing than that; '' where none are */
  readonly searchLonger: string;
  readonly usedMm: number;
  readonly chargedMm: number;
  readonly usedShown: string;
  readonly chargedShown: string;
  readonly usedM2: number;
  readonly chargedM2: number;
  readonly stripsM2: number;
  readonly boundM2: number;
  readonly boundShown: string;
  readonly boundOver: 'all lots' | 'these lots';
  readonly gapPercent: number;
  readonly foundBy: string;
  readonly lots: readonly string[];
  readonly lays: number;
  readonly differentLays: number;
  readonly cuts: number;
  readonly longestRemnantShown: string;
  /** what the wish that was asked for costs; null where none was */
  readonly wish: QuickWish | null;
  /** what would cure a short plan; [] where none is known */
  readonly cures: readonly QuickCure[];
  readonly strips: readonly StripRow[];
  readonly pieces: readonly PlannedPieceRow[];
}

export interface StripRow {
  readonly number: number;
  readonly name: string;
  readonly size: string;
  readonly wanted: number;
  readonly made: number;
  readonly missing: number;
}

/** Pieces that are cut alike. */
export interface PlannedPieceRow {
  /** place of the piece in what was asked, from 1 */
  readonly piece: number;
  readonly times: number;
  readonly lot: string;
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly usedMm: number;
  readonly chargedMm: number;
  readonly name: string;
  readonly usedShown: string;
  readonly leftShown: string;
  readonly tape: TapePicture;
  readonly lays: readonly LayRow[];
}

/** Lays that follow each other and are slit alike. */
export interface LayRow {
  readonly number: number;
  readonly times: number;
  readonly fromMm: number;
  readonly heightMm: number;
  readonly fromShown: string;
  readonly heightShown: string;
  readonly columns: readonly ColumnsRow[];
  readonly picture: LayPicture | null;
}

export interface ColumnsRow {
  /** number of the strips in what was asked, from 1 */
  readonly strip: number;
  readonly name: string;
  readonly turned: boolean;
  readonly leftMm: number;
  readonly acrossMm: number;
  readonly alongMm: number;
  readonly columns: number;
  readonly stack: number;
  /** in each of these lays; the last may have fewer */
  readonly strips: number;
  readonly said: string;
}

const MOST_PICTURES = 60;

const FOUND_BY = {
  formula: 'the pencil formula, which is exact here',
  exact: 'trying every way to cut it',
  naive: 'the plain hand rule',
  careful: 'the careful hand rule',
  'through flaws': 'the careful hand rule, cutting through flaws',
  fill: 'filling guided by prices',
  rounding: 'rounding the fractional plan',
  regions: 'planning parts of a plan anew',
  polish: 'combining the best fillings',
} as const;

export function quickResult(asked: QuickAsked, answer: QuickAnswer, units: Units): QuickResult {
  const { plan, stopped } = answer;
  const { job, lotNames } = asked;
  const { bound } = plan;
  const widest = Math.max(...job.pieces.map(({ widthTicks }) => widthTicks));
  const wanted = job.kinds.reduce((sum, { count }) => sum + count, 0);
  const longest = remnants(plan)[0];
  const pieces = pieceRows(asked, plan.lays, plan.pieces, units);
  const charged = showLength(plan.chargedTicks, units, 'up');
  return {
    said: sayPlan(plan, wanted, charged),
    stopped,
    madeStrips: wanted - plan.missingStrips,
    missingStrips: plan.missingStrips,
    leastMissingStrips: bound.missingStrips,
    searchLonger: saySearchLonger(plan, bound),
    usedMm: toMillimetres(plan.usedTicks),
    chargedMm: toMillimetres(plan.chargedTicks),
    usedShown: showLength(plan.usedTicks, units, 'up'),
    chargedShown: charged,
    usedM2: toSquareMetres(plan.usedArea),
    chargedM2: toSquareMetres(plan.chargedArea),
    stripsM2: toSquareMetres(plan.stripArea),
    boundM2: toSquareMetres(bound.chargedArea),
    boundShown: showLength(Math.ceil(bound.chargedArea / widest), units, 'down'),
    boundOver: bound.over,
    gapPercent: bound.gapBp / 100,
    foundBy: FOUND_BY[plan.how],
    lots: plan.lotIds.flatMap((lot) => lotNames[lot] || []),
    lays: plan.lays.length,
    differentLays: differentLays(plan.lays),
    cuts: actualCuts(plan.lays, asked.plies),
    longestRemnantShown: longest === undefined ? '' : showLength(longest, units, 'down'),
    wish: shapeQuickWish(answer, units),
    cures: shapeQuickCures(asked, answer, units),
    strips: job.kinds.map((kind, i) => ({
      number: i + 1,
      name: asked.kindNames[i] ?? '',
      size: `${showSize(kind.depthTicks, units, 'near')} × ${showSize(kind.lengthTicks, units, 'near')}`,
      wanted: kind.count,
      made: plan.made[i] ?? 0,
      missing: plan.missing[i] ?? 0,
    })),
    pieces,
  };
}

function sayPlan(plan: QuickAnswer['plan'], wanted: number, charged: string): string {
  const pieces = countOf(plan.pieces.length, 'piece', 'pieces');
  if (plan.missingStrips === 0)
    return `All ${wanted} strips can be cut, from ${pieces}, with ${charged} charged.`;
  const { missingStrips, bound } = plan;
  const least = bound.missingStrips;
  const cannot = (strips: number) => `${strips} of ${wanted} strips cannot be cut.`;
  if (isShortProved(plan, bound)) return `${cannot(missingStrips)} No plan of this style can make more.`;
  return least === 0
    ? `No way was found to cut ${missingStrips} of ${wanted} strips; not proved.`
    : `${cannot(least)} No way was found to cut ${missingStrips - least} more; not proved.`;
}

type Uses = QuickAnswer['plan']['pieces'];

function pieceRows(asked: QuickAsked, lays: readonly Lay[], uses: Uses, units: Units): PlannedPieceRow[] {
  const { job, lotNames } = asked;
  const longestTicks = Math.max(...uses.map(({ lengthTicks }) => lengthTicks), 1);
  const alike = new Map<string, { use: Uses[number]; lays: Lay[]; times: number }>();
  for (const use of uses) {
    const own = lays.filter((lay) => lay.pieceId === use.pieceId && lay.copy === use.copy);
    const key = `${use.pieceId} ${own.map((lay) => `${lay.fromTicks} ${slitting(lay)} ${strips(lay)}`).join(' | ')}`;
    const row = alike.get(key) ?? { use, lays: own, times: 0 };
    row.times += 1;
    alike.set(key, row);
  }
  const drawn = new Set<string>();
  return [...alike.values()].map(({ use, lays: own, times }) => {
    const piece = job.pieces.find(({ pieceId }) => pieceId === use.pieceId);
    const lot = lotNames[use.lotId] ?? '';
    const size = `${showSize(use.widthTicks, units, 'down')} × ${showLength(use.lengthTicks, units, 'down')}`;
    const many = times > 1 ? `, ${times} cut alike` : '';
    const which = (piece?.count ?? 1) > 1 && times === 1 ? `.${use.copy + 1}` : '';
    const left = use.chargedTicks - use.usedTicks > 0 ? 0 : use.leftTicks;
    return {
      piece: use.pieceId + 1,
      times,
      lot,
      widthMm: toMillimetres(use.widthTicks),
      lengthMm: toMillimetres(use.lengthTicks),
      usedMm: toMillimetres(use.usedTicks),
      chargedMm: toMillimetres(use.chargedTicks),
      name: `Piece ${use.pieceId + 1}${which}${lot ? `, lot ${lot}` : ''}: ${size}${many}`,
      usedShown: showLength(use.usedTicks, units, 'up'),
      leftShown: left > 0 ? showLength(left, units, 'down') : 'nothing useful',
      tape: drawTape(use, own, piece?.flaws ?? [], longestTicks, units),
      lays: layRows(asked, own, use.widthTicks, drawn, units),
    };
  });
}

function layRows(
  asked: QuickAsked,
  lays: readonly Lay[],
  widthTicks: number,
  drawn: Set<string>,
  units: Units,
): LayRow[] {
  const rows: { lay: Lay; number: number; times: number }[] = [];
  lays.forEach((lay, i) => {
    const last = rows.at(-1);
    const before = lays[i - 1];
    const follows = before && before.fromTicks + before.heightTicks === lay.fromTicks;
    const isAlike = last && slitting(last.lay) === slitting(lay) && strips(last.lay) === strips(lay);
    if (last && follows && isAlike) last.times += 1;
    else rows.push({ lay, number: i + 1, times: 1 });
  });
  return rows.map(({ lay, number, times }) => {
    const key = `${widthTicks} ${slitting(lay)}`;
    const isNew = !drawn.has(key) && drawn.size < MOST_PICTURES;
    if (isNew) drawn.add(key);
    return {
      number,
      times,
      fromMm: toMillimetres(lay.fromTicks),
      heightMm: toMillimetres(lay.heightTicks),
      fromShown: showLength(lay.fromTicks, units, 'near'),
      heightShown: showSize(lay.heightTicks, units, 'near'),
      columns: lay.columns.map((columns) => columnsRow(asked, columns, units)),
      picture: isNew ? drawQuickLay(asked, lay, widthTicks, units) : null,
    };
  });
}

function drawQuickLay({ job }: QuickAsked, lay: Lay, widthTicks: number, units: Units): LayPicture {
  const runs = lay.columns.map((columns) => ({
    ...columns,
    label: String(job.kinds.findIndex(({ kindId }) => kindId === columns.kindId) + 1),
    colour: null,
  }));
  return drawLay({ heightTicks: lay.heightTicks, runs, widthTicks, flaws: [] }, units);
}

function columnsRow({ job, kindNames }: QuickAsked, columns: Columns, units: Units): ColumnsRow {
  const index = job.kinds.findIndex(({ kindId }) => kindId === columns.kindId);
  const name = kindNames[index] ?? '';
  const stacked = columns.stack > 1 ? `, ${columns.stack} behind each other` : '';
  const turned = columns.turned ? ', lengthwise' : '';
  const across = showSize(columns.acrossTicks, units, 'near');
  return {
    strip: index + 1,
    name,
    turned: columns.turned,
    leftMm: toMillimetres(columns.leftTicks),
    acrossMm: toMillimetres(columns.acrossTicks),
    alongMm: toMillimetres(columns.alongTicks),
    columns: columns.columns,
    stack: columns.stack,
    strips: columns.strips,
    said: `${columns.columns} × ${across} from ${showSize(columns.leftTicks, units, 'near')}: ${name}${turned}${stacked}`,
  };
}

function strips(lay: Lay): number {
  return lay.columns.reduce((sum, columns) => sum + columns.strips, 0);
}
