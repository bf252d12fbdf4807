import { z } from 'zod';
import { cutInLengths } from '../../../src/fit/cut-length.ts';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { type Choice, optionalChosen } from '../../kit/choices.ts';
import { choiceField, optionalLength, optionalText, tickField, wholeField } from '../../kit/fields.ts';
import { benchPath, cuttingPath } from '../../kit/paths.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import { MOST_WIDTH_TICKS } from '../../shelf/cloth/form.ts';
import type { Asker } from '../../web/house.ts';
import { cutForTier } from './cutting.ts';
import { pieceToTakeFields } from './holding.ts';
import { type PieceForTier, readOpenTier, readPieceForTier } from './piece.ts';

const MOST_STRIPS = 10_000;

/**
 * A cut as it is typed. A blank length is exactly what the strips need; a rest that is kept without sizes is the
 * largest rectangle left; a blank place is that of the piece. `size`, `planned_strips` and `planned_length` are what
 * the form showed when it was drawn; a script may leave them out.
 */
export function cutForm(units: Units, places: readonly Choice[]) {
  const { piece, lots_meet } = pieceToTakeFields();
  const length = { min: 1, max: MOST_LENGTH_TICKS };
  return z.strictObject({
    piece,
    strips: wholeField({ min: 1, max: MOST_STRIPS, label: 'Strips cut' }),
    length: optionalLength(lengthUnit(units), {
      ...length,
      label: 'Length taken',
      hint: 'Blank: what the strips need.',
    }),
    rest: choiceField(['', 'waste', 'keep'], 'what becomes of the offcut', {
      label: 'Offcut',
      options: [
        { value: 'waste', label: 'Waste' },
        { value: 'keep', label: 'Keep as a remnant' },
      ],
    }),
    leftover_width: optionalLength(sizeUnit(units), {
      min: 1,
      max: MOST_WIDTH_TICKS,
      what: 'width',
      label: 'Remnant width',
    }),
    leftover_length: optionalLength(lengthUnit(units), {
      ...length,
      what: 'length',
      label: 'Remnant length',
    }),
    place_id: optionalChosen(places, 'a place', { label: 'Remnant place', blank: 'the same place' }),
    more_than_wanted: tickField({ label: 'More than wanted: a strip was spoiled' }),
    lots_meet,
    why: optionalText({
      max: 200,
      label: 'Note',
      size: 'long',
    }),
    size: optionalText({ max: 40 }),
    planned_strips: optionalText({ max: 40 }),
    planned_length: optionalText({ max: 64 }),
    back: choiceField(['', 'bench'], 'where to go on'),
  });
}

export type CutForm = z.output<ReturnType<typeof cutForm>>;

/** Cuts strips as a form says. */
export function cutByForm(tx: Tx, code: string, tierId: number, form: CutForm, asker: Asker): Answer {
  const table = readOpenTier(tx, code, tierId);
  refuseUntouched(form, readPieceForTier(tx, table, form.piece, asker.units), asker.units);
  const { strips, rest, ...asked } = form;
  const cut = cutForTier(tx, table, { ...asked, strips: strips.value, keep: rest === 'keep' }, asker);
  const location = form.back === 'bench' ? benchPath(code, tierId) : cuttingPath(code, tierId);
  return { location, said: cut.said };
}

/**
 * What stands against a length that was filled in for another number of strips and left untouched: nobody measured
 * it for these.
 */
function refuseUntouched(form: CutForm, piece: PieceForTier, units: Units): void {
  const { length, strips, planned_length: planned } = form;
  if (planned === '' || length?.typed !== planned.trim()) return;
  if (form.planned_strips === '' || String(strips.value) === form.planned_strips) return;
  const needs = cutInLengths(piece.shade, piece.state.usableWidthTicks, strips.value)?.lengthTicks ?? 0;
  if (length.value === needs) return;
  const shown = showLength(needs, units, 'up');
  const message = `This was filled in for ${form.planned_strips} strips, and ${countOf(strips.value, 'needs', 'need')} ${shown}: enter the length actually used, or leave it blank for ${shown}.`;
  throw invalid('length', message);
}
