import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { lengthField, optionalLength, textField, tickField } from '../../kit/fields.ts';
import { cuttingPath } from '../../kit/paths.ts';
import { lengthUnit } from '../../kit/units.ts';
import { countOf } from '../../kit/words.ts';
import { readHeldForTier, readPiece } from '../../ledger/state.ts';
import { holdLength, releaseLength } from '../../ledger/verbs.ts';
import { conflict, invalid, type Problem, refuseAny } from '../../refusal.ts';
import { findPiece } from '../../shelf/piece/facts.ts';
import type { Asker } from '../../web/house.ts';
import { secondLotProblems } from './lots.ts';
import { type PieceForTier, readOpenTier, readPieceForTier } from './piece.ts';
import { readTierAtTable, sayTier, withCutListWayOn } from './table.ts';

/** The piece to take from, by its code, and whether its lot may meet others: what holding and cutting both ask. */
export function pieceToTakeFields() {
  return {
    piece: textField({ max: 40, label: 'Piece', what: 'The piece', size: 'short' }),
    lots_meet: tickField({ label: 'Lots may meet in this shade' }),
  };
}

export function holdForm(units: Units) {
  const { piece, lots_meet } = pieceToTakeFields();
  return z.strictObject({
    piece,
    length: lengthField(lengthUnit(units), { max: MOST_LENGTH_TICKS, label: 'Length to hold' }),
    lots_meet,
  });
}

/** Promises a length of a piece to a tier. */
export function holdForTier(
  tx: Tx,
  code: string,
  tierId: number,
  form: z.output<ReturnType<typeof holdForm>>,
  asker: Asker,
): Answer {
  const table = readOpenTier(tx, code, tierId);
  const piece = readPieceForTier(tx, table, form.piece, asker.units);
  const heldTicks = piece.heldForTierTicks + form.length.value;
  const problems: Problem[] = [
    ...tooShort(piece, heldTicks, asker.units),
    ...secondLotProblems(
      piece.shade,
      { code: piece.state.code, lotId: piece.state.lotId, lotCode: piece.lotCode },
      form.lots_meet,
      asker.units,
    ),
  ];
  refuseAny(problems);
  withCutListWayOn(table, () =>
    holdLength(tx, piece.state.id, tierId, { lengthTicks: form.length.value, typed: form.length.typed }),
  );
  const length = showLength(form.length.value, asker.units, 'near');
  const strips = piece.columns * Math.floor(heldTicks / piece.shade.depthTicks);
  return {
    location: cuttingPath(code, tierId),
    said: `${length} of ${piece.state.code} held for ${sayTier(table)}: ${countOf(strips, 'strip fits', 'strips fit')} into what is held of it.`,
  };
}

/** What is held is held for strips, so it is a cut length at least. */
function tooShort(piece: PieceForTier, heldTicks: number, units: Units): Problem[] {
  const { shade, state } = piece;
  if (heldTicks >= shade.depthTicks) return [];
  const cutLength = showLength(shade.depthTicks, units, 'up');
  return [
    {
      field: 'length',
      message: `One cut length takes ${cutLength}: no strip could be cut from less of ${state.code}.`,
    },
  ];
}

export function releaseForm(units: Units) {
  return z.strictObject({
    piece: pieceToTakeFields().piece,
    length: optionalLength(lengthUnit(units), {
      min: 1,
      max: MOST_LENGTH_TICKS,
      label: 'Length to release',
      hint: 'Blank: all of it.',
    }),
  });
}

/** Gives back a length that a tier holds of a piece; without a length, all of it. */
export function releaseForTier(
  tx: Tx,
  code: string,
  tierId: number,
  form: z.output<ReturnType<typeof releaseForm>>,
  asker: Asker,
): Answer {
  const table = readTierAtTable(tx, code, tierId);
  const found = findPiece(tx, form.piece);
  if (!found) throw invalid('piece', `There is no piece ${form.piece}: check the code.`);
  const held = readHeldForTier(tx, found.id, tierId);
  if (held === 0) throw conflict(`Nothing of ${found.code} is held for ${sayTier(table)}.`);
  const asked = form.length ?? { value: held, typed: 'all that is held' };
  withCutListWayOn(table, () =>
    releaseLength(tx, found.id, tierId, { lengthTicks: asked.value, typed: asked.typed }),
  );
  return {
    location: cuttingPath(code, tierId),
    said: `${showLength(asked.value, asker.units, 'near')} of ${found.code} released: ${sayTier(table)} does not hold it any more.`,
  };
}

/** Gives back all that a tier holds of any piece. */
export function releaseAll(tx: Tx, code: string, tierId: number): Answer {
  const table = readTierAtTable(tx, code, tierId);
  if (table.held.length === 0) throw conflict(`Nothing is held for ${sayTier(table)}.`);
  for (const { pieceId, lengthTicks } of table.held) {
    releaseLength(tx, pieceId, tierId, { lengthTicks, typed: 'all that is held' });
  }
  const codes = table.held.map(({ pieceId }) => readPiece(tx, pieceId).code).join(', ');
  return {
    location: cuttingPath(code, tierId),
    said: `All that was held for ${sayTier(table)} is released: ${codes}.`,
  };
}
