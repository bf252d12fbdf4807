import type { Lay } from '../../../src/cut-plan/plan.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { StoredLay, StoredPlan } from '../../cut-plans/store.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { address } from '../../kit/address.ts';
import { cutSheetPath, layBenchPath, planPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { showMoment } from '../../kit/when.ts';
import { countOf, wordFor } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { isToCut, type LayAtTable, layOfPiece } from '../lay/held-lays.ts';
import { readTableWays, sayTableMinutes, tableMinutes } from '../lay/table-ways.ts';
import { sayWish } from './figures.ts';
import { readPlanNames } from './names.ts';
import { shapePlanPieces } from './view.ts';

/** A plan that is held, as far as it is cut, and what fell out of it. */
export type HeldPlanView = ReturnType<typeof shapeHeldPlan>;

/** `lays` are those of the garment as they come to the table; `refused` is what was typed of a count that was refused. */
export function shapeHeldPlan(
  reader: Reader,
  garment: Garment,
  plan: StoredPlan,
  lays: readonly LayAtTable[],
  units: Units,
  refused: Typed,
) {
  const of = (state: StoredLay['state']) => plan.lays.filter((lay) => lay.state === state);
  const pieceIds = [...new Set(plan.lays.map(({ pieceId }) => pieceId))];
  const names = readPlanNames(reader, garment, { shadeId: plan.shadeId, pieceIds, units });
  const [held, cut, out] = [of('held'), of('cut'), of('out')];
  const short =
    plan.shortStrips > 0 ? ` ${countOf(plan.shortStrips, 'strip was', 'strips were')} short.` : '';
  const wish = plan.wish === 'least length' ? '' : ` ${sayWish(plan.wish)}.`;
  return {
    id: plan.id,
    said: `Held by ${plan.by}, ${showMoment(plan.at)}: ${countOf(plan.lays.length, 'lay', 'lays')}.${wish}${short}`,
    charged: showLength(plan.chargedTicks, units, 'up'),
    cutLays: cut.length,
    heldLays: held.length,
    /** what the lays still to be cut take at the table; '' where none is */
    table: sayLaysLeft(reader, plan, lays),
    /** what can no longer be cut as planned, in sentences */
    out: sayOut(out, (pieceId) => names.pieces.get(pieceId)?.code ?? '', units),
    pieces: shapePlanPieces(
      plan.lays.map((lay) => {
        const at = lays.find((one) => one.lay.id === lay.id);
        return { lay: asLay(lay), state: lay.state, leadTicks: at?.leadTicks ?? 0, flaws: at?.flaws ?? [] };
      }),
      { ...names, usefulTicks: readWorkroom(reader).usefulRemnantTicks, tier: names.tierNamed },
      () => '',
    ),
    benchHref: held.length > 0 ? layBenchPath(garment.code) : '',
    sheetHref: held.length > 0 ? cutSheetPath(garment.code) : '',
    againHref: address(planPath(garment.code), { again: 'yes' }),
    giveUp: { action: `${planPath(garment.code)}/${plan.id}/given-up`, requestKey: mintKey() },
    /** pieces whose length can be counted again from here */
    recounts: recountsOf(reader, garment, plan, held, units, refused),
    unit: lengthUnit(units),
  };
}

function sayLaysLeft(reader: Reader, plan: StoredPlan, lays: readonly LayAtTable[]): string {
  const { usefulRemnantTicks } = readWorkroom(reader);
  const left = lays.filter((at) => isToCut(at) && plan.lays.some(({ id }) => id === at.lay.id));
  if (left.length === 0) return '';
  const own = left.map((at) => layOfPiece(at, usefulRemnantTicks));
  return sayTableMinutes(tableMinutes(own, readTableWays(reader, [plan.clothId])(plan.clothId)));
}

/** A stored lay in the planner's shape, its kinds named by their tiers. */
function asLay({ pieceId, fromTicks, lengthTicks, slits }: StoredLay): Lay {
  const columns = slits.map(({ tierId, depthTicks: _, lengthTicks: __, ...run }) => ({
    kindId: tierId,
    ...run,
  }));
  return { pieceId, copy: 0, fromTicks, heightTicks: lengthTicks, columns };
}

function sayOut(lays: readonly StoredLay[], codeOf: (pieceId: number) => string, units: Units): string[] {
  return [...new Set(lays.map(({ pieceId }) => pieceId))].map((pieceId) => {
    const own = lays.filter((lay) => lay.pieceId === pieceId);
    const ticks = own.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
    const strips = own.flatMap(({ parts }) => parts).reduce((sum, part) => sum + part.strips, 0);
    return `${countOf(own.length, 'lay', 'lays')} on ${codeOf(pieceId)} (${showLength(ticks, units, 'up')}, ${countOf(strips, 'strip', 'strips')}) fell out: what was held for ${wordFor(own.length, 'it', 'them')} is not held any more, or a tier wants other strips or fewer now.`;
  });
}

const piecesOf = prepared((db, ids: Param<readonly number[]>) =>
  db
    .selectFrom('piece')
    .select(['code', 'on_hand_ticks as ticks'])
    .where('id', 'in', inList(ids))
    .orderBy('id'),
);

function recountsOf(
  reader: Reader,
  garment: Garment,
  plan: StoredPlan,
  held: readonly StoredLay[],
  units: Units,
  refused: Typed,
) {
  const ids = [...new Set(held.map(({ pieceId }) => pieceId))];
  if (ids.length === 0) return [];
  const rows = reader.all(piecesOf(ids));
  return rows.map(({ code, ticks }) => ({
    action: `${planPath(garment.code)}/${plan.id}/recounts`,
    requestKey: mintKey(),
    piece: code,
    length: refused.piece === code ? (refused.length ?? '') : writeLength(ticks, units),
    /** whether this count was refused */
    isRefused: refused.piece === code,
  }));
}
