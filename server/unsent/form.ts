import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../src/quantity/length.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import { choiceField, optionalLength, optionalText, optionalWhole, tickField } from '../kit/fields.ts';
import { unasked } from '../kit/form-drawing.ts';
import { lengthUnit } from '../kit/units.ts';

/** What a person can say of work that was refused. */
export const TOLD_WAYS = ['spoiled', 'other piece', 'count', 'other bath', 'note', 'none'] as const;
export type ToldWay = (typeof TOLD_WAYS)[number];

const MOST_NOTE = 500;

/** What the forms of the page ask; each way has fields of its own. */
export function toldFields(units: Units) {
  const unit = lengthUnit(units);
  const most = { max: MOST_LENGTH_TICKS };
  return {
    spoiled_length: optionalLength(unit, { min: 1, ...most, label: 'Length spoiled', required: true }),
    piece: optionalText({ max: 40, label: 'Piece it came from', size: 'short', required: true }),
    length: optionalLength(unit, { min: 1, ...most, label: 'Length taken', hint: 'Blank: what it needs.' }),
    more_than_wanted: tickField({ label: 'More than wanted: a strip was spoiled or cut twice' }),
    lots_meet: tickField({ label: 'Matching lots may be mixed in this shade' }),
    counted: optionalLength(unit, {
      min: 0,
      ...most,
      label: 'Length on the piece now, as measured',
      required: true,
    }),
    bath: optionalWhole({ min: 1, max: 100, label: 'Bath', required: true }),
    note: optionalText({ max: MOST_NOTE, lines: true, label: 'Note', size: 'long' }),
  };
}

export function toldForm(units: Units) {
  const hidden = () => unasked(optionalText({ max: 20_000, lines: true }));
  return z.strictObject({
    ...toldFields(units),
    way: choiceField(TOLD_WAYS, 'what happened'),
    key: hidden(),
    path: hidden(),
    fields: hidden(),
    what: hidden(),
    reason: hidden(),
    done_at: hidden(),
  });
}

export type ToldForm = z.output<ReturnType<typeof toldForm>>;
