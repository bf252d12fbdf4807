import { showLength } from '../../../src/quantity/length-show.ts';
import type { KnownPlan } from '../../cut-plans/answers.ts';
import type { Reader } from '../../database/book.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { showMoment } from '../../kit/when.ts';
import { readPiece, tellState } from '../../ledger/state.ts';
import type { Asker } from '../../web/house.ts';
import type { PlanNeed } from './need.ts';

/** Why a plan that was shown cannot be held: what became of its pieces since, by whom and when, and what is left. */
export function sayChanged(
  reader: Reader,
  garment: Garment,
  need: PlanNeed,
  shown: KnownPlan | null,
  asker: Asker,
): string {
  const { takenTicks } = need.share;
  const taken =
    takenTicks > 0
      ? ` Garments that are due before ${garment.code} take ${showLength(takenTicks, asker.units, 'up')} of what is free.`
      : '';
  const lead = `The shelf or the garment changed since this plan was made.${taken}`;
  const changed = (shown?.plan.pieces ?? []).filter(({ pieceId, lengthTicks, widthTicks }) => {
    const now = need.job.pieces.find((piece) => piece.pieceId === pieceId);
    return now === undefined || now.lengthTicks !== lengthTicks || now.widthTicks !== widthTicks;
  });
  if (changed.length > 0) {
    const told = changed.slice(0, 3).map(({ pieceId }) => tellState(reader, pieceId, asker.personId));
    const codes = changed.map(({ pieceId }) => readPiece(reader, pieceId).code).join(', ');
    return `${lead} Not as planned any more: ${codes}. ${told.join(' ')}`;
  }
  const at =
    garment.changedAt === null
      ? ''
      : ` ${garment.code} was last changed ${showMoment(garment.changedAt)}${garment.changedBy === null ? '' : ` by ${garment.changedBy}`}.`;
  return `${lead}${at} Its pieces are as they were; the strips wanted, or what else there is to cut from, are not.`;
}
