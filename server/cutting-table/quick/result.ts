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
import { shapeQuickCures, shapeQuickWish } from './cures.ts';
import type { QuickAsked } from './form.ts';
import { drawTape } from './picture.ts';

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

/** A quick plan as page and JSON have it. Lengths are in millimetres beside the text for people. */
export type QuickResult = ReturnType<typeof quickResult>;

export function quickResult(asked: QuickAsked, answer: QuickAnswer, units: Units) {
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
    /** Strips that no plan of this style can make. */
    leastMissingStrips: bound.missingStrips,
    /** what to do before cloth is bought where more are missing than that; '' where none are */
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
    /** what the wish that was asked for costs; null where none was */
    wish: shapeQuickWish(answer, units),
    /** what would cure a short plan; [] where none is known */
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

/** Pieces that are cut alike. */
function pieceRows(asked: QuickAsked, lays: readonly Lay[], uses: Uses, units: Units) {
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
      /** place of the piece in what was asked, from 1 */
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

/** Lays that follow each other and are slit alike. */
function layRows(
  asked: QuickAsked,
  lays: readonly Lay[],
  widthTicks: number,
  drawn: Set<string>,
  units: Units,
) {
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

function columnsRow({ job, kindNames }: QuickAsked, columns: Columns, units: Units) {
  const index = job.kinds.findIndex(({ kindId }) => kindId === columns.kindId);
  const name = kindNames[index] ?? '';
  const stacked = columns.stack > 1 ? `, ${columns.stack} behind each other` : '';
  const turned = columns.turned ? ', lengthwise' : '';
  const across = showSize(columns.acrossTicks, units, 'near');
  return {
    /** number of the strips in what was asked, from 1 */
    strip: index + 1,
    name,
    turned: columns.turned,
    leftMm: toMillimetres(columns.leftTicks),
    acrossMm: toMillimetres(columns.acrossTicks),
    alongMm: toMillimetres(columns.alongTicks),
    columns: columns.columns,
    stack: columns.stack,
    /** in each of these lays; the last may have fewer */
    strips: columns.strips,
    said: `${columns.columns} × ${across} from ${showSize(columns.leftTicks, units, 'near')}: ${name}${turned}${stacked}`,
  };
}

function strips(lay: Lay): number {
  return lay.columns.reduce((sum, columns) => sum + columns.strips, 0);
}
