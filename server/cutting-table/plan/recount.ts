import { z } from 'zod';
import { lastLaysToGiveBack } from '../../../src/cut-plan/held-lays.ts';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { readGarment } from '../../garments/garment/records.ts';
import { lengthField, textField } from '../../kit/fields.ts';
import { planPath } from '../../kit/paths.ts';
import { lengthUnit } from '../../kit/units.ts';
import { countOf } from '../../kit/words.ts';
import { readPiece } from '../../ledger/state.ts';
import { recountPiece, releaseLength } from '../../ledger/verbs.ts';
import { invalid } from '../../refusal.ts';
import { findPiece } from '../../shelf/piece/facts.ts';
import type { Asker } from '../../web/house.ts';
import { needAnchor, readPlanToChange } from './holding.ts';

export function planRecountForm(units: Units) {
  return z.strictObject({
    piece: textField({ max: 40, label: 'The piece' }),
    length: lengthField(lengthUnit(units), { min: 1, max: MOST_LENGTH_TICKS }),
  });
}

/**
 * Puts a shorter counted length in the place of the booked one where a plan holds too much of the piece: the lays that
 * are furthest from the free end fall out, as many as it takes, and what was held for them is given back.
 */
export function recountUnderPlan(
  tx: Tx,
  code: string,
  planId: number,
  form: z.output<ReturnType<typeof planRecountForm>>,
  asker: Asker,
): Answer {
  const garment = readGarment(tx, code);
  const plan = readPlanToChange(tx, garment, planId);
  const found = findPiece(tx, form.piece);
  const lays = plan.lays.filter(({ pieceId, state }) => pieceId === found?.id && state === 'held');
  if (!found || lays.length === 0) throw invalid('piece', `This plan holds nothing of ${form.piece}.`);
  const piece = readPiece(tx, found.id);
  const fallen = lastLaysToGiveBack(lays, piece.heldTicks - form.length.value);
  for (const { parts } of fallen) {
    for (const { tierId, lengthTicks } of parts) {
      releaseLength(tx, piece.id, tierId, { lengthTicks, typed: '', why: 'fell out: counted shorter' });
    }
  }
  recountPiece(tx, piece.id, { lengthTicks: form.length.value, typed: form.length.typed });
  const counted = `${piece.code} counted: ${showLength(form.length.value, asker.units, 'near')}.`;
  const out =
    fallen.length === 0
      ? 'The plan stands as it is.'
      : `${countOf(fallen.length, 'lay falls', 'lays fall')} out of the plan of ${code}; plan what is left again.`;
  return { location: `${planPath(code)}#${needAnchor(plan)}`, said: `${counted} ${out}` };
}
