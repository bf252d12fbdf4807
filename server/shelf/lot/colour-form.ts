import { z } from 'zod';
import { PLACES_ON_PIECE, sayViewing } from '../../../src/colour/colour-reading.ts';
import { type Lab, screenShows } from '../../../src/colour/lab.ts';
import { shadingOfLot } from '../../../src/colour/lot-colour.ts';
import { showColourDifference } from '../../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { withBlank } from '../../kit/choices.ts';
import { choiceField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { lotPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showDay, showMoment } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { unknown } from '../../refusal.ts';
import {
  CHOOSE_VIEWING,
  HOW_READ_WORDS,
  labFields,
  PLACE_WORDS,
  readLab,
  viewingField,
  viewingValue,
} from '../colour/fields.ts';
import { READINGS_PATH } from '../colour/list-form.ts';
import {
  addReading,
  plainReading,
  readReadingsOfLots,
  readUsualViewing,
  type StoredReading,
} from '../colour/readings.ts';
import { readNearestShades } from '../shade/nearest.ts';
import { sayShading } from '../together/words.ts';

/** A lot is looked at itself: nobody picks its colour on a screen. */
const HOW = ['instrument', 'list'] as const;

/** A lot's own colour in CIELAB. */
const LOT_COLOUR_FIELDS = {
  ...labFields(),
  place: choiceField(['', ...PLACES_ON_PIECE], 'where on its piece it was read', {
    label: 'Place on the piece',
    required: false,
    options: withBlank(
      PLACES_ON_PIECE.map((value) => ({ value, label: PLACE_WORDS[value] })),
      'not noted',
    ),
  }),
  how: choiceField(HOW, 'how the colour was got', {
    label: 'How it was got',
    options: HOW.map((how) => ({ value: how, label: HOW_READ_WORDS[how] })),
  }),
  viewing: viewingField(),
};

export const LOT_COLOUR_FORM = z
  .strictObject(LOT_COLOUR_FIELDS)
  .transform(({ l, a, b, how, viewing, place }, context) => {
    const refuse = (name: string, message: string) =>
      context.issues.push({ code: 'custom', message, path: [name], input: null });
    const lab = readLab({ l, a, b }, refuse);
    if (!lab && context.issues.length === 0) refuse('l', 'Give the colour: L*, a* and b*.');
    if (!viewing) refuse('viewing', CHOOSE_VIEWING);
    if (!lab || !viewing) return z.NEVER;
    return { lab, how, viewing, place: place === '' ? null : place };
  });

/** Records what a lot really looks like; what was recorded last counts. */
export function recordLotColour(tx: Tx, code: string, form: z.output<typeof LOT_COLOUR_FORM>): Answer {
  const lot = tx.first(tx.db.selectFrom('lot').select('id').where('code', '=', code));
  if (!lot) throw unknown(`lot ${code.slice(0, 40)}`);
  const reading = plainReading({ ...form, state: 'dry' });
  addReading(tx, { lotId: lot.id }, { ...reading, place: form.place });
  return { location: lotPath(code), said: `The colour of lot ${code} is recorded: ${sayLab(form.lab)}.` };
}

/** The colour of a lot on its page, and the form. */
export function shapeLotColour(reader: Reader, lot: OneLot & { readonly code: string }, typed: Typed | null) {
  const readings = readReadingsOfLots(reader, [lot.id]);
  const row = readings.at(-1);
  const lab = row?.lab ?? null;
  const recorded = lab && { l: String(lab.l), a: String(lab.a), b: String(lab.b) };
  return {
    /** '' where none was recorded */
    said: row
      ? `${sayLab(row.lab)} (${sayViewing(row)}), ${HOW_READ_WORDS[row.how]} (${row.person}, ${showMoment(row.at)}).`
      : '',
    /** true where a screen can show it no better than nearly */
    offScreen: lab !== null && !screenShows(lab),
    /** every reading that was not undone, the last first */
    readings: readings.toReversed().slice(0, MOST_SHOWN).map(shapeReading),
    readingsLeft: Math.max(0, readings.length - MOST_SHOWN),
    /** ending and side-to-side shading, in sentences */
    shading: shadingOfLot(readings).map((shading) => `This lot ${sayShading(shading)}`),
    nearest: lab && row ? readNearestShades(reader, lab, row) : [],
    more: address(READINGS_PATH, { lot: lot.code }),
    action: `${lotPath(lot.code)}/colour`,
    requestKey: mintKey(),
    fields: drawFields(LOT_COLOUR_FIELDS, {
      ...recorded,
      how: row?.how ?? 'instrument',
      viewing: viewingValue(row ?? readUsualViewing(reader)),
      ...typed,
    }),
  };
}

const MOST_SHOWN = 20;

function shapeReading(reading: StoredReading) {
  const { lab, how, uncertaintyCenti, state, layers, backing, place, note } = reading;
  const lies = [
    ...(place ? [PLACE_WORDS[place]] : []),
    ...(layers ? [countOf(layers, 'layer', 'layers')] : []),
    ...(backing ? [`over ${backing === 'either' ? 'white or black alike' : backing}`] : []),
    ...(state === 'wet' ? ['wet'] : []),
  ];
  return {
    lab: sayLab(lab),
    viewing: sayViewing(reading),
    how: `${HOW_READ_WORDS[how]}, likely within ΔE00 ${showColourDifference(uncertaintyCenti)}`,
    where: lies.join(', '),
    note,
    when: `${reading.person}, ${showDay(reading.readOn)}`,
  };
}

interface OneLot {
  readonly id: number;
}

function sayLab({ l, a, b }: Lab): string {
  return `L* ${sign(l)}, a* ${sign(a)}, b* ${sign(b)}`;
}

function sign(value: number): string {
  return String(value).replace('-', '−');
}
